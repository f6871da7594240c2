"""Open what others sent in a process of its own, with bounds on its time and memory, so that nothing in a mail, page
or document can hold up or harm the box. Run as a program, this is that process."""

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import recipebox
from recipebox.gather.piece import GatherError, Piece, piece_from_data

SECONDS = 30
MEMORY = 1 << 30  # bytes of addresses; the libraries alone need a quarter of it


def open_apart(data: bytes, name: str) -> list[Piece]:
    """The pieces of what was sent, as `recipebox.gather.unpack.unpack` gives them.

    Raises GatherError where it says so, and when opening takes over 30 s or 1 GB, or fails in the libraries.
    """
    # -P: the folder we are in may be a box, and a file that came from elsewhere is never run as a module.
    command = [sys.executable, "-P", "-m", "recipebox.gather.apart", name]
    paths = [str(Path(recipebox.__file__).parent.parent), *os.environ.get("PYTHONPATH", "").split(os.pathsep)]
    env = {**os.environ, "PYTHONPATH": os.pathsep.join(path for path in paths if Path(path).is_absolute())}
    try:
        done = subprocess.run(command, input=data, capture_output=True, timeout=SECONDS, env=env, check=False)
    except subprocess.TimeoutExpired as error:
        raise GatherError(
            f"opening it takes more than {SECONDS} s; copy the recipe into a text file and add that"
        ) from error
    except OSError as error:
        raise GatherError(f"it could not be opened: {error.strerror}; try again") from error
    if done.returncode != 0:
        raise GatherError(_why(done.returncode, done.stderr.decode("utf-8", "replace")))
    answer = json.loads(done.stdout)
    if "error" in answer:
        raise GatherError(answer["error"])
    return [piece_from_data(piece) for piece in answer["pieces"]]


def _why(code: int, heard: str) -> str:
    last = heard.strip().splitlines()[-1] if heard.strip() else ""
    if "RecursionError" in last:
        return "it is nested too deep to be a recipe; copy the recipe into a text file and add that"
    if "MemoryError" in last or "bad_alloc" in heard or code < 0:
        return "opening it takes too much time or memory; copy the recipe into a text file and add that"
    if os.environ.get("RECIPEBOX_TRACE"):
        print(heard, file=sys.stderr)
    return "it is damaged, or not what its name says; open it yourself, copy the recipe into a text file and add that"


def _bound() -> None:
    try:
        import resource
    except ImportError:  # Windows has no such limits: there the time alone is bounded
        return
    for limit, most in (
        (resource.RLIMIT_AS, MEMORY),
        (resource.RLIMIT_CPU, SECONDS),
        (resource.RLIMIT_FSIZE, 0),
        (resource.RLIMIT_CORE, 0),
    ):
        hard = resource.getrlimit(limit)[1]
        least = most if hard == resource.RLIM_INFINITY else min(most, hard)
        resource.setrlimit(limit, (least, least))


def _main() -> None:
    _bound()
    from recipebox.gather.unpack import unpack

    try:
        answer: dict[str, Any] = {"pieces": [piece.data() for piece in unpack(sys.stdin.buffer.read(), sys.argv[1])]}
    except GatherError as error:
        answer = {"error": str(error)}
    sys.stdout.buffer.write(json.dumps(answer).encode("ascii"))


if __name__ == "__main__":
    _main()
