"""Small files of this laptop in the box's hidden folder: written whole or not at all."""

from recipebox.box.errors import unreadable
from recipebox.box.place import Box
from recipebox.box.swap import keep_in


def kept(box: Box, name: str) -> bytes | None:
    """What `keep` put there, or None. Raises UnreadableError."""
    path = box.hidden / name
    try:
        return path.read_bytes()
    except FileNotFoundError:
        return None
    except OSError as error:
        raise unreadable(error, str(path)) from error


def keep(box: Box, name: str, data: bytes | None, *, settle: bool = True) -> None:
    """Put bytes under a name in the hidden folder, over what was there; None removes it. Raises NotWrittenError.

    Without `settle` a power cut may leave anything under the name: for what can be found out again.
    """
    keep_in(box.hidden, name, data, settle=settle)
