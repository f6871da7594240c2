"""Fuzzing guided by coverage, run by hand for hours: inputs are bred by what code of the readers they reach.

    pip install atheris
    python -m tests.cards.guided line FOLDER -max_total_time=3600 -max_len=200
    python -m tests.cards.guided card FOLDER -max_total_time=3600 -max_len=1500

FOLDER holds the inputs found so far; other options are libFuzzer's. A failure is printed with the input and the run
goes on, each kind of failure once. A byte above 127 and the one behind it stand for a word or mark of test_fuzz.py.
"""

import sys
import time
import traceback
from collections.abc import Callable

import atheris

with atheris.instrument_imports(include=["recipebox"]):
    from tests.cards.test_fuzz import MARKS, WORDS, check_line, check_text

TOKENS = sorted({*MARKS, *WORDS, "½", "¾", "é", "–", "’", "\u2028", "\u200b", "\ufeff", "\xa0", "①", "²", "٣", "\r\n"})
PATHS = ("a.md", "a.txt", "family/a.md")
SLOW = 0.2  # seconds for a short input, some of them for the instruments


def words_of(data: bytes) -> str:
    """The words that an input stands for."""
    found = []
    at = 0
    while at < len(data):
        if data[at] < 0x80:
            found.append(chr(data[at]))
            at += 1
            continue
        number = (data[at] & 0x7F) << 8 | (data[at + 1] if at + 1 < len(data) else 0)
        found.append(TOKENS[number % len(TOKENS)] + " " * (number >> 14))
        at += 2
    return "".join(found)


def line(data: bytes) -> None:
    """One line."""
    check_line(words_of(data))


def card(data: bytes) -> None:
    """One text, of words or of bytes as they are."""
    if data:
        text = data[1:] if data[0] & 1 else words_of(data[1:]).encode("utf-8", "surrogatepass")
        check_text(text, PATHS[data[0] // 2 % 3])


def told_once(check: Callable[[bytes], None]) -> Callable[[bytes], None]:
    """The check, with failures and slow inputs printed, one of each kind."""
    seen = set()

    def run(data: bytes) -> None:
        start = time.process_time()
        try:
            check(data)
        except Exception as error:  # noqa: BLE001 - any failure at all is what is looked for
            where = tuple((frame.filename, frame.lineno) for frame in traceback.extract_tb(error.__traceback__))
            if where not in seen:
                seen.add(where)
                traceback.print_exc()
                print("INPUT", repr(data), flush=True)
        spent = time.process_time() - start
        if spent > SLOW + 5e-5 * len(data):
            print(f"SLOW {spent:.2f} s", repr(data), flush=True)

    return run


if __name__ == "__main__":
    atheris.Setup([sys.argv[0], *sys.argv[2:]], told_once({"line": line, "card": card}[sys.argv[1]]))
    atheris.Fuzz()
