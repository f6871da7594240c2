"""What can go wrong with a box, each as one clear line: where, what, and what to do."""

import errno


class BoxError(Exception):
    """Something about a box could not be done. `str()` is one line for a person."""

    def __init__(self, what: str, where: str = "", do: str = "") -> None:
        self.what = what
        self.where = where
        self.do = do
        super().__init__(what, where, do)

    def __str__(self) -> str:
        line = f"{self.where}: {self.what}" if self.where else self.what
        return one_line(f"{line}; {self.do}" if self.do else line)


class NoBoxError(BoxError):
    """There is no box here or above."""


class LockedError(BoxError):
    """Another recipebox is at work in this box."""


class ChangedUnderneathError(BoxError):
    """The file on disk is not what was read before: somebody wrote it meanwhile, and it was left alone."""


class UnsafePathError(BoxError):
    """A path that would leave the box, goes through a link, or can be no file's name."""


class UnreadableError(BoxError):
    """A file is there but cannot be read whole: no permission, a broken disk, too large, or no plain file."""


class MissingError(BoxError):
    """No file lies at this path."""


class NotWrittenError(BoxError):
    """A file could not be written: the disk is full or read-only, or there is no permission."""


_WHY = {
    errno.ENOSPC: ("the disk is full", "make room and try again"),
    errno.EDQUOT: ("your share of the disk is full", "make room and try again"),
    errno.EROFS: ("the disk is read-only", "make it writable and try again"),
    errno.EACCES: ("no permission", "ask whoever set up this folder to let you in"),
    errno.EPERM: ("no permission", "ask whoever set up this folder to let you in"),
    errno.ENAMETOOLONG: ("the name is too long for this disk", "choose a shorter one"),
    errno.EIO: ("the disk gives an error", "copy what you can to another disk"),
    errno.ELOOP: ("goes through a link", "put the file itself there"),
}


def why(error: OSError) -> tuple[str, str]:
    """What an operating system's error means to a cook, and what to do about it."""
    known = _WHY.get(error.errno or 0)
    return known if known else ((error.strerror or type(error).__name__).lower(), "")


def not_written(error: OSError, where: str) -> NotWrittenError:
    """The error for a failed write."""
    what, do = why(error)
    return NotWrittenError(f"could not be written: {what}", where, do)


def unreadable(error: OSError, where: str) -> UnreadableError:
    """The error for a failed read."""
    what, do = why(error)
    return UnreadableError(f"could not be read: {what}", where, do)


def one_line(words: str) -> str:
    """Words with control characters and undecodable bytes made visible, so that a file's name cannot break a line."""
    shown = "".join(
        c if c.isprintable() else c.encode("unicode_escape", "surrogatepass").decode("ascii") for c in words
    )
    return shown.encode("utf-8", "backslashreplace").decode("utf-8")
