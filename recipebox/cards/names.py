"""Whose card it is: senders, sign-offs and the NAME of a version."""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from recipebox.cards.model import Card
from recipebox.cards.signs import VERBS, is_greeting

_CLOSING = (
    r"(?:with |all (?:my|our) |lots of |much |loads of |best |warm(?:est)? |kind(?:est)? |many |big |your |yours? )*"
    r"(?:love(?: (?:to|and|from) [^,.!]{1,40})?|yours(?: (?:truly|sincerely|ever|always|faithfully))?|sincerely"
    r"|truly|ever|regards|wishes|hugs(?: and kisses)?|kisses|cheers|"
    r"thanks|greetings|affectionately|fondly|take care|x{1,5}|xoxo?|bye(?: for now)?|liebe grüße|lg|herzlich"
    r"|alles liebe|bises|bisous|"
    r"besos|abrazos|un abrazo|baci|un abbraccio|groetjes|liefs|kram|klem|knus|hälsningar|hilsen|pozdrawiam"
    r"|buziaki|beijos|abraços)"
)
_KISSED = re.compile(r"x{1,5},?\s+(?P<name>[A-ZÀ-Þ][\w'’-]*(?: [A-ZÀ-Þ][\w'’-]*)?)$")
_ALONE = re.compile(rf"{_CLOSING}[\s,.!x]*$", re.IGNORECASE)
_TOGETHER = re.compile(
    rf"{_CLOSING}(?:[,!.–—-]+\s*|\s+from\s+)(?:from\s+)?(?P<name>(?:(?:your"
    rf"|my)\s+)?[^\W\d_][\w' .-]{{0,30}}?)[\s.!x]*$",
    re.IGNORECASE,
)
_BEHIND = re.compile(r"[.!?)]\s+[-–—~]\s?(?P<name>[A-ZÀ-Þ][\w'’-]+)[.!]?$")
_BARE = re.compile(
    r"(?P<name>[A-ZÀ-Þ][^\W\d_]+(?:[ -][A-ZÀ-Þ][^\W\d_]+)?)"
    r"(?:(?:,\s*[^,.!?\d]{1,24}){0,2},\s*[^,.!?]{0,16}\d[^.!?]{0,16})?\.?$"
)
_DASHED = re.compile(
    r"(?:[-–—~]{1,3}|[Ff]rom|by)\s*(?P<name>[A-ZÀ-Þ][\w'’.-]*(?: [A-ZÀ-Þ][\w'’.-]*){0,2})"
    r"(?:,?\s*\(?(?:[A-Z][a-z]+ )?\d{4}\)?|['’]s (?:kitchen|recipe book|cookbook|table)\b[^.!?]{0,24})?[.!]?$"
)
_NAME = re.compile(r"[A-ZÀ-Þ][\w'’.-]*(?: (?:and |& )?[A-ZÀ-Þ][\w'’.-]*){0,3}(?:[\s,]+x{1,5})?[.!]?$")
_ADDRESS = re.compile(r"\s*<[^<>]*>\s*|\s*\([^()]*@[^()]*\)\s*")


def is_closing(words: str) -> bool:
    """Whether words close a letter, the name apart: "Love to all"."""
    return len(words) <= 60 and _ALONE.match(words.strip()) is not None


def sign_off(lines: Sequence[str]) -> tuple[str, int] | None:
    """The name under a letter and the place in `lines` (without blank ones) where the sign-off begins (their number
    where it stands at the end of a sentence's line).

    Closing words (Love, Yours) are no part of the name. A post script may follow.
    """
    low = max(0, len(lines) - 6)
    for at in range(len(lines) - 1, low - 1, -1):
        words = lines[at].strip()
        if len(words) > 60:
            continue
        if match := _TOGETHER.match(words):
            return _clean(match["name"]), at
        if match := _KISSED.match(words):
            return _clean(match["name"]), at
        if _ALONE.match(words):
            name = lines[at + 1].strip() if at + 1 < len(lines) else ""
            return (_clean(name), at) if name and len(name) < 40 and _NAME.match(name) else ("", at)
    # under "Dear Ann," even a short letter's last line may be a bare name
    least = 1 if any(is_greeting(line) for line in lines) else 3
    if lines and len(lines) > least and len(lines[-1]) < 40:
        words = lines[-1].strip()
        if (match := _DASHED.match(words)) and not words.lower().startswith("by "):
            return _clean(match["name"]), len(lines) - 1
    if lines and len(lines) > least:
        words = lines[-1].strip()
        if match := _BEHIND.search(words[-40:]):
            return _clean(match["name"]), len(lines)
        if (
            (match := _BARE.match(words))
            and match["name"].split()[0].casefold() not in VERBS
            and words.casefold() not in _NOT_NAMES
        ):
            return _clean(match["name"]), len(lines) - 1
    return None


_NOT_NAMES = (
    "salt",
    "pepper",
    "water",
    "done",
    "parsley",
    "notes",
    "note",
    "method",
    "ingredients",
    "directions",
    "topping",
)


def sender_name(value: str) -> str:
    """The name in a `from:` line: "Brigid <b@example.org>" -> "Brigid"."""
    name = _ADDRESS.sub(" ", value).strip(" \"'")
    name = re.sub(r"\s*\S+@\S+$", "", name) or name
    return name or value.strip(" <>")


def version_name(sender: str | None, signed: str | None, path: str) -> str:
    """A version's NAME: its `from:` header, else the sender or sign-off, else the file's name without ending."""
    if sender or signed:
        return sender or signed or ""
    name = path.rsplit("/", 1)[-1]
    return name.rsplit(".", 1)[0] or name


def told_apart(names: Mapping[str, str]) -> dict[str, str]:
    """NAMEs by what cards are called, no two alike: a second "Brigid" is "Brigid 2", in order of path, case aside.

    Names that differ stay as they are.
    """
    told: dict[str, str] = {}
    taken: set[str] = set()
    for called in sorted(names):
        if names[called].casefold() not in taken:
            told[called] = names[called]
            taken.add(names[called].casefold())
    for called in sorted(names.keys() - told.keys()):
        number = 2
        while f"{names[called]} {number}".casefold() in taken:
            number += 1
        told[called] = f"{names[called]} {number}"
        taken.add(told[called].casefold())
    return told


def named_apart(cards: Iterable[Card]) -> list[Card]:
    """The cards with NAMEs told apart; one without a NAME goes by what it is called."""
    cards = list(cards)
    told = told_apart({card.called: card.name or card.called for card in cards})
    return [card if card.name == told[card.called] else replace(card, name=told[card.called]) for card in cards]


def _clean(name: str) -> str:
    name = re.sub(r"[\s,]+x{1,5}$", "", name.strip())
    return re.sub(r"^(?:your|my)\s+", "", name, flags=re.IGNORECASE).strip(" .,!-–—")
