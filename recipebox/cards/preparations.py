"""What a cook does to an ingredient, told apart from its name. Word lists: common practice, no source."""

import re

from recipebox.cards.wordlists import listed

# Done by the cook: taken off the name wherever it stands.
DONE = listed(
    """chopped minced diced sliced grated shredded crushed melted softened beaten crumbled cubed peeled mashed cut
    drained rinsed thawed halved quartered seeded deseeded cored pitted stemmed trimmed sifted sieved strained
    squeezed juiced zested scrubbed washed cleaned husked shelled shucked deveined skinned scored split separated
    divided reserved toasted julienned slivered snipped torn pressed smashed cracked broken blanched chilled cooled
    warmed whisked pureed puréed blended flaked crumpled patted dried-off defrosted undrained unpeeled discarded
    removed tied pounded flattened butterflied spiralized hulled picked shaved cubed riced rolled-out
    crisped sauteed sautéed caramelized caramelised steamed poached simmered soaked marinated
    scalded heated unwrapped dissolved sprinkled mixed-up muddled bruised crubled choppped choped thin-sliced
    thinly-sliced finely-chopped cut-up coarse-chopped roughly-chopped hard-boiled hard-cooked soft-boiled
    chiffonade segmented tailed topped destemmed destringed stringed degreased skimmed packed leveled levelled
    sliced-thin unsliced undiluted unstrained sectioned wedged folded frothed burnt boned fileted
    filleted
    de-seeded de-veined de-boned deboned debearded de-stemmed rubbed bashed scooped sectioned
    geschält gehackt gerieben gewürfelt geschnitten hachée haché hachés hachées émincé émincés râpé coupé épluché fondu
    picado picada rallado pelado pelada hackad riven skalad smält smeltet hakket
    sliced/diced chopped/minced peeled/sliced"""
)
# Bought so as often as done by the cook: part of the name before it, preparation behind it.
_BOUGHT = listed(
    """ground cooked smoked baked roasted boiled whipped refried prepared processed brewed popped fried grilled
    rolled dried powdered frozen canned condensed evaporated sweetened precooked pre-cooked barbecued crystallized
    crystallised candied pickled salted unsalted cured corned refrigerated instant mixed stuffed stewed flavored
    flavoured braised filtered sparkling desiccated dehydrated malted puffed fermented pasteurized jarred bottled
    clotted spiced"""
)
MANNER = listed(
    """finely coarsely roughly thinly thickly lightly freshly fresh very well slightly firmly loosely tightly gently
    fully completely partially partly extra fine thin thick coarse about approximately crosswise lengthwise diagonally
    quickly slowly evenly neatly just then already pre crisply crispy hard soft roughly rather fairly good
    generously lengthways widthwise halfway"""
)
LINKS = frozenset({"and", "&", "or", "and/or", "then", "but", "+"})
_CUTS = re.compile(
    r"\s(?:(?:about )?(?:the )?size of|for|(?:dissolved|mixed|beaten|soaked|softened|blended|stuck|studded) (?:in|with)"
    r"|to (?:taste|make|serve|garnish|decorate|finish|cover|coat|grease|dust|sprinkle|brush|fry|top|blend)"
    r"|cut (?:in|into|up|about|on)|at (?:cool |warm )?room temp\w*|with (?:skins?|peel|the|tops|stems|bones?) "
    r"|per package"
    r"|as (?:needed|required|desired)|if (?:needed|desired|liked|you|possible|using|necessary)|such as|like"
    r"|nach (?:geschmack|belieben|bedarf)|al gusto|selon (?:le )?go[uû]t|(?:efter|etter) smak|naar smaak|q\.?\s?b"
    r"|such|without|until|according|each|depending|plus|removed|reserved|of your choice|of choice"
    r"|in (?:half|strips|chunks|cubes|pieces|slices|quarters|wedges|rings)|into)\b.*",
    re.IGNORECASE | re.DOTALL,
)
_WORD = re.compile(r"[^\s,]+")
_PHRASE = re.compile(
    r"\b(?:removed|reserved|discarded|tossed|separated|whole|room\stemp\w*|temperature|juice\sof|zest\sof"
    r"|grated\szest|zest\sand\sjuice|juice\sand\szest|juice\sonly|zest\sonly|parts?\sonly|tops?\sonly|skin[- ]on"
    r"|bone[- ]in|skin\soff|thick|wide|long|optional|steamed|pieces|strips|chunks|wedges|cubes|rings|thin|rounds"
    r"|halves|quarters|slices|matchsticks|dice|florets|julienne|into|cut)\b",
    re.IGNORECASE,
)
QUALITIES = listed(
    """large small medium big thick thin whole fresh ripe hot cold warm boiling lukewarm firm soft long short mini
    miniature baby jumbo heaping heaped rounded scant generous level lean boneless skinless bone-in skin-on seedless
    unsalted salted unsweetened sweetened low-fat fat-free nonfat non-fat full-fat reduced-fat organic free-range
    dry dried frozen fresh-frozen good-quality extra-large extra medium-sized medium-size small-sized large-sized
    bite-size bite-sized thick-cut mild sharp red green yellow white black brown dark light golden raw uncooked
    cooked unpeeled peeled creamy crunchy smooth chunky crisp crusty heavy tart sweet young old new stale day-old
    unbleached quick-cooking old-fashioned low-sodium gluten-free dairy-free sugar-free medium-large super very
    cool tepid sifted natural plain good semi-ripe overripe very-ripe clean dense flaky lightly tightly packed
    loosely firmly strong weak nice fat slightly"""
)


