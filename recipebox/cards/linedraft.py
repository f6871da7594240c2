"""An ingredient line while it is being read, and where each piece of it belongs."""

import re
from dataclasses import dataclass, field, replace

from recipebox.cards.itemname import NO_ALTERNATIVE, OR, behind_qualities, split_items
from recipebox.cards.lineparts import Part, cut_parts
from recipebox.cards.measured import may_measure, only_measure, read_measured
from recipebox.cards.measureparts import Measured
from recipebox.cards.model import Alternative, Ingredient, Measure, quick_ingredient
from recipebox.cards.preparations import is_done, is_preparation, is_quality, split_preparation
from recipebox.cards.things import is_known
from recipebox.cards.unitwords import is_container, is_measure, read_unit

_SIZE_OF = re.compile(r"(?:about\s+)?(?:the\s+)?size\s+of\b", re.IGNORECASE)
_LETTER = re.compile(r"[^\W\d_]")
_OPTIONAL = re.compile(r"\bopt(?:ional(?:ly)?\b|\.|$)[\s:,-]*", re.IGNORECASE)
_TASTE = re.compile(
    r"(?:(?:or|and|plus)\s+)?(?:more\s+|less\s+|adjust(?:ed)?\s+)?(?:according\s+)?(?:to|for)\s+(?:your\s+|personal\s+|own\s+)?taste"
    r"|(?:or )?(?:to your liking|(?:as|if) (?:needed|required|desired|necessary|you like|liked))|q\.?\s?[sb]\.?"
    r"|al? gusto|a gosto|(?:je )?nach (?:geschmack|belieben|bedarf)|n\.\s?b\.|selon (?:le )?go[uû]t|naar smaak"
    r"|(?:efter|etter) smak",
    re.IGNORECASE,
)
_AS_NEEDED = re.compile(r"\b(?:to|as|if)\s+(?:your\s+)?(?:taste|needed|required|desired|liking)\s*\Z", re.IGNORECASE)
_PURPOSE = re.compile(
    r"(?:extra\s+|more\s+|additional\s+)?(?:for\s+(?!a\b|each\b)|to\s+(?:serve|garnish|decorate|finish|cover|coat|grease|dust"
    r"|sprinkle|brush|fry|top|blend|bake|drizzle|roll|glaze|deep|pan|line|spread|thin|thicken|bind|accompany|make|fill|season"
    r"|scatter|rub|dress|toss|moisten|marinate|poach|cook|boil|stir|mix|seal|loosen|decorate)\b)",
    re.IGNORECASE,
)
_MORE = re.compile(
    r"(?:and\s+)?(?:plus|\+|with|and)\s+(?:some\s+|a (?:little|bit)\s+)?(?:more|extra|additional)\b", re.IGNORECASE
)
_PLUS_LEAD = re.compile(r"(?:plus|\+|and)\s+", re.IGNORECASE)
_EXAMPLES = re.compile(r"(?:such as|like|e\.g\.)\s", re.IGNORECASE)
_USE = re.compile(r"\Ause\s+(?!whatever)", re.IGNORECASE)
_PLUS = re.compile(r"\s+(?:plus|\+)\s+", re.IGNORECASE)
_CHAT = re.compile(
    r"\b(?:i|i'm|i've|you|your|we|my|mine|it|they|them|was|were|is|are|if|used?|see|note|don't)\b|[!?]", re.IGNORECASE
)
_VAGUE = re.compile(r"(?:plenty|lots?|loads|a (?:little|bit|lot|few)|some|enough|generous\w*)\b", re.IGNORECASE)
_JOINED = re.compile(r"\s+(?:and|&)\s+(?=\d)")
_REMARK_AMOUNT = re.compile(r"(?<![\w/.,])(?=[\d½⅓⅔¼¾⅛⅜⅝⅞])")


def is_talk(words: str) -> bool:
    """Whether words in brackets are said to the reader: "I used brown", "use more if you like"."""
    return _CHAT.search(words) is not None


