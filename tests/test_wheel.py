"""The wheel that people install is whole."""

import json
import os
import subprocess
import sys
import venv
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent

LOOK = """
import json
import sys
from pathlib import Path
import recipebox
from recipebox.box import sample_box, schema
from recipebox.tables.load import rows
package = Path(recipebox.__file__).parent
assert package.is_relative_to(sys.prefix), package
assert schema("index.sql").is_relative_to(package)
assert "CREATE TABLE" in schema("index.sql").read_text()
assert sample_box().is_relative_to(package)
print(json.dumps(sorted(file.stem for file in (package / "tables").glob("*.csv") if rows(file.stem))))
cards = (file for file in sample_box().rglob("*") if file.is_file())
print(json.dumps(sorted(file.relative_to(sample_box()).as_posix() for file in cards)))
print(json.dumps(sorted(file.name for file in schema("index.sql").parent.iterdir())))
"""


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The Python of a new environment that has the wheel, and sees the dependencies of the one the tests run in."""
    for needed in ("build", "hatchling"):
        pytest.importorskip(needed, reason=f"{needed} is not installed")
    folder = tmp_path_factory.mktemp("wheel")
    build = [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(folder), str(ROOT)]
    done = subprocess.run(build, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
    (wheel,) = folder.glob("*.whl")
    venv.create(folder / "env", with_pip=False)
    python = folder / "env" / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    ask = [str(python), "-c", "import sysconfig; print(sysconfig.get_path('purelib'))"]
    own = Path(subprocess.run(ask, capture_output=True, text=True, check=True).stdout.strip())
    pip = [sys.executable, "-m", "pip", "--python", str(python), "install", "--no-deps", "--no-index", "-q", str(wheel)]
    done = subprocess.run(pip, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
    # Only the folders of dependencies: an editable install's finder stands in a .pth file and is not run from here.
    others = [entry for entry in sys.path if entry.endswith(("site-packages", "dist-packages"))]
    (own / "others.pth").write_text("\n".join(others) + "\n")
    return python


def test_tables_schema_and_sample_box_are_in_it(installed: Path, tmp_path: Path) -> None:
    """Every table, schema and card of the checkout is in the wheel and is found from an installed recipebox."""
    env = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
    done = subprocess.run([str(installed), "-c", LOOK], capture_output=True, text=True, cwd=tmp_path, env=env)
    assert done.returncode == 0, done.stderr
    tables, cards, schemas = map(json.loads, done.stdout.splitlines())
    assert tables == sorted(file.stem for file in (ROOT / "recipebox" / "tables").glob("*.csv"))
    sample = ROOT / "sample_box"
    assert set(cards) >= {
        f.relative_to(sample).as_posix() for f in sample.rglob("*.txt") if ".recipebox" not in f.parts
    }
    assert len(cards) > 10
    assert schemas == sorted(file.name for file in (ROOT / "schema").iterdir())


def test_its_command_starts(installed: Path, tmp_path: Path) -> None:
    """The installed command explains itself."""
    command = installed.with_name("recipebox" + (".exe" if os.name == "nt" else ""))
    env = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
    done = subprocess.run([str(command), "--help"], capture_output=True, text=True, cwd=tmp_path, env=env)
    assert done.returncode == 0, done.stderr
    assert "find" in done.stdout
