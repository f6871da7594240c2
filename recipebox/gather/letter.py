"""The words of a mail's body: which part of them is the recipe, who wrote that, and its title."""

import re
from dataclasses import dataclass

from recipebox.box import MAX_CARD
from recipebox.cards.kinds import NotACardError
from recipebox.cards.model import Card, Role
from recipebox.cards.names import sender_name
from recipebox.cards.reader import read_text
from recipebox.cards.text import decode
from recipebox.cards.titles import subject_title
from recipebox.gather.piece import GatherError

# How mail programs mark what is forwarded or quoted; common practice, no source.
_FORWARDED = re.compile(
    r"\s*(?:[-_=*]{2,}\s*)?(?:begin )?(?:original|forwarded|weitergeleitete|ursprüngliche|message)"
    r"[\w -]{0,30}(?:message|mail|nachricht|transféré)\s*:?\s*(?:[-_=*]{2,})?\s*$",
    re.IGNORECASE,
)
_WROTE = re.compile(
    r"\s*(?:on|am|le)\s.{4,120}?[,\s](?P<who>[^,<>\d:]{2,50}?)\s*(?:<[^>]*>)?\s*"
    r"(?:wrote|schrieb|a écrit)(?:\s.{0,40})?:\s*$",
    re.IGNORECASE,
)
_HEAD = re.compile(
    r"\s*\*{0,2}(?P<name>from|to|cc|bcc|reply-to|sent|date|subject|von|an|gesendet|datum|betreff)\*{0,2}:\*{0,2}\s*"
    r"(?P<value>.*)$",
    re.IGNORECASE,
)
_FROM, _SUBJECT, _ADDRESSEES = ("from", "von"), ("subject", "betreff"), ("to", "cc", "bcc", "an", "reply-to")
_REPLY = re.compile(r"\s*(?:re|aw|sv|vs|antw|odp)\s*(?:\[\d+\])?:", re.IGNORECASE)
_EMPTY_SUBJECT = re.compile(
    r"(?:(?:the|your|that|a|as|here is|here's|my|that|recipe|recipes|promised|requested|you asked for|for you|rezept"
    r"|recette|receta|ricetta)[\s!.,:]*)+",
    re.IGNORECASE,
)
_QUOTED = re.compile(r"^\s*>(?:\s?>)*\s?")


@dataclass(frozen=True, slots=True)
class Letter:
    """A body laid out as a card, title on top; the cards it holds, none if it is no recipe."""

    text: str
    cards: tuple[Card, ...]
    sender: str | None
    markdown: bool


@dataclass(slots=True)
class _Part:
    """Words by one writer: a body's own, or what it forwards or quotes."""

    sender: str | None
    subject: str
    lines: list[str]
    mark: str = ""  # what a note says in place of the mark and mail head above these words


def read_letter(words: str, subject: str, sender: str | None, *, markdown: bool = False) -> Letter:
    """Lay a body out as a card: the recipe under its title, all other words as they came, above and below it.

    A body without a recipe stands under its subject. `sender` and `subject` are the mail's; of forwarded words the
    first sender and their own subject count. Marks of quoting are taken off, addresses of those a forwarded mail went
    to are left out. Raises GatherError over 1 MB.
    """
    if len(words) > MAX_CARD:
        raise GatherError(f"its words are over {MAX_CARD // 1_000_000} MB, too much for a card; cut out the recipe")
    parts = _parts(words.replace("\r\n", "\n").split("\n"), sender, subject)
    sizes = [_size(part.lines, markdown) for part in parts]
    if not any(sizes):
        whole = [line for part in parts for line in _with_mark(part)]
        return Letter("\n".join(_tidy([subject_title(subject), "", *whole])).lstrip("\n"), (), sender, markdown)
    at = sizes.index(max(sizes))
    recipe = parts[at]
    above = [line for part in parts[:at] for line in (*_with_mark(part), "")]
    below = [line for part in parts[at + 1 :] for line in ("", *_with_mark(part))]
    titled, body = _title(recipe, markdown)
    mark = [recipe.mark, ""] if recipe.mark else []
    alone = _read("\n".join([titled, "", *body]), markdown)
    shapes = (
        [titled, "", *above, *mark, *body, *below],
        [titled, "", *body, "", _notes(markdown), "", *_as_notes([*above, *mark, *below])],
        [titled, "", *body, "", *_as_notes([*above, *mark, *below])],
    )
    texts = ["\n".join(_tidy(lines)) for lines in shapes]
    faults = [_faults(alone, _read(text, markdown)) for text in texts]
    best = texts[faults.index(min(faults))]
    return Letter(best, tuple(_read(best, markdown)), recipe.sender, markdown)


