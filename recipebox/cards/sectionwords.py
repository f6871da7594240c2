"""What a heading's words say its section is, in the languages that family cards are written in.

The word lists are common practice, no source.
"""

import re
from collections import Counter
from dataclasses import dataclass
from enum import StrEnum

from recipebox.cards.accents import without_accents


class Section(StrEnum):
    """What a section holds."""

    INGREDIENTS = "ingredients"
    METHOD = "method"
    NOTES = "notes"
    FACTS = "facts"  # times, servings
    RECIPE = "recipe"  # "The recipe": says nothing of its own


@dataclass(frozen=True, slots=True)
class Heading:
    """A section, and the group it names besides ("Ingredients for the sauce": "For the sauce"). `key` is the
    section's name as its card's lines carry it ("swaps", "notes"); `sure` is False for words that need a heading's
    mark-up to be believed."""

    section: Section
    key: str
    group: str | None = None
    sure: bool = True


def read_heading(words: str) -> Heading | None:
    """The section that a heading's words name, or None for words that are none of the known ones."""
    if len(words) > 90:
        return None
    plain = folded(words)
    if not plain:
        return None
    if (found := _EXACT.get(plain)) is not None:
        return found
    if (found := _misspelt(plain)) is not None:
        return found
    count = plain.count(" ") + 1
    if count > 9:
        return None
    return _ingredients(plain, words) or _method(plain, words) or _notes(plain)


def folded(words: str) -> str:
    """A heading's words for looking up: lower case, no accents, emoji, numbering, brackets or colon."""
    plain = words.casefold().strip()
    if not plain.isascii():
        plain = (
            without_accents(plain)
            .replace("’", "'")
            .replace("ø", "o")
            .replace("ł", "l")
            .replace("æ", "ae")
            .replace("ı", "i")
        )
        plain = "".join(c if ord(c) < 0x2000 or c.isalnum() else " " for c in plain)
    plain = _ANCHOR.sub("", plain)
    plain = _BRACKETS.sub(" ", plain)
    plain = _NUMBERING.sub("", plain)
    return " ".join(_NOISE.sub(" ", plain).split()).strip("-' ")


_ANCHOR = re.compile(r"\{[^{}]*\}\s*$")
_BRACKETS = re.compile(r"\([^()]*\)|\[[^\[\]]*\]")
_NUMBERING = re.compile(r"^\s*(?:\d{1,2}|[ivx]{1,4})\s*[.)]\s+")
_NOISE = re.compile(r"[^\w\s'-]|_|(?<![^\W\d_])-|-(?![^\W\d_])")

