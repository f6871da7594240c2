"""Learn how much each sign counts for two cards being the same dish: the weights of recipebox/dishes/likeness.py.

    python tests/bench/tune.py [--seeds N]

A logistic regression (D. R. Cox, "The regression analysis of binary sequences", Journal of the Royal Statistical
Society B 20, 1958), by Newton's method, of all candidate pairs of made-up kitchens that are not plainly unlike. Prints
the weights as shares of the first four, the cut, and precision, recall and F1 of single pairs of other kitchens.
"""

import argparse
import math
from collections.abc import Sequence

from kitchens import kitchen
from same_dish import WAYS

from recipebox.dishes import candidates, features
from recipebox.dishes.likeness import signs

Row = tuple[list[float], bool]
PLAINLY_UNLIKE = 0.12


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seeds", type=int, default=2)
    options = parser.parse_args()
    names, rows = pairs(range(10, 10 + options.seeds))
    weights = fitted([row for row in rows if row[1] or row[0][-1] > PLAINLY_UNLIKE])
    whole = sum(weights[:4])
    print({name: round(weight / whole, 3) for name, weight in zip([*names, "cut"], weights, strict=True)})
    _, others = pairs([20])
    print(best([(dot(signs_of, weights), same) for signs_of, same in others]))


def pairs(seeds: Sequence[int]) -> tuple[list[str], list[Row]]:
    """The signs of all candidate pairs, with a 1 behind them for the cut, and whether they are one dish."""
    names: list[str] = []
    rows: list[Row] = []
    for titles, steps, near, alike in WAYS:
        for seed in seeds:
            made = kitchen(100, 300, seed, titles, steps, near, 5, alike)
            known = {card.called: features(card) for card in made.cards}
            for a, b in candidates(known):
                told = signs(known[a], known[b])
                names = list(told)
                rows.append(([*told.values(), 1.0], made.dish[a] == made.dish[b]))
    return names, rows


def fitted(rows: Sequence[Row], steps: int = 8) -> list[float]:
    """Weights by Newton's method, held near 0 a little so that there always are some."""
    size = len(rows[0][0])
    weights = [0.0] * size
    for _ in range(steps):
        slope = [0.01 * weight for weight in weights]
        curve = [[0.01 * (i == j) for j in range(size)] for i in range(size)]
        for values, same in rows:
            said = 1 / (1 + math.exp(-max(-30.0, min(30.0, dot(values, weights)))))
            for i, value in enumerate(values):
                if value:
                    slope[i] += (said - same) * value
                    part = said * (1 - said) * value
                    curve[i] = [old + part * other for old, other in zip(curve[i], values, strict=True)]
        weights = [weight - step for weight, step in zip(weights, solved(curve, slope), strict=True)]
    return weights


def solved(matrix: list[list[float]], right: list[float]) -> list[float]:
    """x of matrix x = right, by elimination."""
    rows = [[*row, value] for row, value in zip(matrix, right, strict=True)]
    for i in range(len(rows)):
        pivot = max(range(i, len(rows)), key=lambda at: abs(rows[at][i]))
        rows[i], rows[pivot] = rows[pivot], rows[i]
        for at, row in enumerate(rows):
            if at != i:
                share = row[i] / rows[i][i]
                rows[at] = [value - share * other for value, other in zip(row, rows[i], strict=True)]
    return [row[-1] / row[i] for i, row in enumerate(rows)]


def best(scored: Sequence[tuple[float, bool]]) -> str:
    """Precision, recall and F1 at the best cut, and the recall where 99 of 100 are right."""
    gold = sum(same for _, same in scored)
    right, top, sure = 0, (0.0, 0.0, 0.0), 0.0
    for told, (_, same) in enumerate(sorted(scored, reverse=True), 1):
        right += same
        top = max(top, (2 * right / (told + gold), right / told, right / gold))
        if right >= 0.99 * told:
            sure = max(sure, right / gold)
    return f"F1 {top[0]:.3f} P {top[1]:.3f} R {top[2]:.3f}; R {sure:.3f} where P is .99"


def dot(values: Sequence[float], weights: Sequence[float]) -> float:
    return sum(value * weight for value, weight in zip(values, weights, strict=True))


if __name__ == "__main__":
    main()
