"""Which files may be cards, and the error for a text that is none."""

from pathlib import PurePosixPath

_ENDINGS = (".txt", ".md", ".markdown", ".mdown")


class NotACardError(ValueError):
    """A text that is not a card: where it lies, the line to look at (0: the whole), and why, for a person."""

    def __init__(self, path: str, line: int, why: str) -> None:
        self.path = path
        self.line = line
        self.why = why
        super().__init__(f"not a card: {why}")


def could_be_card(path: str) -> bool:
    """Whether a file at this path (from the box's root, with "/") may be a card, by its name alone."""
    parts = path.split("/")
    name = parts[-1]
    lower = name.lower()
    if any(part.startswith(".") for part in parts) or parts[0] == "as-sent":
        return False
    if not lower.endswith((".txt", ".md")):
        return False
    if len(parts) > 1:
        return True
    return not (lower == "dishes.txt" or (lower.startswith("on-hand") and lower.endswith(".txt")))


def lies_in_family(path: str) -> bool:
    """Whether a card at this path could be a family recipe: directly in `family/`."""
    return path.startswith("family/") and path.count("/") == 1


def stem(path: str) -> str:
    """A file's name without folders and ending, as words: "brigids-fish_pie.txt" -> "brigids fish pie"."""
    name = PurePosixPath(path).name
    for ending in _ENDINGS:
        if name.lower().endswith(ending):
            name = name[: -len(ending)]
            break
    return " ".join(name.replace("_", " ").replace("-", " ").split()) or name
