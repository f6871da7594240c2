"""A way to type commands in tests, and answers checked against their schemas."""

import json
import shutil
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Protocol

import pytest
from jsonschema import Draft202012Validator
from referencing import Registry, Resource

SCHEMAS = {
    path.name: json.loads(path.read_text(encoding="utf-8"))
    for path in (Path(__file__).parents[2] / "schema").glob("*.schema.json")
}
REGISTRY: Registry[Any] = Registry().with_resources(
    [(name, Resource.from_contents(schema)) for name, schema in SCHEMAS.items()]
)


@dataclass(frozen=True)
class Answer:
    """What a command gave back."""

    code: int
    out: str
    err: str

    @property
    def data(self) -> Any:
        return json.loads(self.out)

    @property
    def lines(self) -> list[Any]:
        return [json.loads(line) for line in self.out.splitlines()]


class Type(Protocol):
    """Type a command as a person would."""

    def __call__(self, *words: str) -> Answer: ...


def valid(data: Any, shape: str) -> Any:
    """The data, once it is of the shape that its schema gives; otherwise the test fails with the first fault."""
    Draft202012Validator(SCHEMAS[f"{shape}.schema.json"], registry=REGISTRY).validate(data)
    return data


@pytest.fixture
def recipebox(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Type:
    """The command line in this process, with its exit code and both outputs."""
    from recipebox.cli.app import main

    def type_command(*words: str) -> Answer:
        monkeypatch.setattr(sys, "argv", ["recipebox", *words])
        code = 0
        try:
            main()
        except SystemExit as ended:
            code = ended.code if isinstance(ended.code, int) else 0 if ended.code is None else 1
        heard = capsys.readouterr()
        return Answer(code, heard.out, heard.err)

    return type_command


@pytest.fixture
def box(tmp_path: Path, sample_box: Path, recipebox: Type, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the invented family's folder, made a box, and the folder we are in."""
    root = tmp_path / "box"
    shutil.copytree(sample_box, root)
    assert recipebox("start", str(root), "--laptop", "kitchen").code == 0
    monkeypatch.chdir(root)
    return root
