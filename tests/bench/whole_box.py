"""A large box of made-up cards on disk, and what its first index and everyday commands cost, as whole commands.

    python tests/bench/whole_box.py FOLDER [CARDS]

The dishes are those of boxful.py, written out as cards of about 1.2 KB, a hundred in each folder. An old box in FOLDER
is used again, its index too: take `.recipebox` away to measure the first one.
"""

import os
import random
import subprocess
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from boxful import boxful

PEOPLE = ("Ada", "Bor", "Cleo", "Dov", "Emre", "Fenna", "Gus", "Hale", "Ivo", "Jutta", "Kim", "Lev", "Mina", "Nils")
COMMANDS = (
    ("same",),
    ("same", "--json"),
    ("find", "onion"),
    ("find", "onion", "garlic"),
    ("find", "--has", "leek", "--without", "butter"),
    ("find", "onoin"),
    ("onhand",),
    ("tonight",),
    ("tonight", "--use", "leeks"),
    (),
)


def main() -> None:
    root, count = Path(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 10_000
    if not (root / "000").exists():
        write_box(root, count)
    timed(root, "start", "--laptop", "bench")
    for command in COMMANDS:
        timed(root, *command)
        timed(root, *command)


def write_box(root: Path, count: int) -> None:
    """Write `count` cards and a list of what is on hand."""
    chance = random.Random(2)
    for number, card in enumerate(boxful(count).values()):
        sender = chance.choice(PEOPLE)
        lines = [card.title.title(), f"from: {sender}", f"serves: {chance.choice((2, 4, 6, 8))}"]
        if card.baked:
            lines.append("oven: 375 F, 40 minutes")
        lines += ["", "Ingredients"]
        lines += [f"  {round(sizes[0][1])} g {name}" for name, sizes in card.sizes.items()]
        lines += ["", "Method"]
        words = list(card.words)
        things = list(card.things)
        for at in range(0, len(words), 5):
            spoken = " ".join([*words[at : at + 5], "the", things[at % len(things)], *chance.sample(words, 6)])
            lines.append(f"  {at // 5 + 1}. {spoken.capitalize()}.")
        file = root / f"{number // 100:03d}" / f"{sender.lower()}-{card.called}"
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text("\n".join(lines) + "\n", encoding="utf-8")
    hand = ["Pantry", "  2 kg flour", "  1 kg sugar", "  500 g rice", "Fridge", "  3 leeks, use by 2026-11-27"]
    hand += ["  12 eggs", "  500 g butter", "  6 onions", "Freezer", "  1 kg peas"]
    (root / "on-hand.txt").write_text("\n".join(hand) + "\n", encoding="utf-8")


def timed(root: Path, *arguments: str) -> None:
    """Run one command whole; print its seconds, its processor seconds and the most memory one process took."""
    began = time.perf_counter()
    program = [sys.executable, "-c", "from recipebox.cli.app import main; main()", *arguments]
    with subprocess.Popen(program, cwd=root, stdout=subprocess.PIPE, stdin=subprocess.DEVNULL) as running:
        assert running.stdout is not None
        printed = running.stdout.read()
        _, status, used = os.wait4(running.pid, 0)
        running.returncode = os.waitstatus_to_exitcode(status)
    seconds = time.perf_counter() - began
    print(
        f"{' '.join(arguments) or '(alone)':<45} exit {running.returncode}  {seconds:7.2f} s  "
        f"{used.ru_utime + used.ru_stime:7.2f} s of processor  {used.ru_maxrss // 1024:5d} MB  "
        f"{len(printed):9,d} bytes",
        flush=True,
    )


if __name__ == "__main__":
    main()
