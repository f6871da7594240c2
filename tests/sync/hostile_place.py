"""Where one laptop meets hostile ones, and syncs in a child process that may have so much memory and no more."""

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

from tests.sync import hostile
from tests.sync.hostile import CARD, FILE, FOLDER, Peer

MEMORY = 640 << 20  # of which Python with all rooms takes about 100
SECONDS = 900

CHILD = """
import json, resource, sys
root, place, out, memory, seconds = sys.argv[1], sys.argv[2], sys.argv[3], int(sys.argv[4]), int(sys.argv[5])
resource.setrlimit(resource.RLIMIT_DATA, (memory, memory))
resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))
from pathlib import Path
from recipebox.box import find
from recipebox.sync import meet, outcome_data
said = []
outcome = meet(find(Path(root)), place, say=said.append)
peak = resource.getrusage(resource.RUSAGE_SELF)
data = {**outcome_data(outcome), "exit": outcome.exit_code, "said": said, "seconds": peak.ru_utime + peak.ru_stime,
        "megabytes": int(Path("/proc/self/status").read_text().split("VmHWM:")[1].split()[0]) >> 10}
Path(out).write_text(json.dumps(data))
"""


class Harm:
    """Where one laptop meets very many hostile ones and a good one; `server`: at a git server, else in a folder."""

    def __init__(self, folder: Path, server: bool) -> None:
        import pygit2

        from recipebox.box import create
        from recipebox.history import open_history
        from recipebox.sync import meet

        self.folder, self.server = folder, server
        self.place = folder / "place"
        self.bare = folder / "served" / "box.git"
        self.box = create(folder / "home" / "box", "kitchen")
        (self.box.root / "pies").mkdir()
        (self.box.root / "pies" / "leek.txt").write_bytes(CARD.replace(b"Plum Jam", b"Leek Pie"))
        self.place.mkdir()
        meet(self.box, str(self.place))
        self.base = open_history(self.box).own or ""
        self.corners = self.place / "recipebox" / self.box.box_id
        own = pygit2.Repository(str(self.box.hidden / "history"))
        tree = own[self.base].peel(pygit2.Tree)
        self.entries = [
            (FOLDER if entry.filemode == 0o40000 else FILE, entry.raw_name, str(entry.id)) for entry in tree
        ]
        if server:
            self.git("init", "--bare", "-q", "-b", "main", str(self.bare))
            [full] = self.corners.rglob("*.bundle")
            self.git("fetch", "-q", str(full), "+refs/laptops/*:refs/keep/*")
            self.git("tag", f"box-{self.box.box_id}", self.base)
            self.git("update-ref", f"refs/heads/laptops/{self.box.laptop_id}/own", self.base)

    def git(self, *words: str, data: bytes | None = None) -> None:
        where = () if words[0] == "init" else ("-C", str(self.bare))
        settings = {**os.environ, "GIT_CONFIG_NOSYSTEM": "1", "GIT_CONFIG_GLOBAL": os.devnull}
        subprocess.run(["git", *where, *words], input=data, check=True, capture_output=True, env=settings)

    def peer(self, number: int, name: str) -> Peer:
        return Peer(f"{number:04x}aaaa", self.base, list(self.entries), name)

    def leave(self, peer: Peer, commit: str, number: int = 1) -> None:
        if not self.server:
            hostile.leave(self.corners, peer.laptop, hostile.bundle([(peer.ref(), commit)], peer.packed()), number)
            return
        self.git("unpack-objects", "-q", data=peer.packed()) if len(peer.objects) < 100 else self._index(peer)
        file = self.bare / "refs/heads/laptops" / peer.laptop / "own"  # git itself would not let a branch name a file
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(commit + "\n")

    def _index(self, peer: Peer) -> None:
        self.git("index-pack", "--stdin", data=peer.packed())

    def sync(self, address: str) -> dict[str, Any]:
        """The laptop's sync in a child process with so much memory; what it came to."""
        out = self.folder / "outcome.json"
        out.unlink(missing_ok=True)
        command = [sys.executable, "-c", CHILD, str(self.box.root), address, str(out), str(MEMORY), str(SECONDS)]
        done = subprocess.run(command, capture_output=True, text=True, check=False)
        assert out.exists(), done.stderr[-2000:]
        assert done.stderr == ""
        return json.loads(out.read_text())  # type: ignore[no-any-return]

    def outside(self) -> dict[str, str]:
        """Everything that is not in the box, the laptop's own corner aside."""
        found = {}
        for file in sorted(self.folder.rglob("*")):
            path = file.relative_to(self.folder).as_posix()
            mine = (f"place/recipebox/{self.box.box_id}/{self.box.laptop_id}", "outcome.json", "served/", "home/box/")
            if not any(part in path for part in mine):
                found[path] = f"{file.lstat().st_mode:o} {file.lstat().st_size}"
        return found

    def inside(self) -> dict[str, Path]:
        return {
            file.relative_to(self.box.root).as_posix(): file
            for file in self.box.root.rglob("*")
            if not file.is_relative_to(self.box.hidden)
        }
