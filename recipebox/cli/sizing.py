"""`batch`: a card at another size, in measures that a kitchen has."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from recipebox.cli import say
from recipebox.cli.common import BoxOption, JsonOption, opened, wrong_call

if TYPE_CHECKING:
    from recipebox.cards.model import Card, Ingredient, Pan
    from recipebox.cautions import Caution, SizeCaution
    from recipebox.measures import Measures, PanShare, Shown

_PANS = range(1, 101)


def register(app: typer.Typer) -> None:
    """Add this group's command."""
    app.command(epilog="Example: recipebox batch versions/brigid-fish-bake.txt --times 2 --freeze 1")(batch)


def batch(
    card: Annotated[str, typer.Argument(metavar="CARD", help="A card: its path or words of its title; - for input.")],
    times: Annotated[
        str | None, typer.Option("--times", metavar="N", help="So many times the card: 2, 1/2, 0.5, 1 1/2.")
    ] = None,
    serves: Annotated[str | None, typer.Option("--serves", metavar="N", help="For so many people.")] = None,
    pan: Annotated[
        str | None, typer.Option("--pan", metavar="SIZE", help="To fill this pan: 13x9, 9 inch round, 2 quart.")
    ] = None,
    freeze: Annotated[
        str | None,
        typer.Option("--freeze", metavar="N", help="In equal pans, N for the freezer; with --pan, pans of that size."),
    ] = None,
    box: BoxOption = None,
    as_json: JsonOption = False,
) -> None:
    """Show a card at another size, in measures a kitchen has; no card is changed."""
    from recipebox.measures import WrongNumberError

    if sum(one is not None for one in (times, serves, pan)) > 1:
        raise wrong_call("say the size one way: one of --times, --serves and --pan")
    try:
        numbers = [_number(words) for words in (times, serves)]
        new_pan = _pan(pan) if pan is not None else None
        freezer = _pans(freeze) if freeze is not None else 0
        found = _card(card, box)
        sized = _Sized(found, numbers[0], numbers[1], new_pan, freezer)
    except WrongNumberError as error:
        raise wrong_call(str(error)) from error
    if as_json:
        say.as_json(sized.data())
        return
    from recipebox.cli.show_batch import show_batch

    show_batch(sized.card, sized.factor, sized.shown, sized.pans, sized.cautions)


class _Sized:
    """A card at the size asked for: exact in `card`, as a kitchen measures it in `shown`."""

    def __init__(
        self, card: "Card", times: Fraction | None, people: Fraction | None, pan: "Pan | None", freezer: int
    ) -> None:
        """Raises MeasureError where the card does not tell what it serves or bakes in."""
        from recipebox.cautions import freezing_cautions, measuring_cautions, sizing_cautions
        from recipebox.measures import scale_card, share_out, times_for_pan, times_for_serves, whose_measures

        fit = _fit(card, pan) if pan is not None else None
        factor = times or Fraction(1)
        if people is not None:
            factor = times_for_serves(card, people)
        if fit is not None:
            factor = times_for_pan(fit.factor * (freezer + 1))
        self.factor = factor
        self.card = scale_card(card, factor)
        if pan is not None:
            self.card = replace(self.card, pan=replace(pan, count=pan.count * (freezer + 1)))
        self.pans = share_out(card, factor, freezer, pan) if freezer or pan is not None else ()
        self.shown = _shown(self.card, whose_measures(card).measures)
        self.cautions: list[SizeCaution | Caution] = [
            *measuring_cautions(self.card),
            *_counted_from(card, people),
            *sizing_cautions(card, factor, pan, fit, self.pans),
            *(freezing_cautions(card, pan.text if pan else "") if freezer else ()),
        ]

    def data(self) -> dict[str, Any]:
        """What `--json` prints."""
        from recipebox.cards.data import card_data

        return {
            "factor": str(self.factor),
            "card": card_data(self.card),
            "shown": [
                {"line": line.line, "text": one.text, "rounded": one.rounded, "error": str(one.error)}
                for line, one in self.shown
            ],
            "pans": [_pan_data(one) for one in self.pans],
            "cautions": [_caution_data(one) for one in self.cautions],
        }


def _number(words: str | None) -> Fraction | None:
    from recipebox.measures import number_wanted

    return None if words is None else number_wanted(words)


def _pan(words: str) -> "Pan":
    from recipebox.cards.pans import read_pan
    from recipebox.measures import pan_area, pan_volume_ml

    read = read_pan(words)
    flat = read is not None and read.depth is not None and read.depth <= 0
    if read is None or flat or not (pan_area(read) or pan_volume_ml(read)):
        raise wrong_call(f"'{words}' is not a pan's size: write 13x9, 9 inch round or 2 quart")
    return read


def _pans(words: str) -> int:
    if not (words.strip().isascii() and words.strip().isdigit()) or int(words[:9]) not in _PANS:
        raise wrong_call(f"'{words}' is not a number of pans for the freezer: write a whole number from 1 to 100")
    return int(words)


def _card(words: str, box: Path | None) -> "Card":
    """The card meant: from standard input, from the box, or, where there is no box, from a file."""
    if words == "-":
        from recipebox.cli.card_input import card_from_input

        return card_from_input()
    from recipebox.box import NoBoxError

    try:
        with opened(box) as here:
            from recipebox.family.which import find_card

            return find_card(here.index, words)
    except NoBoxError:
        from recipebox.cli.card_input import CardInputError, card_in_file

        if box is not None:
            raise
        if not Path(words).is_file():
            raise CardInputError(f"{words}: no such file, and no box here or above to look for such a card") from None

        return card_in_file(words)


def _fit(card: "Card", pan: "Pan") -> Any:
    from recipebox.measures import MeasureError, pan_fit

    if card.pan is None:
        raise MeasureError(
            f"{card.called}: the card names no pan to compare with: write pan: under its title, or say how many times "
            "the batch you want, as in --times 2"
        )
    return pan_fit(card.pan, pan)


def _shown(card: "Card", measures: "Measures") -> "list[tuple[Ingredient, Shown]]":
    """Every ingredient line, with what some add and the variations."""
    from recipebox.measures import shown_line

    lines: Sequence[Ingredient] = (
        *card.ingredients,
        *(more.ingredient for more in card.some_add),
        *(line for other in card.variations for line in other.ingredients),
    )
    return [(line, shown_line(line, measures)) for line in lines]


def _counted_from(card: "Card", people: Fraction | None) -> "list[SizeCaution]":
    from recipebox.cards.amounts import write_amount
    from recipebox.cautions import SizeCaution

    if people is None or card.serves is None or card.serves.low == card.serves.high:
        return []
    low, high = write_amount(card.serves.low), write_amount(card.serves.high)
    line = next((header.line for header in card.headers if header.name == "serves"), 0)
    return [SizeCaution(line, f"The card serves {low} to {high}: counted from {low}, so that there is enough.")]


def _pan_data(share: "PanShare") -> dict[str, Any]:
    from recipebox.cards.data import amount_data, pan_data

    return {
        "for": share.use,
        "batch": str(share.batch),
        "serves": amount_data(share.serves),
        "pan": None if share.pan is None else pan_data(share.pan),
    }


def _caution_data(told: "SizeCaution | Caution") -> dict[str, Any]:
    from recipebox.cautions import Caution

    if not isinstance(told, Caution):
        return {"line": told.line, "text": told.text}
    return {
        "line": told.line,
        "text": f"{told.text} ({told.source})",
        "rule": told.rule,
        "source": told.source,
        "url": told.url,
        "basis": told.basis,
    }
