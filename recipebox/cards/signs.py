"""Signs that a row is an ingredient line, a step, a greeting or a remark.

The word lists are common practice, no source.
"""

import re

from recipebox.cards.likeness import ingredient_likeness


def _set(words: str) -> frozenset[str]:
    return frozenset(words.split())


_AMOUNT = re.compile(
    r"(?:about |approx\.? |ca\.? |circa |around |roughly |scant |heaped |heaping |a good |~\s*|x\s*)?"
    r"(?:(?!\d{1,2}(?:[:h]\d\d|\s?[ap]m)\b)\d|[½¼¾⅓⅔⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚]|(?:a|an|one|two|three|four|five|six|seven|eight|nine|ten|twelve|half|some|few|dozen|"
    r"ein|eine|einen|etwas|zwei|drei|un|une|deux|trois|una|uno|dos|tres|due|tre|een|twee|en|ett|et|jeden|dwa)\s+"
    r"(?:(?:good|big|small|large|little|level|heaped|heaping|scant|generous|couple|few|half|kleine|große|grosse"
    r"|petite|bonne|quarter)\s+(?:of\s+)?)?"
    r"(?:pinch|dash|cup|pint|quart|gallon|tin|can|jar|packet|package|pack|bag|box|bunch|handful|knob|clove|sprig"
    r"|stick|slice|piece|"
    r"tablespoon|teaspoon|tbsp|tsp|pound|ounce|lb|oz|litre|liter|spoon|drop|splash|drizzle|head|stalk|bottle"
    r"|carton|egg|onion|"
    r"lemon|orange|apple|carrot|potato|tomato|glass|mug|lump|nut|bit|leek|lime|garlic|bay|cinnamon|vanilla|prise"
    r"|messerspitze|zehe|"
    r"bund|dose|becher|tasse|el|tl|päckchen|pincée|cuillère|gousse|sachet|noix|verre|pizca|cucharada|cucharadita"
    r"|diente|taza|lata|"
    r"pizzico|cucchiai|cucchiaino|spicchio|bustina|snufje|eetlepel|theelepel|teentje|blikje|nypa|knivspids|klype"
    r"|szczypta|łyżka|łyżeczka))",
    re.IGNORECASE,
)
VERBS = _set(
    """
    add allow arrange assemble bake baste beat blanch blend boil braise bring broil brown brush carve chill chop
    coat combine cook cool core cover cream crack crumble crush cube cut decorate deglaze dice dip discard
    dissolve divide drain drizzle drop dry dust enjoy fill finish flatten flip fluff fold form freeze fry
    garnish gather give glaze grate grease grill grind halve heat hull invert julienne keep knead ladle lay
    layer leave let lift line lower make marinate mash measure melt microwave mince mix moisten move name open
    pack pat peel pick pierce pinch pipe pit place poach pop pound pour preheat prepare press prick process
    pulse punch purée puree put reduce refrigerate reheat remove repeat replace reserve rest return rinse roast
    roll rotate rub run sauté saute saut scatter scoop scrape scrub sear season separate serve set shake shape
    shred sieve sift simmer skim slice slide smear smooth snip soak soften spoon spray spread sprinkle squeeze
    stand start steam steep stew stir store strain strip stuff swirl take taste tear thaw thicken thin throw tie
    tilt tip toast top toss transfer trim turn twist unmold use warm wash weigh whip whisk wilt wipe wrap work
    zest tuck fan nestle score sizzle switch raise stretch proof prove degas shuck devein deseed seed toast
    scald temper bloom caramelize caramelise infuse macerate truss smoke char sweat render activate begin den
    die das heize heizen backen rühren mischen mix mélanger préchauffer préchauffez ajouter ajoutez mélangez
    cuire faire faites verser versez couper coupez éplucher mezclar mezcla calentar calienta añadir añade
    agregar agrega cocinar hornear precalentar mescolare mescolate aggiungere aggiungete cuocere scaldare
    preriscaldare unire versare tagliare meng verwarm voeg bak snijd kook roer blanda värm tillsätt grädda rör
    bland tilsæt bag rør kok hakk tilsett stek wymieszać wymieszaj dodać dodaj piec upiec gotuj misture adicione
    asse leve coloque corte bata
    pile push slit poke bury plonk plop chuck dump dunk dredge douse drench dollop dot daub smash squash squish squeeze
    crush pestle pulverize pulverise blitz whizz liquidise liquidize churn crank switch wait watch check test try start
    begin continue finish decant drip ease encase enclose fetch fit flake flambe flambé fluff fork gut hang hold
    inject insert jar jug knock lace load loosen lower lug macerate massage moisten mound nuke overlap oven-roast
    par-bake parboil parcook pan-fry deep-fry stir-fry air-fry dry-fry oil plate plunge preserve pull pressure-cook
    re-roll reroll rehydrate reshape rewarm ring roughly rotate rough saute scald scoot screw seal sear secure
    settle shallow-fry shave shuck sieve skewer slap slather slip slot smother snap sous-vide spatchcock spear
    spiralize split spot spritz squirt stab stack steady steep sterilise sterilize stitch straighten stud submerge
    suspend swish swivel tap tease thread tighten toss trickle trim truss tumble turn unroll unwrap upend wet whack
    whir winnow wring zap bottle can pasteurise pasteurize skin skim refresh revive roughen ripen rig go get have
    do use you'll bring crack build butterfly cap clamp clarify crimp crisp curl dampen dig drape dress fire
    flute force funnel hand heap hollow line lightly maintain nick notch pinch ration reach read ready scissor
    snuggle space spin sprinkle stagger steal swap throw tilt trace transfer tuck turn up vacuum wedge wiggle
    eat drink sip munch dunk devour tuck rain ball arrange hide float feed fizz portion chunk ferment pickle cure
    brine rinse scorch blister
    """
)
# Orders that are also things in a kitchen: believed only with the words of an order behind them.
_THINGS_TOO = _set(
    """
    butter salt flour cream core mince roast stock toast score dust pepper sugar dress ice top juice cook ground
    whip grill dash garnish pickle smoke stand rest rub press pinch drizzle splash sprinkle squeeze scoop spoon
    batter stew steam shred puree purée slice slices grease crumble brown bread oil cube season layer brush
    baste chill chop stuff fold glaze fry fan bloom broil boil filling plump crisp cool dry warm thin open clean
    set cover form work wash ribbon meng bag can bottle line hand jar jug plate portion chunk cap clamp notch spot
    stud load lace fork fire float have up use do go get cure brine pull spin ball rain pestle preserve press crisp
    pile heap hollow pressure space steal skin skim split spear sous-vide stab ring reach nick mound plunge eat drink
    """
)
_ORDERED = re.compile(
    r"(?:\s|-)+(?:the|a|an|it|them|this|these|each|both|all|up|down|in|into|on|over|out|off|together|with|until"
    r"|till|to|your|half|well|\d|everything|lightly|gently|very|any|some|thoroughly|again|and \w+ (?:the|it"
    r"|them|until|for))\b",
    re.IGNORECASE,
)
_LEAD = re.compile(
    r"(?:(?:then|next|now|first|firstly|second|secondly|finally|lastly|meanwhile|carefully|gently|slowly"
    r"|gradually|immediately|lightly|"
    r"quickly|once|when|while|after|before|as soon as|until|in an?|in the|in your|using|with|on an?|on the|over"
    r"|to a|to the|to make|to serve|to assemble|"
    r"for the|for each|at this|at the|if|about|add|just|thoroughly|evenly|finely|roughly|generously|and|also|you"
    r"|i|we|i'd|you'll|into|"
    r"from|by|do not|don't|be sure|make sure|as|up|off|pre-heat|pre heat|oven|deep|stir-fry|dry-roast|re-heat"
    r"|par-boil|everything|all|working)\b)",
    re.IGNORECASE,
)
_CLOCK = re.compile(r"(?:\d{1,2}[:h]\d\d(?:\s*[ap]m\b)?|\d{1,2}\s?[ap]m\b)\s*[-–—:|]?\s*", re.IGNORECASE)
_WORD = re.compile(r"[^\W\d_]+(?:'[a-z]+)?")
_HEATED = re.compile(
    r"\b(?:oven|minutes?|mins?|hours?|simmer|boil|bowl|pan|skillet|saucepan|stir|bake[ds]?|fry|preheat|mixture"
    r"|dough|whisk|ofen|minuten|"
    r"four|cuire|horno|minutos|forno|minuti|oven|ugn|ovn|piekarnik\w*|°|degrees)\b",
    re.IGNORECASE,
)
_HEAT = re.compile(r"\d{2,3}\s*(?:°|º|degrees|[CF]\b)")
_SPAN = re.compile(
    r"(?:about |approx\.? |ca\.? |circa |around |roughly |~\s*)?(?:an? |half an |[\d½¼¾][\d½¼¾ .,/–-]*(?:to \d+ )?)\s*"
    r"(?:min\b|mins\b|minut\w*|hours?\b|hrs?\b|std\b|stunden?\b|heures?\b|horas?\b|days?\b|servings?\b|portion\w*|people\b"
    r"|personen\b|personnes\b|personas\b|kcal\b|calories\b)",
    re.IGNORECASE,
)
_ENDS = re.compile(r"[.!?…。！？](?:[\"')\]”’*_]+)?$")
_GREETING = re.compile(
    r"(?:dear|hi|hello|hey|hiya|good (?:morning|evening)|darling|dearest|my dear\w*|liebe[rs]?|hallo|ch[eè]re?"
    r"|bonjour|querid[ao]|hola|cara|caro|ciao|"
    r"lieve|beste|hej|kära|kjære|kære|drog[ai]|cześć)\b[^.]{0,40}(?:[,!:–-]|\Z)\s*\Z",
    re.IGNORECASE,
)
_CHAT = re.compile(
    r"(?:enjoy\b|note[s]?\b\s*[:—–-]|n\.?b\.?\b|p\.?s\.?\b|tips?\b\s*[:—–-]|hint\b\s*[:—–-]|optional\b\s*:"
    r"|source\b\s*:|adapted from|recipe (?:by|from)|from (?:my|our|the kitchen)|"
    r"(?:bon app[eé]tit|guten appetit|buon appetito|smacznego|smakelijk|velbekomme|god aptit|buen provecho"
    r"|bom apetite)\b|"
    r"(?:this|these|it|they) (?:is|are|was|were|makes?|will|can|keeps?|freezes?|tastes?|goes|has|came|should)\b|"
    r"(?:i|we|my|our|mum|mom|gran\w*|nana|dad) (?:like|love|usually|always|often|sometimes|never|got|had|think"
    r"|found|first|was|were|am|grew|used|make|made|hope|also|once|mother|"
    r"family|grand\w+|aunt|husband|wife|kids|mum|mom|friend)\b|"
    r"(?:and )?that(?:'s|’s| is) (?:it|all)\b|voil[aà]\b|let me know|hope you|thanks|thank you|tell me"
    r"|write (?:me|soon)|see (?:you|also)|much love|with love)",
    re.IGNORECASE,
)


