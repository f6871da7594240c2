"""Saved web pages: what they state for machines first, else what a person sees."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.wordlists import listed
from recipebox.gather.forms import Form
from recipebox.gather.page import page_words, read_html, read_page
from recipebox.gather.piece import GatherError
from recipebox.gather.sent import Found, of_pieces
from recipebox.gather.visible import parse_page, visible

GRAPH = {
    "@context": "https://schema.org",
    "@graph": [
        {"@type": "WebPage", "name": "A page"},
        {
            "@type": ["Recipe", "NewsArticle"],
            "name": "Nan&#39;s bread",
            "author": {"@id": "#nan"},
            "recipeYield": ["2", "2 loaves"],
            "prepTime": "PT20M",
            "totalTime": "P0DT3H",
            "recipeIngredient": ["500 g flour", "7 g yeast &amp; a pinch of salt"],
            "recipeInstructions": [
                {
                    "@type": "HowToSection",
                    "name": "Dough",
                    "itemListElement": [
                        {"@type": "HowToStep", "text": "Mix <b>it all</b>."},
                        {"@type": "HowToStep", "text": "Let it rise."},
                    ],
                },
                {
                    "@type": "HowToSection",
                    "name": "Oven",
                    "itemListElement": {"@type": "HowToStep", "text": "Bake it."},
                },
            ],
            "nutrition": {"@type": "NutritionInformation", "calories": "240 kcal"},
            "keywords": "bread, easy",
        },
        {"@id": "#nan", "@type": "Person", "name": "Nan"},
    ],
}
MICRODATA = """<div itemscope itemtype="http://schema.org/Recipe"><h1 itemprop="name">Apple pie</h1>
<span itemprop="author" itemscope itemtype="http://schema.org/Person"><span itemprop="name">Jo</span></span>
<meta itemprop="recipeYield" content="8 servings"><time itemprop="cookTime" datetime="PT40M">forty minutes</time>
<ul><li itemprop="recipeIngredient">2 apples</li><li itemprop="recipeIngredient">1 cup flour</li></ul>
<div itemprop="recipeInstructions"><ol><li>Peel the apples.</li><li>Bake them.</li></ol></div>
<p itemprop="description">Good with <i>cream</i>.<script>evil()</script></p></div>"""


def found(html: str) -> list[Found]:
    """The cards of a page."""
    return of_pieces(read_html(html), "page.html", Form.PAGE)


def said(one: Found) -> tuple[str, list[tuple[str | None, str]], list[str], list[str]]:
    """A card's title, ingredients with their groups, steps and notes."""
    assert one.card is not None
    card = one.card
    ingredients = [(i.group, i.text) for i in card.ingredients]
    return card.title, ingredients, [step.text for step in card.steps], [note.text for note in card.notes]


def test_json_ld_in_a_graph_is_the_card() -> None:
    """The Recipe node among others is read whole: author by reference, sections, both yields, times, what is left."""
    (one,) = found(f'<script type="application/ld+json">{json.dumps(GRAPH)}</script><p>Chatter.</p>')
    title, ingredients, steps, notes = said(one)
    assert (title, one.sender) == ("Nan's bread", "Nan")
    assert ingredients == [(None, "500 g flour"), (None, "7 g yeast & a pinch of salt")]
    assert steps == ["Mix it all.", "Let it rise.", "Bake it."]
    assert notes == ["nutrition, calories: 240 kcal"]
    card = one.card
    assert card is not None
    assert card.serves is not None
    assert card.serves.low == 2
    assert card.makes is not None
    assert (card.makes.low, card.makes.what) == (2, "loaves")
    assert card.minutes.prepare is not None
    assert card.minutes.all is not None
    assert (card.minutes.prepare.low, card.minutes.all.low) == (20, 180)
    assert card.tags == ("bread", "easy")


def test_microdata_is_the_card() -> None:
    """Items and their values as the HTML standard has them: nested items, datetime, content, text of lists."""
    (one,) = found(MICRODATA)
    title, ingredients, steps, notes = said(one)
    assert (title, one.sender, one.form) == ("Apple pie", "Jo", "web page, microdata")
    assert ingredients == [(None, "2 apples"), (None, "1 cup flour")]
    assert steps == ["Peel the apples.", "Bake them."]
    assert notes == ["Good with cream."]
    assert one.card is not None
    assert one.card.serves is not None
    assert one.card.minutes.cook is not None
    assert (one.card.serves.low, one.card.minutes.cook.low) == (8, 40)


