"""Published swaps as extension services print them, and what their allergen columns say beside the published lists.

Sources: recipebox/tables/substitutions.csv (a source in each row) and major_allergens.csv (US FALCPA 2004 and FASTER
Act 2021; Regulation (EU) No 1169/2011 Annex II).
"""

import pytest

from recipebox.cautions import allergen_change
from recipebox.family import published_swaps
from recipebox.tables import rows

_ROWS = rows("substitutions")


def _names(cell: str) -> set[str]:
    return {name for name in cell.split(";") if name}


@pytest.mark.parametrize(
    ("item", "instead", "how", "source"),
    [
        # University of Nebraska-Lincoln Extension, Lancaster County (A. Henneman), Ingredient Substitutions
        ("buttermilk", "milk", "1 cup for 1 cup", "University of Nebraska-Lincoln Extension"),
        # Iowa State University Extension and Outreach, emergency substitutions, 2020
        ("buttermilk", "plain yogurt", "2/3 cup for 1 cup (1/3 cup milk)", "Iowa State University Extension"),
        # Michigan State University Extension, Missing ingredients for baking and cooking
        ("milk", "evaporated milk", "1/2 cup for 1 cup (1/2 cup water)", "Michigan State University Extension"),
    ],
)
def test_a_published_swap_is_offered_as_printed(item: str, instead: str, how: str, source: str) -> None:
    """The row's own amounts, with its publisher, are what is offered."""
    found = [one for one in published_swaps(item) if one.instead == instead and source in (one.source or "")]
    assert [one.how for one in found if one.how and one.how.startswith(how)]


def test_every_row_is_offered_under_its_item_with_its_source() -> None:
    """No published swap is lost, none stands without its publisher, and what was only recalled says so."""
    for row in _ROWS:
        found = [one for one in published_swaps(row["item"]) if one.instead == row["instead"]]
        assert any(row["source"] in (one.source or "") for one in found), row["item"]
        if row["basis"] == "memory":
            assert any("from memory" in (one.source or "") for one in found)


def test_allergens_of_published_swaps_agree_with_the_published_lists() -> None:
    """What a row says surely comes in or goes out is what the words of its two things say by the published lists.

    Rows whose allergens come from what is added beside (`extra`) are judged with it. At most 1 in 20 disagree.
    """
    wrong = []
    judged = 0
    for row in _ROWS:
        said_in, said_out = _names(row["introduces_allergen"]), _names(row["removes_allergen"])
        brings, takes = allergen_change(row["item"], row["instead"])
        beside, _ = allergen_change("", row["extra"])
        judged += 1
        surely_in = {name for name in said_in if not name.endswith("?")}
        surely_out = {name for name in said_out if not name.endswith("?")}
        heard_in = {name.rstrip("?") for name in (*brings, *beside)}
        heard_out = {name.rstrip("?") for name in takes}
        if not surely_in <= heard_in or not surely_out <= heard_out:
            wrong.append((row["item"], row["instead"], surely_in - heard_in, surely_out - heard_out))
    assert judged == len(_ROWS)
    assert len(wrong) * 20 <= judged, wrong
