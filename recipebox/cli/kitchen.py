"""`onhand` and `tonight`: what is in the house, and what can be made of it."""

from datetime import date
from typing import Annotated, Any

import typer

from recipebox.cli import say
from recipebox.cli.common import FAILED, BoxOption, JsonOption, find_box, opened, wrong_call


def register(app: typer.Typer) -> None:
    """Add this group's commands."""
    group = typer.Typer(
        help="What is in the house: pantry, fridge and freezer.",
        invoke_without_command=True,
        rich_markup_mode=None,
        epilog='Example: recipebox onhand add fridge "2 leeks, use by 2026-12-01"',
    )
    group.callback()(onhand)
    group.command("add", epilog='Example: recipebox onhand add freezer "white fish, 1 lb"')(onhand_add)
    group.command("used", epilog='Example: recipebox onhand used "2 leeks"')(onhand_used)
    app.add_typer(group, name="onhand")
    app.command(epilog="Example: recipebox tonight --use leeks")(tonight)


def onhand(
    context: typer.Context,
    kitchen: Annotated[
        str | None, typer.Option("--kitchen", metavar="NAME", help="The kitchen this laptop stands in.")
    ] = None,
    match: Annotated[
        str | None, typer.Option("--match", metavar="PAIRS.tsv", help="How names are judged: card, tab, pantry a line.")
    ] = None,
    box: BoxOption = None,
    as_json: JsonOption = False,
) -> None:
    """Show what is in the house; what must be used soon comes first."""
    if context.invoked_subcommand is not None:
        return
    if match is not None:
        _match(match)
        return
    from recipebox.pantry import on_hand_data, set_kitchen

    here = find_box(box)
    if kitchen is not None:
        set_kitchen(here, kitchen)
    data = on_hand_data(here)
    say.trouble(data["trouble"])
    if as_json:
        say.as_json(data)
        return
    _show_on_hand(data)


def onhand_add(
    place: Annotated[str, typer.Argument(metavar="PLACE", help="pantry, fridge or freezer.")],
    words: Annotated[list[str], typer.Argument(metavar="WORDS", help="The line, as you would write it.")],
    box: BoxOption = None,
    as_json: JsonOption = False,
) -> None:
    """Write a line on the list of what is in the house."""
    from recipebox.pantry import add_on_hand, on_hand_data

    if place.lower() not in ("pantry", "fridge", "freezer"):
        raise wrong_call(f"'{place}' is not a place; say pantry, fridge or freezer first")
    here = find_box(box)
    before = on_hand_data(here)
    add_on_hand(here, place.lower(), " ".join(words))
    _answer(before, on_hand_data(here), as_json)


def onhand_used(
    words: Annotated[list[str], typer.Argument(metavar="WORDS", help='What was used, as "2 leeks" or "leeks".')],
    box: BoxOption = None,
    as_json: JsonOption = False,
) -> None:
    """Take off the list what was used; without an amount, all of it."""
    from recipebox.pantry import on_hand_data, use_on_hand

    here = find_box(box)
    before = on_hand_data(here)
    told = use_on_hand(here, " ".join(words))
    if told is not None and not as_json:
        say.line(told)
    _answer(before, on_hand_data(here), as_json)


def tonight(
    use: Annotated[list[str] | None, typer.Option("--use", metavar="THING", help="Only what uses this.")] = None,
    within: Annotated[str | None, typer.Option("--within", metavar="TIME", help='As "45 min" or "1 h".')] = None,
    avoid: Annotated[
        list[str] | None, typer.Option("--avoid", metavar="ALLERGEN", help="Leave out what names it: a hint only.")
    ] = None,
    box: BoxOption = None,
    as_json: JsonOption = False,
) -> None:
    """Say what can be cooked from what is there. What must be used soon comes first; known swaps count."""
    from recipebox.pantry import PantryError, allergens_named, minutes_in, read_kitchen, tonight_data, worth_a_look
    from recipebox.pantry import tonight as rank

    try:
        if within is not None:
            minutes_in(within)
        for one in avoid or ():
            allergens_named(one)
    except PantryError as error:
        raise wrong_call(str(error)) from error
    with opened(box, name_trouble=True) as here:
        kitchen, on_hand = read_kitchen(here.box)
        dishes = here.index.dishes()
        cards, titles = worth_a_look(here.index, on_hand, date.today(), dishes)
        found = rank(
            cards,
            on_hand,
            date.today(),
            dishes=dishes,
            titles=titles,
            use=tuple(use or ()),
            within=within,
            avoid=tuple(avoid or ()),
        )
        data = tonight_data(kitchen, found)
    if as_json:
        say.as_json(data)
        return
    _show_tonight(data, avoid or [])


