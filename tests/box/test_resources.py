"""Finding what is packaged."""

from pathlib import Path

import pytest

from recipebox.box import BoxError, copy_sample_box, sample_box, schema


def test_schema_and_sample_box_are_found() -> None:
    """The index's schema and the invented family's box are found from a checkout."""
    assert schema("index.sql").is_file()
    assert sample_box().is_dir()


def test_what_is_missing_is_one_line() -> None:
    """A file that no installation has is told as such."""
    with pytest.raises(BoxError, match=r"none.sql is missing"):
        schema("none.sql")


def test_the_sample_box_is_copied_once(tmp_path: Path) -> None:
    """A copy has the same files, and never goes over a folder that is there."""
    copy_sample_box(tmp_path / "copy")
    ours = {file.relative_to(sample_box()) for file in sample_box().rglob("*") if not file.name.startswith(".")}
    assert {file.relative_to(tmp_path / "copy") for file in (tmp_path / "copy").rglob("*")} == ours
    with pytest.raises(BoxError, match="there already"):
        copy_sample_box(tmp_path / "copy")
