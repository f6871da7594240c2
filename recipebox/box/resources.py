"""Where `schema/` and `sample_box/` lie: within the package when installed, beside it in a checkout."""

import shutil
from pathlib import Path

import recipebox
from recipebox.box.errors import BoxError, not_written


def schema(name: str) -> Path:
    """A file of `schema/` ("index.sql"). Raises BoxError if the installation lacks it."""
    return _packaged(f"schema/{name}")


def sample_box() -> Path:
    """The folder of the invented family's box. Raises BoxError if the installation lacks it."""
    return _packaged("sample_box")


def copy_sample_box(to: Path) -> None:
    """Copy the invented family's cards to a new folder. Raises NotWrittenError, or BoxError if the folder exists."""
    source = sample_box()
    if to.exists():
        raise BoxError("is there already", str(to), "name a folder that is not")
    try:
        shutil.copytree(source, to, ignore=shutil.ignore_patterns(".*"))
    except OSError as error:
        raise not_written(error, str(to)) from error


def _packaged(name: str) -> Path:
    package = Path(recipebox.__file__).parent
    for place in (package, package.parent):
        if (place / name).exists():
            return place / name
    raise BoxError(f"{name} is missing from this installation", do="install recipebox anew")