_INGREDIENTS = """
ingredients|ingredient|ingredient list|ingredients list|list of ingredients|the ingredients|ingedients|ingrediants
ingridients
ingredients needed|ingredients required|ingredients you'll need|ingredients you need|main ingredients|all ingredients
what you need|what went in|what goes inside|products|produkty|what's inside|what you'll need|what you will need
what you'll want|what you want|you'll want|what we need|what i use|what i used|what is needed
what's needed|you need|you'll need|you will need|we need|we'll need|i use|i used|things you need|things you'll need
what goes in|what goes in it|what goes into it|what's in it|whats in it|what is in it|what's in|what to buy
what to get
shopping list|the shopping list|grocery list|groceries|from the shop|from the cupboard|for this you need
for this you will need|for this you'll need|to make this you need|to make it you need|to make this you will need
here's what you need|here is what you need|here's what you'll need|here is what you will need|gather|gather these
zutaten|zutatenliste|zutaten liste|die zutaten|du brauchst|ihr braucht|man braucht|was du brauchst|man nehme
einkaufsliste
das brauchst du|das braucht ihr|das braucht man
les ingredients|il vous faut|il faut|ce qu'il faut|ce qu'il vous faut|liste des ingredients|pour la recette il faut
ingredientes|los ingredientes|lista de ingredientes|necesitas|necesitaras|que necesitas|lo que necesitas
vas a necesitar
ingredienti|gli ingredienti|occorrente|cosa serve|cosa ti serve|ti serve|os ingredientes|o que precisa
voce vai precisar
ingredienten|ingredienten lijst|ingredientenlijst|de ingredienten|wat heb je nodig|dit heb je nodig|je hebt nodig
benodigdheden
benodigde ingredienten|boodschappen|boodschappenlijst|nodig
ingredienser|ingrediensene|ingredienserna|ingrediensliste|ingredienslista|du behover|det behover du|du skal bruge
det skal du bruge
du trenger|dette trenger du|skladniki|lista skladnikow|potrzebujesz|potrzebne skladniki|co potrzebujesz
bedziesz potrzebowac
dosi|dosis|les dosi|ce dont vous avez besoin|rohwaren|einkauf|lebensmittel|provisions|supplies|materials
bill of materials
the goods|mise en place|requirements|prerequisites
原料|材料|食材|用料|配料|主料|재료|מצרכים|المكونات|المقادير|продукты|ингредиенты|інгредієнти|продукти|συστατικα
nguyen lieu
bahan|bahan-bahan|malzeme|sastavki|potrebne namirnice|namirnice
ingredience|suroviny|hozzavalok|ainekset|ainesosat|malzemeler|sastojci|sestavine|ingrediente|υλικα|ингредиенты|состав
"""
_WEAK_INGREDIENTS = "need|needs|stuff|the stuff|things|you want|shopping|amounts|list|components|what|take|zutat"
_METHOD = """
method|methods|the method|directions|direction|the directions|instructions|instruction|the instructions|preparation
preparations
steps|the steps|step by step|step-by-step|step by step instructions|procedure|procedures|process|the process|technique
how to|how to make|how to make it|how to make this|how to make them|how to do it|how it's done|how its done
how i make it
how i do it|how we make it|how you make it|how to cook it|how to cook|how to prepare|how to prepare it|how to bake it
how it is made|how it's made|making it|making them|the making|what to do|what you do|what you'll do|then what
what i do|do this
cooking method|cooking instructions|cooking directions|cooking steps|cooking procedure|baking instructions
baking directions
preparation method|method of preparation|preparation steps|preparation instructions|prep instructions|prep steps
recipe steps
recipe instructions|recipe directions|recipe method|to make it|to make|here's how|here is how|here's what to do
putting it together|put it together
assembly instructions|assembly and baking|the doing|let's cook|let's make it|let's bake|get cooking|now cook
method and baking
prep and cooking|preparation and cooking|prep and cook|prepare and cook|making and baking|mixing and baking|the how
and then
zubereitung|die zubereitung|anleitung|so geht's|so gehts|so wird's gemacht|so wird es gemacht|und so geht's
zubereitungsschritte
arbeitsschritte|schritte|vorgehen|herstellung|schritt fur schritt|kochanleitung|rezept anleitung
la preparation|etapes|les etapes|etapes de preparation|realisation|recette etapes|progression|deroulement
marche a suivre
mode operatoire|mode d'emploi|comment faire|cuisson et preparation|preparation de la recette
preparacion|la preparacion|elaboracion|instrucciones|pasos|modo de preparacion|procedimiento|como se hace
paso a paso|como hacerlo
preparazione|la preparazione|procedimento|esecuzione|come si fa|istruzioni|come fare|passaggi|svolgimento
preparo|modo de preparo|modo de fazer|preparacao|como fazer|instrucoes|modo de preparacao|passos|passo a passo
bereiding|de bereiding|bereidingswijze|werkwijze|instructies|bereidings wijze|stappen|zo maak je het|aan de slag
zo maak je dit|stappenplan
gor sa har|sa gor du|tillagning|instruktioner|tillvagagangssatt|steg for steg|beredning|sa har gor du
fremgangsmade|sadan gor du|framgangsmate|slik gjor du|slik gjor du det|tilberedning|fremgangsmate|framgangsmade
trin for trin
przygotowanie|sposob przygotowania|wykonanie|sposob wykonania|jak zrobic|instrukcje|kroki|krok po kroku
przepis krok po kroku
guide|walkthrough|walk through|execution|the plan|game plan|plan of action|order of work|methode|ablauf|durchfuhrung
so machst du es|so machen wir es|realizacion|confeccion|confeccao|elaboracio|preparacio|metode|fremgang
so einfach geht's
步骤|做法|制作方法|制作步骤|烹饪步骤|操作|操作步骤|作り方|手順|調理手順|つくり方|만드는 법|만들기|조리법
조리 순서|הוראות הכנה|אופן ההכנה
طريقة التحضير|الطريقة|приготовление|способ приготовления|инструкция|приготування|cach lam|cara membuat
cara memasak|langkah-langkah
yapilis|tarifi|workflow|protocol|action|let's go|here we go|now|tasks
postup|postup pripravy|priprava|elkeszites|elkeszitese|valmistus|valmistusohje|ohje|nain teet|tyovaiheet|yapilisi
hazirlanisi
priprema|mod de preparare|preparare|εκτελεση|приготовление|способ приготовления
"""
_WEAK_METHOD = """
cooking|making|prep|how|baking|assembly|assemble|making of|recipe method|do|technique|to cook|to prepare|to bake
to do|preparing|cook|you do|bake
mixing|putting together|kochen|backen|assembling|preparation time|work|the work|the cooking|the baking
the recipe itself|route
"""
_NOTES = """
notes|note|the notes|tips|tip|the tips|hints|hint|tricks|tips and tricks|tips & tricks|recipe notes|cook's notes
cooks notes
cook's note|cook's tips|cook's tip|chef's notes|baker's notes|my notes|additional notes|notes and tips
tips and notes|a few notes|some notes
nutrition|nutrition facts|nutritional information|nutrition information|nutritional info|nutritional facts
nutrition info
nutritional values|nutrition per serving|nutrients|macros|calories
storage|storing|to store|how to store|keeping|storage instructions|storage and reheating|reheating|to reheat
leftovers|make ahead
freezing|to freeze|freezer|freezing instructions|make-ahead|make ahead notes|make ahead tips|storing and freezing
source|sources|credit|credits|references|reference|adapted from|attribution|author|inspiration|inspired by
equipment|the equipment|equipment needed|tools|utensils|special equipment|tools needed|tools and equipment
kitchenware|cookware|hardware|you will also need
story|background|history|about|about this recipe|about the recipe|description|introduction|intro|summary|foreword
why this works
why it works|the story|comments|comment|reviews|review|remarks|thoughts|my thoughts|feedback|changelog|change log
changes|log|journal
serving suggestions|serving suggestion|serving ideas|how to serve|what to serve with|what to serve with it
serve with|suggestions|pairing|pairings|wine
variations|variation|substitutions|substitution|substitutes|swaps|alternatives|options|ideas|modifications|adaptations
versions|undecided|settled|some add|related|related recipes|see also|links|link|faq|questions|video|videos|photos
photo|pictures|images|gallery
contribution|contributions|contributing|contributors|contributor|rating|ratings|backlinks|backlink|further reading
results|result|outcome|verdict|next time|for next time|the science|science|common mistakes|mistakes|goes well with
goes with|good with|nice with|diet|diets|cost|price|tips tricks|tips and hints|hints and tips|hints tips
tried by|made by
to improve|improvements|to try|ideas for next time|acknowledgements|acknowledgments|disclaimer|thanks|thank you
dedication
did you make this|if you make this|share|print|more recipes|other recipes|you may also like|similar recipes
suggestions for use|uses|ways to use|how we eat it|how we like it|goes nicely with|experiments|observations
lessons learned
lessons|postmortem|retrospective|what i learned|what went wrong|what worked|origin|provenance|glossary|appendix
metadata notes|revision history|history of changes|batch log|cooking log|made it|cook log|trivia|fun facts
context|motivation
questions and answers|q and a|status|attributions|photos and credits|image credits|scaling|scaling notes|conversions
备注|小贴士|提示|贴士|注意|注意事项|メモ|コツ|ポイント|備考|팁|참고|заметки|советы|примечания|поради
allergens|allergen|allergies|warnings|warning|safety|footnotes|license|licence|tags|categories|category|keywords
todo|to do list|troubleshooting
notizen|notiz|tipps|tipp|hinweise|hinweis|anmerkungen|anmerkung|nahrwerte|nahrwertangaben|quelle|quellen|varianten
variante|aufbewahrung|utensilien|zubehor
conseils|conseil|astuces|astuce|remarques|remarque|variantes|variante|materiel|ustensiles|valeurs nutritionnelles
conservation|le petit plus
consejos|consejo|notas|nota|trucos|informacion nutricional|utensilios|conservacion|sugerencias
consigli|consiglio|varianti|conservazione|valori nutrizionali|fonte|attrezzatura
opmerkingen|opmerking|notities|voedingswaarde|bron|variatie|variaties|bewaren|bewaartip|keukengerei
noter|anteckningar|naringsvarde|kalla|kilde|notat|notater|bemaerkninger|tips og triks|oppbevaring|forvaring
wskazowki|wskazowka|uwagi|uwaga|notatki|porady|wartosci odzywcze|zrodlo|przechowywanie
dicas|dica|observacoes|observacao|informacoes nutricionais|armazenamento|poznamky|megjegyzes|vinkit|vinkki
"""
_FACTS = """
info|information|details|time|times|timing|timings|servings|serving|yield|overview|at a glance|quick facts|facts
the facts|basics|recipe info
recipe details|key facts|stats|prep time|cook time|cooking time|total time|portions|metadata|meta|data|serves|makes
good to know|quick info
infos|angaben|zeit|zeiten|portionen|temps|portions et temps|tiempo|raciones|tempi|dosi|tempo|porties|tijd|czas|porcje
"""
_RECIPE = (
    "recipe|the recipe|recipe card|das rezept|rezept|recette|la recette|receta|la receta|ricetta|recept"
    "|opskrift|oppskrift|przepis|receita"
)


