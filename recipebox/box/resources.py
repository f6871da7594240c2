"""Where `schema/` and `sample_box/` lie: within the package when installed, beside it in a checkout."""

from pathlib import Path

import recipebox
from recipebox.box.errors import BoxError


def schema(name: str) -> Path:
    """A file of `schema/` ("index.sql"). Raises BoxError if the installation lacks it."""
    return _packaged(f"schema/{name}")


def sample_box() -> Path:
    """The folder of the invented family's box. Raises BoxError if the installation lacks it."""
    return _packaged("sample_box")


def _packaged(name: str) -> Path:
    package = Path(recipebox.__file__).parent
    for place in (package, package.parent):
        if (place / name).exists():
            return place / name
    raise BoxError(f"{name} is missing from this installation", do="install recipebox anew")
