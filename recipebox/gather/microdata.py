"""Microdata of a page as the objects that JSON-LD would have: HTML standard, "Microdata", items and their values."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from recipebox.gather.visible import visible

if TYPE_CHECKING:
    from selectolax.lexbor import LexborHTMLParser, LexborNode

# The standard's "values": which attribute holds the value of which element; all others have their text.
_ATTRIBUTES = {
    "meta": "content",
    "audio": "src",
    "embed": "src",
    "iframe": "src",
    "img": "src",
    "source": "src",
    "track": "src",
    "video": "src",
    "a": "href",
    "area": "href",
    "link": "href",
    "object": "data",
    "data": "value",
    "meter": "value",
    "time": "datetime",
}
_DEEPEST = 30
_MOST = 20_000


def microdata(page: "LexborHTMLParser") -> list[dict[str, Any]]:
    """The page's outermost items, each a dict of "@type" and lists of values by property name."""
    left = [_MOST]
    return [
        _item(page, node, 0, left)
        for node in page.css("[itemscope]:not([itemprop])")
        if (node.attributes.get("itemtype") or "").strip()
    ]


def _item(page: "LexborHTMLParser", node: "LexborNode", depth: int, left: list[int]) -> dict[str, Any]:
    item: dict[str, Any] = {"@type": (node.attributes.get("itemtype") or "").split()}
    if depth > _DEEPEST:
        return item
    for found in _properties(page, node):
        left[0] -= 1
        if left[0] < 0:
            break
        nested = "itemscope" in found.attributes
        value = _item(page, found, depth + 1, left) if nested else _value(found)
        for name in (found.attributes.get("itemprop") or "").split():
            item.setdefault(name.rsplit("/", 1)[-1], []).append(value)
    return item


def _properties(page: "LexborHTMLParser", item: "LexborNode") -> Iterator["LexborNode"]:
    """Elements with `itemprop` below an item, in tree order, those of items within it left out; `itemref` followed."""
    yield from _below(item)
    for name in (item.attributes.get("itemref") or "").split()[:20]:
        for node in page.css("[id]"):
            if node.attributes.get("id") == name:
                if "itemprop" in node.attributes:
                    yield node
                if "itemscope" not in node.attributes:
                    yield from _below(node)
                break


def _below(top: "LexborNode") -> Iterator["LexborNode"]:
    at = top.first_child
    while at is not None:
        attributes = at.attributes
        if "itemprop" in attributes:
            yield at
        below = at.first_child if "itemscope" not in attributes else None
        if below is not None:
            at = below
            continue
        while at is not None and at.mem_id != top.mem_id and at.next is None:
            at = at.parent
        if at is None or at.mem_id == top.mem_id:
            return
        at = at.next


def _value(node: "LexborNode") -> str:
    attribute = _ATTRIBUTES.get(node.tag or "")
    stated = node.attributes.get(attribute) if attribute else None
    # `content` on any element: against the standard, but widely written for times and numbers.
    stated = stated if stated is not None else node.attributes.get("content")
    return stated if stated is not None else visible(node, marked=False)
