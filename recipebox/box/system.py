"""The calls that only one operating system has, each with its other branch."""

import errno
import os
import stat
import sys
from collections.abc import Callable
from functools import cache
from types import TracebackType
from typing import Any, Self

_NO_LINK = getattr(os, "O_NOFOLLOW", 0)
_PLAIN = getattr(os, "O_BINARY", 0) | getattr(os, "O_CLOEXEC", 0) | getattr(os, "O_NONBLOCK", 0)
# With folder handles a name is looked up in the very folder that was checked, whatever is swapped in meanwhile.
_HANDLES = {os.open, os.stat, os.mkdir, os.rename, os.unlink, os.rmdir} <= os.supports_dir_fd and (
    os.scandir in os.supports_fd
)


class Folder:
    """An open folder that was reached without passing a link. Names are single names in it."""

    def __init__(self, path: str, handle: int | None) -> None:
        self.path = path
        self._handle = handle

    @classmethod
    def at(cls, path: str) -> Self:
        """Open the box's own root, which may itself be reached through links. Raises OSError."""
        return cls(path, os.open(path, os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC) if _HANDLES else None)

    def enter(self, name: str) -> "Folder":
        """Open a folder within. Raises OSError (ELOOP or ENOTDIR for a link)."""
        path = os.path.join(self.path, name)  # noqa: PTH118 - once per folder of a scan that is measured
        if self._handle is not None:
            flags = os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC | _NO_LINK
            return Folder(path, os.open(name, flags, dir_fd=self._handle))
        status = os.lstat(path)
        if is_link(status) or not stat.S_ISDIR(status.st_mode):
            raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR), path)
        return Folder(path, None)

    def entries(self) -> list[os.DirEntry[str]]:
        """What lies in the folder. Raises OSError."""
        with os.scandir(self._handle if self._handle is not None else self.path) as found:
            return list(found)

    def stat(self, name: str) -> os.stat_result:
        """lstat of a name. Raises OSError."""
        return os.stat(self._at(name), dir_fd=self._handle, follow_symlinks=False)

    def open(self, name: str) -> int:
        """Open a file for reading, never through a link and never waiting for a pipe. Raises OSError."""
        if not _NO_LINK and is_link(self.stat(name)):
            raise OSError(errno.ELOOP, os.strerror(errno.ELOOP), name)
        return os.open(self._at(name), os.O_RDONLY | _NO_LINK | _PLAIN, dir_fd=self._handle)

    def create(self, name: str) -> int:
        """Open a new file for writing; fails if anything has that name. Raises OSError."""
        flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | _NO_LINK | _PLAIN
        return os.open(self._at(name), flags, 0o666, dir_fd=self._handle)

    def make(self, name: str) -> None:
        """Make a folder within. Raises OSError."""
        os.mkdir(self._at(name), dir_fd=self._handle)

    def rename_over(self, name: str, onto: str) -> None:
        """Give a file the name of another, which it replaces. Raises OSError."""
        os.replace(self._at(name), self._at(onto), src_dir_fd=self._handle, dst_dir_fd=self._handle)

    def exchange(self, name: str, other: str) -> bool:
        """Let two files have each other's names, at one stroke; False where system or disk cannot. Raises OSError."""
        return self._handle is not None and _rename_specially(self._handle, name, other, _EXCHANGE)

    def rename_to_free(self, name: str, free: str) -> None:
        """Give a file a name that nothing has. Raises FileExistsError if something has, else OSError."""
        if self._handle is None:
            os.rename(self._at(name), self._at(free))  # noqa: PTH104 - where there are no handles this refuses by itself
            return
        if _rename_specially(self._handle, name, free, _FREE_ONLY):
            return
        try:
            os.link(name, free, src_dir_fd=self._handle, dst_dir_fd=self._handle, follow_symlinks=False)
        except FileExistsError:
            raise
        except OSError:  # disks without second names, as on most sticks: look first, then rename
            try:
                self.stat(free)
            except FileNotFoundError:
                self.rename_over(name, free)
                return
            raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), free) from None
        self.unlink(name)

    def unlink(self, name: str) -> None:
        """Remove a file. Raises OSError."""
        os.unlink(self._at(name), dir_fd=self._handle)

    def rmdir(self, name: str) -> None:
        """Remove an empty folder. Raises OSError."""
        os.rmdir(self._at(name), dir_fd=self._handle)

    def sync(self) -> None:
        """Make renames in this folder outlast a power cut, where the system can."""
        if self._handle is not None:
            os.fsync(self._handle)

    def close(self) -> None:
        """Give the handle back."""
        if self._handle is not None:
            os.close(self._handle)
            self._handle = None

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self.close()

    def _at(self, name: str) -> str:
        return name if self._handle is not None else os.path.join(self.path, name)  # noqa: PTH118 - as in enter


