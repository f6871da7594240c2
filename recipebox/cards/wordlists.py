"""Word lists written as running text, so that they can be read and changed as such."""


def listed(words: str) -> frozenset[str]:
    """The words of a text parted by spaces."""
    return frozenset(words.split())