def starts_with_amount(words: str) -> bool:
    """Whether words begin as an amount does: "2 cups", "½", "a pinch"."""
    return _AMOUNT.match(words) is not None


_LAST_NUMBER = r"(?:^|[\s(:,–—.-])(?:about |ca\.? |approx\.? )?(?:\d[\d.,/ ½¼¾⅓⅔⅛–-]{0,9}|[½¼¾⅓⅔⅛])[ ]?"
_LAST_UNIT = (
    r"(?:g|kg|mg|ml|dl|cl|l|oz|lbs?|cups?|tbsps?|tsps?|tablespoons?|teaspoons?|pinch(?:es)?|cloves?|cans?|tins?"
    r"|slices?|bunch(?:es)?|sticks?|pints?|quarts?|grams?|ounces?|pounds?|el|tl|stk|stück|piec\w+|large|small|medium|whole)"
)
_LAST_AMOUNT = re.compile(rf"{_LAST_NUMBER}{_LAST_UNIT}?\s?\)?\.?$", re.IGNORECASE)
_LAST_MEASURE = re.compile(rf"[^\W\d].*{_LAST_NUMBER}{_LAST_UNIT}\s?\)?$", re.IGNORECASE)


def has_amount(words: str) -> bool:
    """Whether words begin or end with an amount: "2 cups flour", "flour 200 g", "Lime 1"."""
    return starts_with_amount(words) or (len(words) < 60 and _LAST_AMOUNT.search(words) is not None)


