"""Letters without their accents, for looking words up."""

import unicodedata


def without_accents(text: str) -> str:
    """The text in compatible letters without combining marks (Unicode NFKD): "crème" is "creme", "½" is "1⁄2"."""
    if text.isascii():
        return text
    return "".join(c for c in unicodedata.normalize("NFKD", text) if not unicodedata.combining(c))