def _parts(lines: list[str], sender: str | None, subject: str) -> list[_Part]:
    parts = [_Part(sender, subject, [])]
    at = 0
    while at < len(lines):
        bare = _unquoted(lines[at])
        end = _head_end(lines, at + 1) if _FORWARDED.match(bare) else _head_end(lines, at)
        if end > at + (1 if not _FORWARDED.match(bare) else 0):
            parts.append(_forwarded(lines[at:end]))
            at = end
            continue
        wrote = _WROTE.match(bare) or (_WROTE.match(f"{bare} {_unquoted(lines[at + 1])}") if at + 1 < len(lines)
                                       and re.match(r"\s*(?:on|am|le)\s", bare, re.IGNORECASE) else None)  # fmt: skip
        if wrote and any(_QUOTED.match(line) for line in lines[at + 1 : at + 5]):
            two = not _WROTE.match(bare)
            said = " ".join([bare, _unquoted(lines[at + 1])] if two else [bare])
            parts.append(_Part(wrote["who"].strip(" \"'") or None, "", [], re.sub(r"\s*<[^>]*>", "", said).strip()))
            at += 2 if two else 1
            continue
        parts[-1].lines.append(bare if _QUOTED.match(lines[at]) else lines[at])
        at += 1
    return [part for part in parts if part.mark or any(line.strip() for line in part.lines)] or parts


def _unquoted(line: str) -> str:
    return _QUOTED.sub("", line, count=1)


def _head_end(lines: list[str], at: int) -> int:
    """Where a block of mail headers with a sender and a subject or date ends; `at` where there is none."""
    names = set()
    end = start = at
    while end < len(lines) and end < start + 12:
        bare = _unquoted(lines[end])
        head = _HEAD.match(bare)
        if head:
            names.add(head["name"].lower())
        elif not bare.strip() and not names:
            pass
        elif not (names and bare[:1] in " \t" and bare.strip()):
            break
        end += 1
    mail = names & set(_FROM) and (len(names) > 1)
    return end if mail and names & {*_SUBJECT, "date", "sent", "to", "gesendet", "datum", "an"} else at


def _forwarded(head: list[str]) -> _Part:
    said = {m["name"].lower(): m["value"].strip() for line in head if (m := _HEAD.match(_unquoted(line)))}
    sender = next((said[name] for name in _FROM if said.get(name)), "")
    subject = next((said[name] for name in _SUBJECT if said.get(name)), "")
    who = sender_name(sender) if sender else None
    told = [who or "", *(value for name, value in said.items() if name not in (*_FROM, *_ADDRESSEES))]
    return _Part(who, subject, [], f"(Forwarded: {', '.join(part for part in told if part)})")


def _with_mark(part: _Part) -> list[str]:
    return [*([part.mark] if part.mark else []), *part.lines]


def _title(recipe: _Part, markdown: bool) -> tuple[str, list[str]]:
    """The line that is to be the title, and the other lines.

    It is the recipe's own if that opens it, or if the subject says nothing about what is cooked; else the subject.
    """
    lines = list(recipe.lines)
    while lines and not lines[0].strip():
        lines.pop(0)
    subject = subject_title(recipe.subject)
    says_little = not subject or bool(_REPLY.match(recipe.subject)) or bool(_EMPTY_SUBJECT.fullmatch(subject))
    cards = _read("\n".join(lines), markdown)
    titles = [line.number for line in cards[0].lines if line.role is Role.TITLE] if cards else []
    at = titles[0] - 1 if titles else 0
    own = lines[at] if titles else ""
    alone = at == 0 or not lines[at - 1].strip()
    heads = bool(own) and alone and not own.rstrip().endswith((",", ":", "!", "?"))
    same = own.strip("# *").casefold() == subject.casefold()
    if own and (own.startswith("#") or (heads and (at == 0 or says_little)) or same):
        return own, lines[:at] + lines[at + 1 :]
    sign = "# " if markdown else ""
    return f"{sign}{subject or (cards[0].title if cards else 'Untitled')}", lines


def _size(lines: list[str], markdown: bool) -> int:
    """How much of a recipe lines are: their ingredients and steps; 0 for no recipe."""
    cards = _read("\n".join(["Untitled", "", *lines]), markdown)
    return sum(3 * len(card.ingredients) + len(card.steps) for card in cards if len(card.ingredients) > 1) or sum(
        1 for card in cards if card.ingredients
    )


def _read(text: str, markdown: bool) -> list[Card]:
    try:
        return read_text(decode(text.encode("utf-8", "replace")), "mail.md" if markdown else "mail.txt")
    except NotACardError:
        return []


def _faults(alone: list[Card], read: list[Card]) -> int:
    """How much of the recipe is read otherwise among the other words than by itself."""

    def said(cards: list[Card]) -> list[object]:
        return [[card.title, [i.text for i in card.ingredients], [s.text for s in card.steps]] for card in cards]

    if said(alone) == said(read):
        return 0
    wanted = {i.text for card in alone for i in card.ingredients} | {s.text for card in alone for s in card.steps}
    found = {i.text for card in read for i in card.ingredients} | {s.text for card in read for s in card.steps}
    return 1 + len(wanted ^ found)


def _notes(markdown: bool) -> str:
    return "## Notes" if markdown else "Notes"


def _as_notes(lines: list[str]) -> list[str]:
    return [f"  {line}" if line.strip() else "" for line in lines]


def _tidy(lines: list[str]) -> list[str]:
    kept: list[str] = []
    for line in lines:
        if line.strip() or (kept and kept[-1].strip()):
            kept.append(line.rstrip())
    while kept and not kept[-1].strip():
        kept.pop()
    return [*kept, ""]