def _entries() -> dict[str, Heading]:
    lists = (
        (Section.NOTES, _NOTES, True),
        (Section.FACTS, _FACTS, False),
        (Section.RECIPE, _RECIPE, False),
        (Section.METHOD, _WEAK_METHOD, False),
        (Section.METHOD, _METHOD, True),
        (Section.INGREDIENTS, _WEAK_INGREDIENTS, False),
        (Section.INGREDIENTS, _INGREDIENTS, True),
    )
    found = {}
    for section, words, sure in lists:
        for written in words.replace("\n", "|").split("|"):
            if written:
                name = written if written.isascii() else folded(written)
                key = name if section is Section.NOTES else str(section)
                found[name] = Heading(section, key, None, sure)
    return found


_EXACT = _entries()

_OFTEN_MISSPELT = tuple(
    (word, Counter(word), section)
    for section, words in (
        (Section.INGREDIENTS, ("ingredients", "ingredient", "ingredientes", "ingredienti", "ingredienser")),
        (Section.METHOD, ("instructions", "directions", "preparation", "procedure", "zubereitung", "method")),
    )
    for word in words
)


def _misspelt(plain: str) -> Heading | None:
    """A single word that has nearly the letters of one of the usual headings: "Ingrediants", "Intructions"."""
    if not 6 <= len(plain) <= 14 or not plain.isalpha():
        return None
    letters = Counter(plain)
    for word, theirs, section in _OFTEN_MISSPELT:
        apart = sum((letters - theirs).values()) + sum((theirs - letters).values())
        if apart <= (2 if len(word) > 7 else 0) and plain[0] == word[0] and plain[-2:] in (word[-2:], word[-1] + "s"):
            return Heading(section, str(section))
    return None


