"""Cards as many hands type them: tidy, Markdown, table, letter, capitals, family recipe, bare, bold, two in one."""

TIDY = """Quay Fish Bake
from: Brigid
serves: 6
tags: casserole, fish

Ingredients
  2 cups flour
  1 lb white fish, in chunks
  1/2 tsp nutmeg
  1 1/4 cups hard cheese, grated

Topping
  2 cups bread crumbs

Method
  1. Heat the oven to 425 F.
  2. Mix the flour, the nutmeg and the fish.
  3. Scatter the cheese and the crumbs over.
  4. Bake for 25 minutes.

Notes
  Too salty at Easter.
  Freezes well before baking.
"""
MARKDOWN = """---
title: Barley Supper
yield: 4
tags: [soup, winter]
---

# Barley Supper

> My neighbour's, from the winter of the long frost.

![the pot](pot.jpg)

## Ingredients

- 200 g pearl barley
- 2 carrots, diced
- 1 litre stock

### To finish

- 1 tbsp vinegar
- 30 g butter

## Method

1. Rinse the barley under cold water.
2. Simmer barley and carrots in the stock for 40 minutes.

   Stir now and then.
3. Beat in the butter and the vinegar.

---

## Notes

Keeps three days. <!-- ask Wanda -->

| day | who cooks |
|-----|-----------|
| Mon | Ada       |
| Tue | Bo        |

[more of hers](wanda.md)
"""
TABLE = """# Seed Crackers

| Ingredient | Amount |
|------------|--------|
| rye flour  | 200 g  |
| seeds      | 100 g  |
| water      | 90 ml  |
| salt       | 1 tsp  |

**Method**

* Mix everything to a firm dough.
* Roll out thinly between two sheets of paper.
* Bake at 180 C for 20 minutes.

***

Goes with soft cheese.
"""
LETTER = """Dear Lotte,

you asked for the plum tray. Here it is, as my mother made it.

1 kg plums, halved
250 g flour
120 g sugar
100 g cold butter

Rub the flour, the sugar and the butter together until it looks like crumbs.
Lay the plums into a tin, close together.

Strew the crumbs over and bake at 375 F for 35 minutes.

Do not let it brown too much. We had it with cream at the wedding.

Love,
Trudl

PS: Greet the children.
"""
NUMBERED = """BEAN POT

Serves 8

You need:
1) 500 g white beans
2) 2 onions, sliced
3) 3 tbsp oil
4) 1 tin (400 g) tomatoes

What to do:
1) Soak the beans overnight.
2) Fry the onions in the oil.
3) Add beans and tomatoes and simmer for two hours.

Comments:
Better on the second day.
"""
FAMILY = """Quay Fish and Leek Bake
serves: 6
pan: 2 quart
oven: 425 F (220 C), 25 minutes
tags: casserole, freezes well

Ingredients
  1 1/2 lb white fish, in chunks
  2 leeks, sliced
  1 1/4 cups hard cheese, grated
Topping
  2 cups bread crumbs

Method
  1. Heat the oven to 425 F.
  2. Soften the leeks.
  3. Layer fish, leeks and cheese.
  4. Strew the bread crumbs over and bake.

Some add
  1/2 tsp nutmeg | Ines, Tomasz
  1 tbsp mustard | Rui

Variations
  Tomasz: flour, milk
    2 cups flour
    1 cup milk

Swaps
  leeks -> onions, half the weight | Tomasz | sweeter

Notes
  Easter 2025, Brigid: too salty

Undecided
  hard cheese, grated
    - 1 1/4 cups hard cheese, grated
    - 3/4 cup hard cheese, grated

Settled
  bread crumbs
    - 1 1/2 cups bread crumbs
    - chosen: 2 cups bread crumbs

Versions
  Brigid: versions/brigid-fish-bake.txt | double batch
  Tomasz: letters/tomasz.txt
"""
BARE = """Potato Rolls

3 cups flour
1 cup mashed potato
2 tsp yeast
1 egg

Knead all of it to a soft dough and let it rise for an hour.

Shape twelve rolls and let them rise again.

Bake at 400 F until brown.
"""
BOLD = """**Leek Tart**

_A good one for Sundays_

**Ingredients**

- **200 g** flour
- **100 g** butter
- **3** leeks
- a splash of milk

**Method**

**1.** Rub the butter into the flour.
**2.** Soften the leeks.
**3.** Bake at 180 °C for 40 minutes.
"""
TWO = """# White Sauce

## Ingredients
- 50 g butter
- 50 g flour
- 600 ml milk

## Method
1. Melt the butter and stir in the flour.
2. Whisk in the milk and simmer.

# Cheese Sauce

## Ingredients
- 100 g hard cheese
- 1 tsp mustard

## Method
1. Make the white sauce.
2. Stir in the cheese and the mustard.
"""
