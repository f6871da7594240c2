"""Words within names of foods: spellings, and words that do not change the thing. Lists: common practice, no source."""

from recipebox.cards.wordlists import listed

PLAIN_PLURALS = listed(
    """molasses hummus couscous asparagus swiss grits brussels watercress haricots lemongrass cheesecloth schnapps
    bitters swiss-style citrus octopus cactus hibiscus norris cress haggis schnaps lass bass anis"""
)
SPELLINGS = {
    "yoghurt": "yogurt", "yoghourt": "yogurt", "chilli": "chili", "chile": "chili", "chilly": "chili", "chily": "chili",
    "chillie": "chili", "chilie": "chili", "omelette": "omelet", "doughnut": "donut",
    "flavour": "flavor", "flavoured": "flavored", "flavouring": "flavoring", "colouring": "coloring", "colour": "color",
    "coloured": "colored", "fibre": "fiber", "lasagne": "lasagna", "linguini": "linguine", "fettucine": "fettuccine",
    "fettuccini": "fettuccine", "zucchinis": "zucchini", "aubergine": "eggplant", "courgette": "zucchini",
    "prawn": "shrimp", "mayo": "mayonnaise", "veg": "vegetable", "veggie": "vegetable",
    "spud": "potato", "tater": "potato", "cauli": "cauliflower", "beetroot": "beet",
    "broth": "stock", "catsup": "ketchup", "barbeque": "barbecue", "bbq": "barbecue",
    "cardamon": "cardamom", "gelatine": "gelatin", "tumeric": "turmeric", "tamatoe": "tomato", "tomatoe": "tomato",
    "potatoe": "potato", "parmesean": "parmesan", "parmasan": "parmesan", "mozarella": "mozzarella",
    "mozzerella": "mozzarella", "chedder": "cheddar", "brocolli": "broccoli", "brocoli": "broccoli",
    "cinamon": "cinnamon", "vanila": "vanilla", "choc": "chocolate", "chocolates": "chocolate", "marg": "margarine",
    "hommus": "hummus", "houmous": "hummus", "houmus": "hummus", "humous": "hummus", "pitta": "pita", "filo": "phyllo",
    "fillo": "phyllo", "filet": "fillet", "sugars": "sugar", "jalapenos": "jalapeno",
    "breadcrumbs": "breadcrumb", "worchestershire": "worcestershire",
    "xmas": "christmas", "sulphured": "sulfured", "pimento": "pimiento", "dijonnaise": "dijon", "haricots": "haricot",
    "ptato": "potato", "rosemarie": "rosemary", "parsely": "parsley",
}  # fmt: skip
# What a cook does; no part of a name.
DONE = listed(
    """chopped minced diced sliced grated shredded crushed melted softened beaten crumbled cubed peeled mashed cut
    drained rinsed thawed halved quartered seeded deseeded cored pitted stemmed trimmed sifted strained squeezed
    juiced zested scrubbed washed cleaned husked shelled shucked deveined skinned separated divided toasted julienned
    slivered snipped torn pressed cracked broken blanched chilled cooled whisked finely coarsely roughly thinly
    thickly lightly freshly well packed firmly loosely room temperature undrained prepared flaked halved bite
    sized inch thick thin piece pieces chunk chunks undiluted scalded half"""
)
# What kind it is, without making it another thing.
KINDS = listed(
    """fresh large small medium big ripe whole raw good quality best favorite favourite organic freerange natural plain
    pure fine extra virgin lean boneless skinless bone skin unsalted salted unsweetened lowfat nonfat lowsodium
    light lite frozen canned tinned jarred uncooked unpeeled mild sharp mature aged long short mini miniature jumbo baby
    young old crisp firm tender unbleached bleached real homemade store bought leftover quick regular optional
    assorted day other your any some more additional med lg sm size heaped very super overripe seedless farmed local
    seasonal nice few tiny giant thick thin on-hand"""
)
# Pairs that say one thing, joined so that "chicken fat" keeps its fat.
PAIRS = tuple(
    (apart, together)
    for apart, together in (
        ("bread crumb", "breadcrumb"), ("corn starch", "cornstarch"), ("butter milk", "buttermilk"),
        ("low fat", "lowfat"), ("reduced fat", "lowfat"), ("full fat", "lowfat"), ("non fat", "nonfat"),
        ("fat free", "nonfat"), ("low sodium", "lowsodium"), ("reduced sodium", "lowsodium"),
        ("free range", "freerange"), ("good quality", "good"), ("sun flower", "sunflower"), ("pea nut", "peanut"),
    )
)  # fmt: skip
STATES = listed("cooked canned dried smoked condensed ground evaporated powdered boiled instant dry")
WARMTH = listed("hot warm cold boiling ice iced lukewarm tepid chilled cool")
LIQUIDS = listed("water milk coffee tea stock broth cream butter")