def settle_all(folder: str) -> bool:
    """Wait until all that was written to a folder's disk stands there; False where the system cannot be asked that.

    Raises OSError if something could not be written.
    """
    if not hasattr(os, "sync"):
        return False
    call = _library_call("syncfs")
    if call is None:
        os.sync()
        return True
    handle = os.open(folder, os.O_RDONLY)
    try:
        if call(handle) != 0:
            import ctypes

            raise OSError(ctypes.get_errno(), os.strerror(ctypes.get_errno()), folder)
    finally:
        os.close(handle)
    return True


SETTLES_ALL = hasattr(os, "sync")


def is_link(status: os.stat_result) -> bool:
    """Whether an lstat result is a link: a symbolic one, or a junction on Windows."""
    # 0xA0000003 is IO_REPARSE_TAG_MOUNT_POINT (Microsoft, "Reparse Point Tags"), a junction.
    return stat.S_ISLNK(status.st_mode) or getattr(status, "st_reparse_tag", 0) == 0xA0000003


_FREE_ONLY, _EXCHANGE = (4, 2) if sys.platform == "darwin" else (1, 2)


def _rename_specially(folder: int, name: str, other: str, how: int) -> bool:
    """renameat2 on Linux (rename(2)), renameatx_np on macOS; False where system or disk has no such call."""
    call = _special_rename()
    if call is None:
        return False
    if call(folder, os.fsencode(name), folder, os.fsencode(other), how) == 0:
        return True
    import ctypes

    number = ctypes.get_errno()
    if number in (errno.EINVAL, errno.ENOSYS, errno.ENOTSUP, errno.EOPNOTSUPP, errno.EPERM):
        return False
    raise OSError(number, os.strerror(number), other)


@cache
def _special_rename() -> Callable[[int, bytes, int, bytes, int], int] | None:
    import ctypes

    call = _library_call("renameatx_np" if sys.platform == "darwin" else "renameat2")
    if call is not None:
        call.argtypes = (ctypes.c_int, ctypes.c_char_p, ctypes.c_int, ctypes.c_char_p, ctypes.c_uint)
    return call  # type: ignore[no-any-return]  # ctypes gives functions of a library no type


@cache
def _library_call(name: str) -> Any:
    """A function of the system's C library that Python has no name for, or None."""
    import ctypes

    try:
        return getattr(ctypes.CDLL(None, use_errno=True), name)
    except (AttributeError, OSError, TypeError):
        return None


if sys.platform == "win32":
    import msvcrt

    _FAR = 1 << 30  # a locked byte cannot be read by others there, and the holder's number stands at the front

    def try_lock(file: int) -> bool:
        """Take an open file for this process; False if another has it. The system frees it when the process ends."""
        os.lseek(file, _FAR, os.SEEK_SET)
        try:
            msvcrt.locking(file, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

    def unlock(file: int) -> None:
        """Give a taken file back."""
        os.lseek(file, _FAR, os.SEEK_SET)
        msvcrt.locking(file, msvcrt.LK_UNLCK, 1)

    def machine_mark() -> str:
        """What the system itself calls this computer, or "" if it does not say."""
        import winreg

        try:
            with winreg.OpenKey(winreg.HKEY_LOCAL_MACHINE, r"SOFTWARE\Microsoft\Cryptography") as key:
                return str(winreg.QueryValueEx(key, "MachineGuid")[0])
        except OSError:
            return ""

else:
    import fcntl
    from pathlib import Path

    def try_lock(file: int) -> bool:
        """Take an open file for this process; False if another has it. The system frees it when the process ends."""
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True

    def unlock(file: int) -> None:
        """Give a taken file back."""
        fcntl.flock(file, fcntl.LOCK_UN)

    def machine_mark() -> str:
        """What the system itself calls this computer, or "" if it does not say (a Mac has no such file)."""
        try:
            return Path("/etc/machine-id").read_text(encoding="utf-8").strip()
        except (OSError, ValueError):
            return ""
