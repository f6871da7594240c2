"""A git server on loopback for machines that meet thousands of times."""

import contextlib
import shutil
import socket
import subprocess
import time
from collections.abc import Iterator
from pathlib import Path


@contextlib.contextmanager
def served(folder: Path) -> Iterator[str | None]:
    """The address at which git's own daemon serves a folder; None where there is no such daemon."""
    git = shutil.which("git")
    said = subprocess.run([git, "--exec-path"], capture_output=True, text=True, check=False).stdout if git else ""
    program = Path(said.strip()) / "git-daemon"
    if not said or not program.exists():
        yield None
        return
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    where = [f"--port={port}", "--listen=127.0.0.1", f"--base-path={folder}"]
    # What it says goes nowhere: a pipe that nobody reads fills up, and then the daemon waits for ever.
    process = subprocess.Popen(
        [program, "--reuseaddr", *where, "--export-all", "--enable=receive-pack"],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        for _ in range(200):
            with contextlib.suppress(OSError), socket.create_connection(("127.0.0.1", port), 1):
                break
            time.sleep(0.02)
        yield f"git://127.0.0.1:{port}" if process.poll() is None else None
    finally:
        process.terminate()
        process.wait(10)