def has_amount_within(words: str) -> bool:
    """Whether words hold a number beside the name of something: "2 eggs", "zest of 1 lemon"; no bare "100 g"."""
    return _WITHIN.search(words) is not None


_WITHIN = re.compile(r"(?:\d|[½¼¾⅓⅔])[\d/.]*\s?[^\W\d_]{3,}|(?:\d|[½¼¾⅓⅔])\s?[^\W\d_]{1,2}\.?\s+[^\W\d_]{2,}")
_STAPLES = _set(
    """
    salt pepper oil water butter sugar flour cinnamon parsley basil thyme oregano nutmeg garlic onion onions
    milk eggs egg cream honey vinegar paprika cumin lemon lemons cheese breadcrumbs rice yeast vanilla chives
    dill coriander cilantro mint sesame seeds nuts spices herbs ice ketchup mustard mayonnaise stock broth
    olives capers bacon ham tomatoes potatoes carrots salz pfeffer öl sel poivre sal
    """
)


def is_staple(words: str) -> bool:
    """Whether a short line without amount ends in something every kitchen has ("Salt", "black pepper")."""
    found = _WORD.findall(words)
    return 0 < len(found) <= 4 and found[-1].lower() in _STAPLES


def looks_ingredient(words: str) -> bool:
    """Whether a bare line may be an ingredient line."""
    size = len(words)
    if size > 160 or size < 2:
        return False
    if starts_with_amount(words):
        return (
            _HEAT.match(words) is None
            and _SPAN.match(words) is None
            and not (size > 60 and (is_sentence(words) or step_likeness(words) > 0.6) and _HEATED.search(words))
        )
    if words.count(" ") > 9 or is_sentence(words) or step_likeness(words) > 0.6:
        return False
    if size < 60 and _LAST_MEASURE.search(words) is not None and _HEATED.search(words) is None:
        return True
    return ingredient_likeness(words) >= 0.5 or is_staple(words)


