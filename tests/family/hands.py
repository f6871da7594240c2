"""Dishes as many hands write them down: invented people, invented words, the habits real ones."""

HANDS: dict[str, dict[str, str]] = {
    "Orchard Pie": {
        "agda.txt": """Orchard pie (Agda)
Serves 8

For the filling
1 kg sharp apples
120 g golden caster sugar
1 tsp cinnamon
2 tbsp flour

For the pastry
200 g butter, soft
60 g golden caster sugar
1 egg
330 g plain flour

1. Peel and slice the apples thinly and spread them on a cloth to dry.
2. For the pastry, cream the butter and sugar, beat in the egg and work in the flour. Wrap and chill for 40 minutes.
3. Mix the sugar, cinnamon and flour for the filling in a wide bowl.
4. Heat the oven to 190C. Keep a third of the pastry for the lid and line a tin with the rest of it.
5. Turn the apples in the bowl, heap them into the tin, put on the lid. Bake for 45 minutes until golden.
""",
        "burl.txt": """BURL'S PIE

6 C SLICED APPLES
3/4 C SUGAR
1 T LEMON JUICE
1 T FLOUR
1 t CINNAMON
1/4 t NUTMEG
2 T BUTTER

TOSS APPLES WITH LEMON JUICE, SUGAR, FLOUR, CINNAMON & NUTMEG. FILL A SHELL, DOT WITH BUTTER. BAKE AT 400 F 50 MIN.
""",
        "cilla.md": """# Apple pie with raisins - Cilla

**Dough**
- 300 g flour
- 150 g butter
- 80 g sugar
- 1 egg

**Filling**
- 1.2 kg apples
- 90 g sugar
- 1 tbsp lemon juice
- 1 tsp cinnamon
- 50 g raisins

1. Knead the dough quickly and let it rest half an hour in the cold.
2. Slice the apples, steam them briefly with the sugar, lemon juice, cinnamon and raisins.
3. Line a tin with the dough, fill it, cover it. Bake at 180 C for 50 minutes.
""",
        "dorit.txt": """Dorit's pie
From: Dorit

2 1/2 cups flour
1 tsp salt
1 cup cold butter
8 cups apples, peeled and sliced
2/3 cup sugar
1 tablespoon lemon juice
1 1/2 tsp cinnamon
1/4 tsp nutmeg

Cut the butter into the flour and salt, add a little ice water, divide in two, chill.
Toss the apples with the sugar, lemon juice, cinnamon and nutmeg.
Fill, cover, bake at 425 F for 20 minutes, then at 375 F for 40 minutes.
""",
    },
    "Bean Pot": {
        "emmet.txt": """BEAN POT FOR THE HALL (serves 24)

5 LB HAMBURGER
5 ONIONS
5 CLOVES GARLIC
5 CANS (28 OZ) TOMATOES
5 CANS (15 OZ) KIDNEY BEANS
6 TBSP CHILI POWDER
1 TBSP CUMIN
2 TBSP SALT

BROWN MEAT, POUR OFF FAT. ADD CHOPPED ONIONS AND GARLIC, COOK SOFT. ADD REST. SIMMER 2 HOURS.
""",
        "freya.txt": """Freya's bean pot
Serves 4

1 onion
1 red pepper
2 garlic cloves
1 tbsp oil
2 tsp chilli powder
1 tsp ground cumin
450 g beef mince
1 beef stock cube
400 g can chopped tomatoes
2 tbsp tomato puree
400 g can kidney beans

Heat the oil in a wide pan. Chop and fry the onion, then the garlic and the red pepper.
Stir in the chilli powder and cumin.
Add the mince and brown it. Crumble in the stock cube, add the tomatoes and the puree and simmer 20 minutes.
Stir in the beans and cook 10 minutes more.
""",
        "gus.md": """## Two-bean pot

Serves 6

- 2 tablespoons olive oil
- 1 onion, chopped
- 1 red pepper, chopped
- 2 carrots, chopped
- 1/2 teaspoon salt, divided
- 4 cloves garlic, crushed
- 2 tablespoons chili powder
- 2 teaspoons cumin
- 2 cans (14 oz) tomatoes
- 2 cans (15 oz) black beans
- 1 can (15 oz) pinto beans
- 2 cups vegetable broth

1. Warm the olive oil. Add the onion, red pepper, carrots and half the salt and cook until tender.
2. Add the garlic, chili powder and cumin and stir a minute.
3. Add the tomatoes, the drained black beans and pinto beans, and the broth. Simmer 30 minutes. Salt to taste.
""",
        "hedda.txt": """Weeknight bean pot
serves: 6

1 tablespoon olive oil
1 onion, diced
3 cloves garlic, minced
1 green pepper, diced
1 1/4 lbs ground turkey
3 tablespoons chili powder
2 teaspoons ground cumin
1/2 teaspoon salt
1 (28 oz) can tomatoes
1 cup chicken broth
2 (15 oz) cans kidney beans

Put the oil in a large pot. Add onion, garlic and green pepper and cook 6 minutes.
Add the turkey and cook until no pink is left. Add chili powder, cumin and salt.
Add tomatoes, broth and kidney beans, bring to a boil and simmer 30 minutes.
""",
    },
    "Layered Sheets": {
        "iona.txt": """Iona's lasagne
Serves 6

For the sauce
1 tbsp olive oil
1 onion, chopped
2 garlic cloves
500 g beef mince
2 tbsp tomato puree
2 x 400 g cans tomatoes
salt and pepper

For the white sauce
50 g butter
50 g flour
700 ml milk

250 g lasagne sheets
120 g mozzarella, torn
50 g parmesan, grated

1. Heat the oil, fry the onion and garlic until soft, add the mince and brown it.
2. Stir in the tomato puree and the tomatoes, season with salt and pepper and simmer 30 minutes.
3. Melt the butter, stir in the flour, whisk in the milk little by little and cook until thick.
4. Heat the oven to 200C. Layer sauce, lasagne sheets and white sauce. Scatter the mozzarella and parmesan over.
5. Bake for 40 minutes.
""",
        "jorge.txt": """Jorge's lasagna
9 lasagna noodles
1 lb ground beef
1 onion, chopped
2 cloves garlic
28 oz can tomatoes
1 tsp salt, divided
15 oz whole-milk ricotta
1 egg
2 tbsp chopped parsley
12 oz mozzarella
1/2 cup parmesan

Brown the ground beef with the onion and garlic. Add the tomatoes and half the salt, simmer 45 minutes.
Mix the ricotta with the egg, the parsley and the remaining salt.
Layer noodles, ricotta mixture, mozzarella and meat sauce in a pan, twice. Parmesan on top.
Bake at 375 F for 50 minutes.
""",
        "kaia.md": """# Lasagna, no boil

- 1 tbsp olive oil
- 1 yellow onion, diced
- 3 cloves garlic
- 1 lb ground beef
- 1 tsp kosher salt
- 1/2 tsp black pepper
- 28 oz can crushed tomatoes
- 15 oz ricotta
- 1 large egg
- 1/4 cup parsley
- 9 no-boil lasagna noodles
- 3 cups mozzarella
- 1 cup parmesan

1. Warm the oil. Add the onion and garlic, then the ground beef, salt and pepper, and cook until brown.
2. Add the tomatoes and simmer 15 minutes.
3. Stir ricotta, egg, parsley and half the parmesan together.
4. Layer noodles, ricotta mixture, mozzarella and sauce. Top with the remaining parmesan.
5. Bake at 375 F for 45 minutes.
""",
        "lumi.txt": """Lumi's green lasagne

400 g spinach
1 onion
2 tbsp olive oil
2 cans tomatoes (400 g)
250 g ricotta
1 egg
60 g butter
60 g flour
700 ml milk
250 g lasagne sheets
100 g mozzarella
60 g parmesan
nutmeg

Soften the onion in the oil, add the tomatoes and cook 20 minutes.
Mix the spinach with the ricotta, egg and a little nutmeg.
Make a white sauce of the butter, flour and milk.
Layer everything, mozzarella and parmesan on top. Bake at 190 C for 35 minutes.
""",
    },
    "Chicken in the Pot": {
        "marek.txt": """Marek's chicken
Serves 4

700 g chicken on the bone
2 onions, sliced
3 cloves garlic
3 tomatoes, chopped
1 tsp turmeric
1 tsp cumin
1 tsp garam masala
2 tbsp oil
150 ml water
salt
fresh coriander

1. Heat the oil, add the onions and the garlic; fry slowly until brown.
2. Add the tomatoes, turmeric, cumin and salt and cook until the oil comes out.
3. Add the chicken and the water, cover and cook 25 minutes.
4. Finish with garam masala and coriander.
""",
        "nels.txt": """Curry chicken - Nels

2 lb boneless chicken thighs
2 tsp salt
3 tbsp oil
1 1/2 cups chopped onion
3 cloves garlic, minced
1 tsp cumin
1 tsp turmeric
1 can (15 oz) tomatoes
1 cup yogurt
1 tsp garam masala
1 tbsp lemon juice
rice, to serve

Sprinkle the chicken with the salt and brown it in the oil. Set aside.
Cook the onion and garlic in the same pan, stir in the cumin and turmeric.
Mix in the tomatoes and yogurt, return the chicken, sprinkle the garam masala over and simmer 20 minutes.
Stir in the lemon juice.
""",
        "odile.txt": """QUICK CURRY (ODILE)
3 C. COOKED CHICKEN
1/4 C. ONION
2 T. BUTTER
1 C. CREAM
1 T. CURRY POWDER
FRY ONION IN BUTTER. ADD CREAM AND CURRY POWDER, HEAT, ADD CHICKEN. SERVE OVER RICE.
""",
        "pia.md": """# Chicken pot, Pia

- 8 chicken thighs
- 1 onion, chopped
- 4 cloves garlic
- 2 tbsp vegetable oil
- 2 tsp cumin
- 1 tsp turmeric
- 1 tsp garam masala
- 400 g can tomatoes
- 250 ml chicken stock
- 2 tbsp chopped coriander

1. Heat the oil, fry the onion until golden, add the garlic, cumin and turmeric.
2. Stir in the garam masala, then the tomatoes, and cook for 10 minutes.
3. Cut the chicken into chunks and add with the stock. Simmer for 30 minutes. Sprinkle with the coriander.
""",
    },
    "Winter Stew": {
        "quill.md": """# Stew in the slow cooker

- 2 lb beef, cubed
- 1/4 cup flour
- 1/2 tsp salt
- 1/2 tsp pepper
- 1 1/2 cups beef broth
- 1 clove garlic
- 1 bay leaf
- 3 potatoes
- 4 carrots
- 1 onion
- 1 stalk celery

1. Put meat in the slow cooker. Mix flour, salt and pepper, pour over the beef and stir.
2. Stir in garlic, bay leaf, broth, onion, potatoes, carrots and celery.
3. Cover and cook on low for 10 hours.
""",
        "rhona.txt": """Rhona's stew

750 g beef
100 g bacon
2 onions
3 carrots
250 g mushrooms
1 bottle red wine
30 g butter
30 g flour
2 cloves garlic
2 bay leaves
salt, pepper

Brown the bacon in the butter, take it out, brown the beef in the fat. Sprinkle with the flour.
Add the sliced onions and carrots and the crushed garlic, then the wine and the bay leaves.
Season with salt and pepper. Simmer for 2 hours.
Fry the mushrooms, and put them in with the bacon for the last half hour.
""",
        "sten.txt": """Sten's stew
Serves 6

2 lb beef
3 tbsp oil
4 cups beef stock
1 tsp thyme
3 potatoes
4 carrots
3 stalks celery
1 onion
1 bay leaf
salt and pepper

Brown the beef in the oil. Add the stock, thyme and bay leaf, season with salt and pepper, cover and simmer 1 hour.
Add the potatoes, carrots, celery and onion, all cut up. Simmer 1 hour more. Remove the bay leaf.
""",
        "tekla.txt": """Tekla's oven stew
Serves: 6

2 lb beef, in cubes
1 tsp salt
1/2 tsp pepper
2 tbsp oil
2 onions
4 cloves garlic
2 tbsp tomato paste
1/4 cup flour
2 cups red wine
2 cups beef broth
1 bay leaf
1/2 tsp thyme
4 carrots
1 lb potatoes

1. Heat the oven to 325 F. Season the beef with the salt and pepper and brown it in the oil.
2. Add the onions and garlic and cook until soft. Stir in the tomato paste and the flour.
3. Add the wine, broth, bay leaf and thyme. Cover and bake for 2 hours.
4. Add the carrots and potatoes and bake for 1 hour more.
""",
    },
}
