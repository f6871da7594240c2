"""Finding what is packaged."""

import pytest

from recipebox.box import BoxError, sample_box, schema


def test_schema_and_sample_box_are_found() -> None:
    """The index's schema and the invented family's box are found from a checkout."""
    assert schema("index.sql").is_file()
    assert sample_box().is_dir()


def test_what_is_missing_is_one_line() -> None:
    """A file that no installation has is told as such."""
    with pytest.raises(BoxError, match=r"none.sql is missing"):
        schema("none.sql")