def _answer(before: dict[str, Any], now: dict[str, Any], as_json: bool) -> None:
    """After a change: what changed, and what it was."""
    if as_json:
        say.as_json(now)
        return
    was = [(one["place"], one["text"]) for one in before["entries"]]
    is_now = [(one["place"], one["text"]) for one in now["entries"]]
    gone = [one for one in was if one not in is_now]
    for place, text in [one for one in is_now if one not in was]:
        old = next((one for one in gone if one[0] == place), None)
        say.line(f"{text}{f'  (was {old[1]})' if old else ''}", first=f"{place}: ")
    say.line("The whole list: recipebox onhand")


def _show_on_hand(data: dict[str, Any]) -> None:
    if data["kitchen"]:
        say.line(f"In the {data['kitchen']} kitchen")
    if not data["entries"]:
        say.line('Nothing is written down yet. To begin: recipebox onhand add fridge "2 leeks"')
    left = (one for one in data["entries"] if one["use_by"] and (one["amount"] is None or one["amount"]["high"] != "0"))
    soon = sorted(left, key=lambda one: one["use_by"])
    if soon:
        say.heading("Use first")
        for one in soon[:5]:
            say.line(f"{one['use_by']}  {one['text']}", first="  ")
    for place in dict.fromkeys(one["place"] for one in data["entries"]):
        say.heading(place)
        for one in data["entries"]:
            if one["place"] == place:
                say.line(one["text"], first="  ")


def _show_tonight(data: dict[str, Any], avoid: list[str]) -> None:
    for number, dish in enumerate(data["dishes"][:10], 1):
        say.heading(f"{number}. {dish['title']}  ({dish['path']})")
        if dish["use_soon"]:
            soon = "; ".join(one["entry"] for one in dish["use_soon"])
            say.line(soon, first="   uses soon  ")
        have = ", ".join(one["item"] for one in dish["have"])
        if have:
            say.line(have, first="   there      ")
        for swap in dish["swaps"]:
            brings = f"; brings in {', '.join(swap['brings_in'])}" if swap["brings_in"] else ""
            say.line(f"{swap['instead']} for {swap['item']} ({swap['source']}{brings})", first="   swap       ")
        missing = ", ".join(_missing_words(one) for one in dish["missing"])
        say.line(missing or "nothing", first="   missing    ")
    if not data["dishes"]:
        say.line("No card fits what is in the house. See what is written down: recipebox onhand")
    if any(dish["swaps"] for dish in data["dishes"]) or avoid:
        print()
        say.line(
            "Allergens are read from words only, a hint and never a verdict: always read the labels, "
            "and follow official advice."
        )


def _missing_words(one: dict[str, Any]) -> str:
    if not one["amount"]:
        return str(one["item"])
    from recipebox.cards.data import amount_from_data
    from recipebox.measures import kitchen

    amount = amount_from_data(one["amount"])
    if amount is None or amount.low <= 0:
        return str(one["item"])
    return f"{kitchen(amount.low, one['unit'], one['item']).text} {one['item']}"


def _match(path: str) -> None:
    from pathlib import Path

    from recipebox.pantry import judge

    bad = False
    for number, line in enumerate(Path(path).read_text(encoding="utf-8").splitlines(), 1):
        if not line.strip():
            continue
        card, tab, pantry = line.partition("\t")
        if not tab:
            say.warn(f"{path}, line {number}: no tab between the card's name and the pantry's; write CARD<tab>PANTRY")
            bad = True
            continue
        verdict, why = judge(card, pantry)
        say.as_json({"card": card, "pantry": pantry, "verdict": verdict, "why": why})
    if bad:
        raise typer.Exit(FAILED)
