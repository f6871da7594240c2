-- The index of a box: a cache that can always be made anew from the cards. Each migration is applied once, in order,
-- and never changed afterwards; PRAGMA user_version holds the number of the last.

-- migration 1

-- What was taken in from which bytes. what: card, not a card, other.
CREATE TABLE files (
    path TEXT PRIMARY KEY,
    blob_id TEXT NOT NULL,
    what TEXT NOT NULL
) WITHOUT ROWID;

-- data: the card as in card.schema.json. features, keys, things: JSON, what `dishes` and `--has` go by.
CREATE TABLE cards (
    id INTEGER PRIMARY KEY,
    called TEXT NOT NULL UNIQUE,
    path TEXT NOT NULL,
    kind TEXT NOT NULL,
    title TEXT NOT NULL,
    name TEXT NOT NULL,
    sender TEXT,
    tags TEXT NOT NULL,
    data TEXT NOT NULL,
    features TEXT NOT NULL,
    keys TEXT NOT NULL,
    things TEXT NOT NULL
);
CREATE INDEX cards_by_path ON cards (path);

-- The words of each card, a line each; rowid is cards.id.
CREATE VIRTUAL TABLE search USING fts5 (
    title, ingredients, steps, other, tokenize = "unicode61 remove_diacritics 2"
);

-- The words of all cards, each with how many cards have it. (fts5vocab counts them anew for each question: too slow.)
CREATE TABLE vocabulary (term TEXT PRIMARY KEY, cards INTEGER NOT NULL) WITHOUT ROWID;

CREATE TABLE things (thing TEXT NOT NULL, card INTEGER NOT NULL, PRIMARY KEY (thing, card)) WITHOUT ROWID;
CREATE TABLE keys (word TEXT NOT NULL, card INTEGER NOT NULL, PRIMARY KEY (word, card)) WITHOUT ROWID;

-- Pairs of versions alike enough to be the same dish, each both ways round.
CREATE TABLE alike (card INTEGER NOT NULL, other INTEGER NOT NULL, PRIMARY KEY (card, other)) WITHOUT ROWID;

-- Dishes of two versions and more. name: before dishes of one name are told apart. cards: JSON [[called, batch, why]].
CREATE TABLE dishes (id INTEGER PRIMARY KEY, name TEXT NOT NULL, cards TEXT NOT NULL);
CREATE TABLE members (card INTEGER PRIMARY KEY, dish INTEGER NOT NULL);
CREATE INDEX members_by_dish ON members (dish);

CREATE TABLE trouble (path TEXT NOT NULL, line INTEGER NOT NULL, what TEXT NOT NULL);
CREATE INDEX trouble_by_path ON trouble (path);

-- state: the scan last taken in. tool: which recipebox made this. sayings: dishes.txt as last taken in.
CREATE TABLE kept (name TEXT PRIMARY KEY, value BLOB NOT NULL) WITHOUT ROWID;

-- migration 2

-- Adding a card asks which cards are versions: without this index, all cards are read for it.
CREATE INDEX cards_by_kind ON cards (kind, called);