def test_itemref_is_followed() -> None:
    """A property that stands elsewhere in the page, named by itemref, belongs to the item."""
    page = MICRODATA.replace("itemscope itemtype", "itemscope itemref='more' itemtype", 1)
    (one,) = found(page + '<p id="more"><span itemprop="recipeIngredient">1 cup sugar</span></p>')
    assert (None, "1 cup sugar") in said(one)[1]


def test_without_either_the_visible_words_are_read() -> None:
    """Headings, lists, tables and line breaks give the card; what is not seen is not read."""
    (one,) = found(
        "<title>Soup - a page</title><style>b{}</style><nav>Home</nav><h1>Leek soup</h1><p>I love it."
        "<p hidden>hidden words<p style='display:none'>secret words<h2>Ingredients</h2><table><tr><td>2<td>leeks"
        "<tr><td>1<sup>1</sup>&frasl;<sub>2</sub> l<td>stock</table><h2>Method</h2><p>Chop the leeks.<br>Boil them in "
        "the stock.<script>evil()</script><noscript>no script</noscript><template>tpl</template>"
    )
    title, ingredients, steps, notes = said(one)
    assert title == "Leek soup"
    assert ingredients == [(None, "2 leeks"), (None, "1 1⁄2 l stock")]
    assert steps == ["Chop the leeks.", "Boil them in the stock."]
    assert notes == ["I love it."]


def test_a_page_without_a_heading_has_its_title() -> None:
    """The page's own title is the card's where no heading is one."""
    (one,) = found("<title>Leek soup</title><ul><li>2 leeks<li>1 l stock</ul><p>Boil.</p>")
    assert said(one)[0] == "Leek soup"


def test_broken_json_ld_leaves_the_visible_words() -> None:
    """A script that is no JSON, or nested ten thousand deep, does not hide the page's words."""
    for script in ("{", '{"@graph":[' * 10_000 + "]}" * 10_000):
        page = f'<script type="application/ld+json">{script}</script><h1>Soup</h1><ul><li>2 leeks<li>1 l stock</ul>'
        (one,) = found(page)
        assert said(one)[1] == [(None, "2 leeks"), (None, "1 l stock")]


@pytest.mark.parametrize(
    ("data", "words"),
    [
        ("<p>Crêpe ½".encode(), "Crêpe ½"),
        ("<p>Crêpe ½".encode("cp1252"), "Crêpe ½"),
        (b"\xef\xbb\xbf" + "<p>Crêpe".encode(), "Crêpe"),
        ("<p>Crêpe".encode("utf-16"), "Crêpe"),
        ('<meta charset="iso-8859-2"><p>Žemlovka'.encode("iso-8859-2"), "Žemlovka"),
        ('<meta http-equiv="Content-Type" content="text/html; charset=utf-8"><p>Crêpe'.encode(), "Crêpe"),
        (b'<meta charset="no-such-set"><p>Plain', "Plain"),
    ],
)
def test_pages_are_read_in_their_own_character_set(data: bytes, words: str) -> None:
    """By mark, by what the page states, else UTF-8, else Windows-1252."""
    assert visible(parse_page(page_words(data)).body) == words


_TAGS = [
    *sorted(listed("<p> </p> <li> <ul> </ul> <table> <td> <!-- --> <script> </script> <pre> <br> &amp <h1>")),
    "2 eggs",
    "<div itemscope itemtype='https://schema.org/Recipe'>",
    "<b itemprop=name itemscope>",
    "<i itemprop=recipeIngredient>",
]


@given(st.text(max_size=300) | st.lists(st.sampled_from(_TAGS), max_size=30).map("".join))
def test_no_page_breaks_the_reading(html: str) -> None:
    """Whatever stands in a page, it gives pieces or one line of complaint."""
    try:
        read_page(html.encode("utf-8", "replace"))
    except GatherError as error:
        assert "\n" not in str(error)


_PLAIN = st.text(st.characters(categories=["L", "N"]), min_size=1, max_size=12)


@given(_PLAIN, st.sampled_from(["script", "style", "template", "noscript", "textarea", "svg", "iframe"]))
def test_what_a_person_does_not_see_is_not_read(words: str, tag: str) -> None:
    """Text within elements that show none never comes out."""
    shown = visible(parse_page(f"<p>before</p><{tag}>UNSEEN{words}</{tag}><p>after</p>").body)
    assert shown == "before\n\nafter"