def is_sentence(words: str) -> bool:
    """Whether words end as a sentence does and are long enough for one."""
    return words.count(" ") >= 2 and _ENDS.search(words) is not None


def step_likeness(words: str) -> float:
    """How much words look like a step, 0 to 1: an order at the start, a sentence's end, kitchen words within."""
    if _CHAT.match(words):
        return 0.1
    if words[:1].isdigit() and (clock := _CLOCK.match(words)):
        words = words[clock.end() :]
    first = _WORD.match(words)
    long = words.count(" ") >= 2
    ends = _ENDS.search(words) is not None
    heated = _HEATED.search(words) is not None
    if first is not None and _is_order(words, first[0].lower(), first.end(), long, ends):
        return 0.95 if long else 0.7
    led = _LEAD.match(words) is not None
    if led and long and (ends or heated):
        return 0.85
    if heated and long and ends:
        return 0.7
    if long and ends and any(word.lower() in VERBS for word in _WORD.findall(words)):
        return 0.6
    return 0.3 if long and (ends or led or heated) else 0.1


def _is_order(words: str, first: str, end: int, long: bool, ends: bool) -> bool:
    """Whether the first word tells the cook to do something, and is no thing ("butter", "squeeze of lemon")."""
    if first in _THINGS_TOO:
        behind = _ORDERED.match(words, end)
        return (behind is not None and (ends or words.count(" ") >= 3)) or (ends and words.count(" ") >= 4)
    return first in VERBS and (long or ends) and not words.startswith(" of ", end)


def begins_with_verb(words: str) -> bool:
    """Whether the first word is one that tells the cook to do something, whatever stands behind it."""
    first = _WORD.match(words)
    return first is not None and first[0].lower() in VERBS


def is_order(words: str) -> bool:
    """Whether even a few words tell the cook to do something: "Cook the polenta", "Simmer gently"."""
    first = _WORD.match(words)
    if first is None or first[0].lower() not in VERBS:
        return step_likeness(words) >= 0.6
    behind = _ORDERED.match(words, first.end())
    return behind is not None or (first[0].lower() not in _THINGS_TOO and " " in words)


def is_greeting(words: str) -> bool:
    """ "Dear Ann," and its like."""
    return len(words) < 60 and _GREETING.match(words) is not None


def is_remark(words: str) -> bool:
    """Whether words are told rather than ordered: no sentence gives an order, and people come up in them."""
    if _PEOPLE.search(words) is None:
        return False
    return not any(step_likeness(each) >= 0.9 for each in _SENTENCE.split(words))


_SENTENCE = re.compile(r"(?<=[.!?])\s+")
_PEOPLE = re.compile(
    r"\b(?:(?-i:I)(?:'m|'ve|'d)?|me|my|mine|we|us|our|ours|mum|mom|gran\w*|nana|dad|auntie?|uncle|sister|brother|mother"
    r"|father|husband|wife|kids|children|family|friends?|neighbou?rs?|everyone|everybody|nobody|love|thank\w*|write|tell"
    r"|ring|christmas|easter|sundays?|birthday|summer|winter|years?|remember)\b",
    re.IGNORECASE,
)


def is_chat(words: str) -> bool:
    """Whether words begin as a remark to the reader does ("Enjoy!", "Note: ...", "This is ...")."""
    return _CHAT.match(words) is not None