@dataclass
class Draft:
    """What has been read of a line so far."""

    measured: Measured = field(default_factory=Measured)
    each: bool = False
    how: str | None = None
    listed: list[str] = field(default_factory=list)
    preparation: list[str] = field(default_factory=list)
    purpose: list[str] = field(default_factory=list)
    remark: list[str] = field(default_factory=list)
    optional: bool = False
    instead: list[tuple[Alternative, ...]] = field(default_factory=list)
    unsure: list[str] = field(default_factory=list)

    def take(self, part: Part, named: bool = True) -> None:
        """Put one piece of the line where it belongs."""
        text = part.text
        if part.kind != "or" and is_done(text):
            self.preparation.append(text)
            return
        if part.kind == "or" or OR.match(text):
            self._take_alternative(OR.sub("", text, count=1))
            return
        if _OPTIONAL.search(text):
            self.optional = True
            text = _OPTIONAL.sub("", text, count=1).strip(" ,:;-")
        if not text or self.take_phrase(text):
            return
        if _SIZE_OF.match(text):
            self.remark.append(text)
            return
        if self._take_measure(text) or self._take_pieces(part.kind, text, named):
            return
        if part.kind == "comma" and self._take_another(text):
            return
        if part.kind == "bracket" and is_talk(text):
            self._take_remark(text)
        elif is_preparation(text):
            self.preparation.append(text)
        elif part.kind == "comma" and named and self._is_listed(text):
            without = _AS_NEEDED.search(text)
            if without:
                self.how = "to taste"
                text = text[: without.start()].strip()
            self.listed.append(text)
        else:
            self._take_remark(text)

    def as_ingredient(self, text: str, line: int, group: str | None, name: str) -> Ingredient:
        """The line as read, with the name that was found for it."""
        if self.instead:
            self._name_alternatives(name)
        name, items = split_items(name, self.listed)
        found = self.measured
        return quick_ingredient(
            text,
            line,
            group,
            found.amount,
            found.unit,
            name,
            items,
            container=found.container,
            plus=found.plus,
            also=found.also,
            how=self.how or found.how,
            preparation=", ".join(self.preparation) or None,
            purpose=", ".join(self.purpose) or None,
            optional=self.optional,
            remark="; ".join(self.remark) or None,
            instead=tuple(self.instead),
            unsure=tuple(self.unsure + ["amount"] * (found.unsure and "amount" not in self.unsure)),
        )

    def _name_alternatives(self, name: str) -> None:
        """Give "1 tbsp fresh thyme or 1 tsp dried" its thyme behind the dried."""
        noun = behind_qualities(name)
        self.instead = [
            tuple(replace(one, item=f"{one.item} {noun}") if noun and is_quality(one.item) else one for one in several)
            for several in self.instead
        ]

    def take_phrase(self, text: str) -> bool:
        """Take "to taste", "for greasing", "plus more for the pan"; False if it is none of these."""
        if _TASTE.fullmatch(text.strip()):
            if self.measured.amount is None:
                self.how = "to taste"
            else:
                self.remark.append(text)
            return True
        if _MORE.match(text):
            self.remark.append(text)
            return True
        if _PURPOSE.match(text):
            self.purpose.append(text)
            return True
        if added := _PLUS_LEAD.match(text):
            if not self._take_measure(text):
                if added.group().lower().startswith("and"):
                    return False
                item = text[added.end() :]
                if self.measured.amount is None and not self.listed and is_known(item):
                    self.listed.append(item)  # "salt + pepper"
                    return True
                self.remark.append(text)
                self._take_another(item, noted=True)
            return True
        return False

    def _take_pieces(self, kind: str, text: str, named: bool) -> bool:
        """Take a bracket or part that has commas of its own piece by piece, unless it is chat or a list of examples."""
        if "," not in text and ";" not in text and "{" not in text:
            return False
        pieces = [piece for piece in cut_parts(text) if piece.text]
        if len(pieces) < 2 or len(pieces) > 12 or _CHAT.search(text.split(",")[0]):
            return False
        for number, piece in enumerate(pieces):
            if piece.kind == "or" or OR.match(piece.text):
                before = pieces[:number]
                if not all(is_preparation(p.text) or is_quality(p.text) or _OPTIONAL.search(p.text) for p in before):
                    return False
        for piece in pieces:
            inner = "or" if piece.kind == "or" else "comma" if kind == "comma" else "bracket"
            self.take(Part(inner, piece.text), named)
        return True

    def _is_listed(self, text: str) -> bool:
        if self.measured.amount is not None and not self.each:
            return False
        if self.remark or self.preparation or _VAGUE.match(text):
            return False
        return len(text.split()) <= 5 and not _CHAT.search(text)

    def _take_measure(self, text: str) -> bool:
        found = self.measured
        if added := _PLUS_LEAD.match(text):
            measured = only_measure(text[added.end() :])
            if measured and measured.amount and is_measure(measured.unit) and is_measure(found.unit):
                found.plus += (Measure(measured.amount, measured.unit),)
                return True
        measured = only_measure(text)
        if measured and measured.amount:
            measure = Measure(measured.amount, measured.unit)
            if found.amount is None:
                measured.how = measured.how or found.how
                self.measured = measured
                if measured.size:
                    self.remark.append(measured.size)
            elif measured.unit is None:
                return False
            elif self._is_size_of_one(measured):
                found.container = measure
            else:
                found.also += (measure,)
            return True
        if found.amount is None and self._take_leading_measure(text):
            return True
        unit = read_unit(text)
        if unit and found.amount is not None and found.unit is None and text[unit[1] :].strip(" .") in ("", "of"):
            found.unit = unit[0]
            return True
        return False

    def _take_leading_measure(self, text: str) -> bool:
        """Take "600g 00" behind a name: a measure, and a word or two of what kind."""
        if not text[:1].isdigit():
            return False
        measured = read_measured(text)
        kind = text[measured.end :].strip()
        if not is_measure(measured.unit) or not kind or kind.count(" ") > 1 or is_known(kind):
            return False
        measured.how = measured.how or self.measured.how
        self.measured = measured
        self.remark.append(kind)
        return True

    def _is_size_of_one(self, measured: Measured) -> bool:
        """Whether a measure is how much is in each: "1 can, 400 g", "4 chicken breasts, 150 g each"."""
        found = self.measured
        if not is_measure(measured.unit) or found.container is not None:
            return False
        return is_container(found.unit) or (measured.each and not is_measure(found.unit))

    def _take_another(self, text: str, noted: bool = False) -> bool:
        """Take another thing to buy with an amount of its own: "2 eggs, 1 cup milk". Its amount stays in the words."""
        if not may_measure(text):
            return False
        if self.measured.amount is None:
            return False
        items = [_measured_food(piece) for piece in _JOINED.split(text)[:6]]
        if not all(items):
            return False
        self.listed += [item for item in items if item]
        if not noted:
            self.remark.append(text)
        if "items" not in self.unsure:
            self.unsure.append("items")
        return True

    def _take_alternative(self, text: str) -> None:
        if not _LETTER.search(text):
            return
        if self.preparation and _EXAMPLES.match(self.preparation[-1]) and read_measured(text).amount is None:
            self.preparation[-1] += f" or {text}"  # "pasta such as penne or rigatoni": examples, nothing instead
            return
        if NO_ALTERNATIVE.match(text):
            self.remark.append(f"or {text}")
            if _TASTE.fullmatch(text) and self.measured.amount is None:
                self.how = "to taste"
            return
        together = []
        for piece in _PLUS.split(_USE.sub("", text, count=1))[:6]:
            measured = read_measured(piece)
            item, phrases = split_preparation(cut_parts(piece[measured.end :])[0].text)
            if item and _LETTER.search(item):
                together.append(Alternative(measured.amount, measured.unit, item))
            for phrase in phrases:
                if not self.take_phrase(phrase) and phrase not in self.preparation:
                    self.preparation.append(phrase)
        if together:
            self.instead.append(tuple(together))
        else:
            self.remark.append(f"or {text}")

    def _take_remark(self, text: str) -> None:
        """A remark; an amount that stands nowhere else is taken from it and marked unsure."""
        self.remark.append(text)
        if self.measured.amount is not None:
            return
        for start in list(_REMARK_AMOUNT.finditer(text[:300]))[:5]:
            measured = read_measured(text[start.start() :])
            if measured.amount and measured.unit and measured.unit not in ("inch", "centimetre", "millimetre"):
                self.measured = Measured(amount=measured.amount, unit=measured.unit)
                self.unsure += ["amount", "unit"]
                return


def _measured_food(text: str) -> str | None:
    """The food of "1 cup milk", if the tables know it."""
    measured = read_measured(text)
    if measured.amount is None or measured.unit in ("inch", "centimetre"):
        return None
    item, _ = split_preparation(cut_parts(text[measured.end :])[0].text)
    return item if is_known(item) else None