_PORTIONS = re.compile(
    r"(?=.*[\d½¼¾])(?:for|fur|pour|para|per|voor|for ca|till|til|na|serves|makes|yields?|makes about|x|a)?\s*"
    r"(?:about |approx |ca |circa |environ |a |one )?[\d½¼/ x–-]+\s*\w*\s*\w*$|(?:for|per) (?:one|two|three|four"
    r"|five|six|eight|ten|twelve)\b.*$"
)
_INGREDIENTS_FIRST = re.compile(
    r"(?:the )?(?:ingredients?|zutaten|ingredientes|ingredienti|ingredienten|ingredienser|skladniki"
    r"|ingredience)\b\s*(.*)$"
)
_OF = re.compile(r"(?:for|of|fur|pour|para|per|voor|till|til|na|del|della|de|du|der|to make)\b")
_INGREDIENTS_LAST = re.compile(r"(.+?)\s+(?:ingredients?|zutaten|ingredienser|ingredienten)$")
_NEED = re.compile(
    r"(?:(?:so |first |now |then )?(?:for (?:the|this|my|it) [\w' -]*)?(?:what )?(?:you|we|i|one)(?:'ll| will"
    r"| would|'d)?(?: also)? (?:need|want|use|require|take)"
    r"|(?:here is|here's|this is) what (?:you|we|i)(?:'ll| will)? (?:need|want|use)d?)(?:\s+(?:for|to make)\s+(.*))?$"
)
_METHOD_FIRST = re.compile(
    r"(?:the )?(?:methods?|directions?|instructions?|steps|procedure|preparation|zubereitung|preparacion"
    r"|preparazione|bereiding"
    r"|elaboracion|procedimento|przygotowanie)\b\s+(?:(?:for|of|de|del|della|du|der|des|fur|-)\s*)?(.*)$"
)
_METHOD_LAST = re.compile(r"(.+?)\s+(?:methods?|directions|instructions|steps|procedure|zubereitung)$")
_HOW = re.compile(
    r"(?:(?:this is |here's |here is |and |so )?how (?:to|i|we|you|she|he|mum|mom|gran|grandma|nana) "
    r"(?:make|do|cook|bake|prepare|assemble|put|serve|made|makes|does|bakes|cooks)\b.*"
    r"|(?:to make|making) (?:the|this|your|my) (?:recipe|dish|meal|cake|bread|pie|soup|bake|casserole|stew|salad))$"
)
_NOTES_ENDS = re.compile(
    r"(?:.+ (?:notes?|tips?|facts|information|suggestions?|variations?|substitutions?|equipment|story)"
    r"|(?:notes?|tips?|variations?|substitutions?|nutrition(?:al)?|storage|about|why|storing|history) (?:on|for"
    r"|from|about|and|of|per|to|the|this|i|we|my|info|it|values?|facts).*)$"
)
_DOING = re.compile(
    r"(?:mix|combine|add|prepare|make|stir|whisk|blend|cook|bake|chop|measure|fold|gather|assemble|beat|put|sift"
    r"|cream|heat|place|pour|process|weigh)\b"
)