TELLING = DONE | _BOUGHT | MANNER
NO_NAMES = QUALITIES | MANNER | LINKS | DONE | _BOUGHT


def split_preparation(name: str, bought: bool = False) -> tuple[str, list[str]]:
    """A name without what the cook does to it, and that, in the order written.

    "finely chopped onion" and "onion finely chopped" both give onion. With `bought` (out of a can or bag) words
    before the name stay in it: "crushed pineapple". A name that is nothing else stays whole.
    """
    found: list[str] = []
    cut = _CUTS.search(name) if name.count(" ") > 1 else None
    if cut and cut.start() > 0:
        found.insert(0, cut.group().strip())
        name = name[: cut.start()]
    words = name.split()
    if TELLING.isdisjoint(name.lower().split()):
        return " ".join(words), found
    before = 0 if bought else _leading(words)
    behind = _trailing(words, before)
    if behind < len(words):
        found.insert(0, " ".join(words[behind:]))
    if before:
        found.insert(0, " ".join(words[:before]))
    kept = words[before:behind]
    if not bought:
        kept, inner = _between(kept)
        found = [*found[:1], *inner, *found[1:]] if before else [*inner, *found]
    return " ".join(kept) or name.strip(), found


def is_preparation(phrase: str) -> bool:
    """Whether a phrase between commas or in brackets says what to do, rather than what to buy."""
    words = [word.strip(".!,;").lower() for word in phrase.split()]
    if not words:
        return False
    if any(_is_done(word) or word in _BOUGHT for word in words):
        return True
    return all(word in QUALITIES or word in MANNER or word in LINKS for word in words) or bool(
        len(phrase) < 200 and _PHRASE.search(phrase)
    )


def is_done(phrase: str) -> bool:
    """Whether a phrase is nothing but what a cook does, and how: "finely chopped", "peeled and diced"."""
    words = phrase.lower().split()
    return _STEPS.issuperset(words) and not DONE.isdisjoint(words)


_STEPS = (DONE | MANNER | {"and", "&", "then", "but"}) - {"hard", "soft", "good", "fine", "thin", "extra", "just"}


def is_quality(phrase: str) -> bool:
    """Whether the words only say what kind ("boneless", "large, ripe"), so that the thing itself is still to come."""
    words = phrase.lower().split()
    return bool(words) and words[-1] in NO_NAMES and all(word in NO_NAMES for word in words)


def _leading(words: list[str]) -> int:
    """How many words before the name are preparation."""
    at, end = 0, 0
    while at < len(words) - 1:
        word = words[at].lower().strip(".")
        if _is_done(word) or (
            word in _BOUGHT and at > 0 and words[at - 1].lower() in ("freshly", "fresh", "finely", "coarsely")
        ):
            end = at + 1
        elif word not in MANNER and not (word in LINKS and end == at):
            break
        at += 1
    return end


def _between(words: list[str]) -> tuple[list[str], list[str]]:
    """Preparation among the qualities before a name: "ripe peeled bananas" are ripe bananas, peeled."""
    end = 0
    while end < len(words) - 1 and _is_kind_word(words[end].lower()):
        end += 1
    done = [word for word in words[:end] if _is_done(word.lower())]
    return [word for word in words[:end] if word not in done] + words[end:], done


def _is_kind_word(word: str) -> bool:
    return word in QUALITIES or word in _BOUGHT or _is_done(word)


def _trailing(words: list[str], before: int) -> int:
    """Where preparation behind the name begins."""
    at = len(words)
    start = at
    while at > before + 1:
        word = words[at - 1].lower().strip(".")
        if _is_done(word) or (word in _BOUGHT and word not in ("frozen", "mixed")):
            start = at - 1
        elif not (word in MANNER or word in LINKS):
            break
        at -= 1
    while start > before + 1 and start < len(words) and words[start - 1].lower() in MANNER | LINKS:
        start -= 1
    return start


def _is_done(word: str) -> bool:
    return word in DONE
