"""What other people wrote, shown on a terminal without steering it."""

import re
from typing import Any, TextIO, cast

# Colours and line moves are our own; anything else could retitle a window, move the cursor or answer for the person.
_STEERING = re.compile(r"\x1b(?!\[[0-9;]*m)|[\x00-\x08\x0b\x0c\x0e-\x1a\x1c-\x1f\x7f-\x9f]")


class Harmless:
    """A terminal's stream that shows a control sign as `?` instead of passing it on; otherwise the stream itself."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream

    def write(self, words: str) -> int:
        """Write words, steering signs replaced one for one."""
        return self._stream.write(_STEERING.sub("?", words))

    def __getattr__(self, name: str) -> Any:
        return getattr(self._stream, name)


def harmless(stream: TextIO) -> TextIO:
    """The stream; where it is a terminal, one that cannot be steered by the words written to it."""
    if not stream.isatty():
        return stream
    return cast(TextIO, Harmless(stream))