def _ingredients(plain: str, words: str) -> Heading | None:
    if match := _NEED.match(plain):
        return Heading(Section.INGREDIENTS, "ingredients", _group(match[1], words))
    if match := _INGREDIENTS_FIRST.match(plain):
        rest = match[1].strip(" -")
        if not rest or _PORTIONS.match(rest):
            return Heading(Section.INGREDIENTS, "ingredients")
        if _DOING.match(rest) or not (_OF.match(rest) or rest.count(" ") < 2):
            return None
        return Heading(Section.INGREDIENTS, "ingredients", _group(rest, words))
    if (match := _INGREDIENTS_LAST.match(plain)) and not _DOING.match(plain):
        return Heading(Section.INGREDIENTS, "ingredients", _group(match[1], words), sure=len(plain) < 35)
    return None


def _method(plain: str, words: str) -> Heading | None:
    if _HOW.match(plain):
        if re.match(r"how to (?:serve|store)", plain):
            return None
        return Heading(Section.METHOD, "method")
    if match := _METHOD_FIRST.match(plain):
        rest = match[1].strip(" -")
        if not rest or _PORTIONS.match(rest):
            return Heading(Section.METHOD, "method", sure=False)
        return Heading(Section.METHOD, "method", _group(rest, words), sure=False)
    if (match := _METHOD_LAST.match(plain)) and not _DOING.match(plain):
        return Heading(Section.METHOD, "method", _group(match[1], words), sure=False)
    return None


def _notes(plain: str) -> Heading | None:
    if _NOTES_ENDS.match(plain) and not _DOING.match(plain):
        return Heading(Section.NOTES, "notes", None, sure=False)
    return None


def _group(rest: str | None, words: str) -> str | None:
    """The group as written: the words that were left over, found again in the heading."""
    if not rest:
        return None
    found = words.casefold().find(rest)
    group = words[found : found + len(rest)] if found >= 0 and len(words.casefold()) == len(words) else rest
    group = group.strip(" :-–—")
    return group[:1].upper() + group[1:] if group else None
