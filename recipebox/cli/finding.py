"""`find`, `same` and `compare`: searching the box, its dishes, and what differs between versions."""

from typing import Annotated, Any

import typer

from recipebox.cli import say
from recipebox.cli.common import BoxOption, JsonOption, opened, wrong_call


def register(app: typer.Typer) -> None:
    """Add this group's commands."""
    app.command(epilog="Example: recipebox find leeks --without cream")(find)
    app.command(epilog="Example: recipebox same versions/brigid-fish-bake.txt --yes letters/tomasz.txt")(same)
    app.command(epilog="Example: recipebox compare brigid tomasz")(compare)


def find(
    words: Annotated[list[str] | None, typer.Argument(metavar="WORDS", help="What to look for.")] = None,
    has: Annotated[list[str] | None, typer.Option("--has", metavar="ITEM", help="With this ingredient.")] = None,
    without: Annotated[list[str] | None, typer.Option("--without", metavar="ITEM", help="Without it.")] = None,
    sender: Annotated[str | None, typer.Option("--from", metavar="NAME", help="Whose card.")] = None,
    tag: Annotated[str | None, typer.Option("--tag", metavar="T", help="With this tag.")] = None,
    box: BoxOption = None,
    as_json: JsonOption = False,
) -> None:
    """Search the box; forgiving of spelling."""
    if not any(word.strip() for word in [*(words or []), *(has or []), *(without or []), sender or "", tag or ""]):
        raise wrong_call("say what to look for, as in: recipebox find leeks")
    with opened(box, name_trouble=True) as here:
        hits = here.index.find(" ".join(words or []), has=has or [], without=without or [], sender=sender, tag=tag)
        data: dict[str, Any] = {
            "hits": [{"path": hit.path, "title": hit.title, "why": hit.why} for hit in hits.hits],
            "more": hits.more,
            "trouble": here.trouble,
        }
    if as_json:
        say.as_json(data)
        return
    for hit in data["hits"]:
        say.line(say.paint(hit["title"], "bold") + f"  ({hit['path']})")
        if hit["why"]:
            say.line(hit["why"], first="    ")
    if not data["hits"]:
        say.line("Nothing found. Try fewer words, or another spelling.")
    if data["more"]:
        say.line(f"and {say.count(data['more'], 'more card')}; add a word to narrow it down")


def same(
    card: Annotated[str | None, typer.Argument(metavar="CARD", help="A card: its path, or words of its title.")] = None,
    yes: Annotated[str | None, typer.Option("--yes", metavar="OTHER", help="These two are the same dish.")] = None,
    no: Annotated[str | None, typer.Option("--no", metavar="OTHER", help="These two are not.")] = None,
    forget: Annotated[str | None, typer.Option("--forget", metavar="OTHER", help="Take back what was said.")] = None,
    name: Annotated[str | None, typer.Option("--name", metavar="DISH", help="What the family calls it.")] = None,
    box: BoxOption = None,
    as_json: JsonOption = False,
) -> None:
    """Which cards are versions of one dish, and why. Your own say wins, and is kept as text in dishes.txt."""
    said = [
        (kind, other) for kind, other in (("same", yes), ("different", no), ("forget", forget), ("name", name)) if other
    ]
    if said and not card:
        raise wrong_call("name the card this is about, as in: recipebox same CARD --yes OTHER")
    if len(said) > 1:
        raise wrong_call("say one thing at a time: one of --yes, --no, --forget and --name")
    with opened(box, name_trouble=True) as here:
        if said and card:
            from recipebox.family import say_of_dishes

            for words in say_of_dishes(here.box, here.index, card, *said[0]):
                say.warn(words)
        data = _dishes_data(here.index, here.trouble, card)
    if as_json:
        say.as_json(data)
    else:
        _show_dishes(data, whole=card is None)


def compare(
    cards: Annotated[list[str], typer.Argument(metavar="CARD", help="Two cards or more, or one dish.")],
    box: BoxOption = None,
    as_json: JsonOption = False,
) -> None:
    """Show what differs between versions. They are put on one batch first: amounts, ingredients, steps, oven."""
    from recipebox.cards.names import told_apart
    from recipebox.compare import compare as compare_cards
    from recipebox.compare import comparison_data

    with opened(box) as here:
        chosen = here.index.named(cards)
        if len(chosen) < 2:
            raise wrong_call("a comparison needs two cards or more, or a dish with several versions")
        data = comparison_data(compare_cards(chosen))
        data["same_dish"] = _one_dish(here.index.dishes(), {one.called for one in chosen})
        names = told_apart({one.called: one.name or one.called for one in chosen})
    if as_json:
        say.as_json(data)
        return
    from recipebox.cli.show_compare import show_comparison

    show_comparison(data, names)


def _one_dish(found: Any, called: set[str]) -> bool:
    return any(called <= {member.called for member in dish.cards} for dish in found.dishes)


def _dishes_data(index: Any, trouble: list[dict[str, Any]], card: str | None) -> dict[str, Any]:
    found = index.dishes()
    dishes, singles = found.dishes, list(found.singles)
    if card is not None:
        wanted = {one.called for one in index.named([card])}
        dishes = [dish for dish in dishes if wanted & {member.called for member in dish.cards}]
        singles = [path for path in singles if path in wanted]
    return {
        "dishes": [
            {
                "dish": dish.name,
                "cards": [{"path": m.called, "batch": str(m.batch), "why": m.why} for m in dish.cards],
            }
            for dish in dishes
        ],
        "singles": singles,
        "trouble": trouble,
    }


def _show_dishes(data: dict[str, Any], *, whole: bool) -> None:
    for dish in data["dishes"]:
        say.heading(f"{dish['dish']}: {say.count(len(dish['cards']), 'version')}")
        for card in dish["cards"]:
            batch = "" if card["batch"] == "1" else f"  batch x {batch_words(card['batch'])}"
            say.line(f"{card['path']}{batch}", first="  ")
            if card["why"]:
                say.line(card["why"], first="      ")
    singles = data["singles"]
    if whole:
        print()
        say.line(f"{say.count(len(singles), 'card')} with no other version.")
        if data["dishes"]:
            say.line(f'To see what differs: recipebox compare "{data["dishes"][0]["dish"]}"')
    else:
        for path in singles:
            say.line(f"{path}: no other card is a version of this dish.")


def batch_words(batch: str) -> str:
    """ "3/2" as a cook writes it: "1 1/2"."""
    from fractions import Fraction

    from recipebox.cards.amounts import write_amount

    return write_amount(Fraction(batch))
