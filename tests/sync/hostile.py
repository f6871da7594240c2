"""A peer that keeps to no rule: git objects, packs and bundles made by hand, without any of our code.

Format: git's documentation, gitformat-pack, gitformat-bundle and git-commit-tree.
"""

import hashlib
import json
import struct
import zlib
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

COMMIT, TREE, BLOB, TAG, OFFSET_DELTA, REF_DELTA = 1, 2, 3, 4, 6, 7
_WORDS = {COMMIT: b"commit", TREE: b"tree", BLOB: b"blob", TAG: b"tag"}
FILE, FOLDER, LINK, MODULE = b"100644", b"40000", b"120000", b"160000"
CARD = b"Plum Jam\nfrom: Ilse\n\nIngredients\n  2 cups plums\n  1 cup sugar\n\nMethod\n  1. Boil plums and sugar.\n"


def name_of(kind: int, data: bytes) -> str:
    """Git's id of an object."""
    return hashlib.sha1(_WORDS[kind] + b" %d\0" % len(data) + data).hexdigest()


def entry(kind: int, said: int, body: bytes, base: bytes = b"") -> bytes:
    """A pack's entry that says it inflates to `said` bytes; `base` stands before the deflated body."""
    byte = kind << 4 | said & 15
    said >>= 4
    head = bytearray()
    while said:
        head.append(byte | 128)
        byte = said & 127
        said >>= 7
    return bytes(head) + bytes([byte]) + base + zlib.compress(body, 9)


def pack(entries: Sequence[bytes], said: int | None = None) -> bytes:
    """A pack with these entries that says it has `said` of them, and a true check sum."""
    whole = b"PACK" + struct.pack(">II", 2, len(entries) if said is None else said) + b"".join(entries)
    return whole + hashlib.sha1(whole).digest()


def varint(number: int) -> bytes:
    """A delta's number."""
    made = bytearray()
    while number > 127:
        made.append(number & 127 | 128)
        number >>= 7
    return bytes([*made, number])


def copy(length: int) -> bytes:
    """A delta's instruction to copy from the base's beginning."""
    return bytes([128 | 16 | 32 | 64, length & 255, length >> 8 & 255, length >> 16 & 255])


def bundle(refs: Sequence[tuple[str, str]], packed: bytes, without: Sequence[str] = ()) -> bytes:
    """A bundle that names refs (name, id)."""
    lines = [f"-{commit} \n" for commit in without] + [f"{commit} {name}\n" for name, commit in refs]
    return b"# v2 git bundle\n" + "".join(lines).encode() + b"\n" + packed


@dataclass
class Peer:
    """One laptop that somebody else made: its id, the state it builds on, and the objects it has made."""

    laptop: str
    base: str
    base_entries: list[tuple[bytes, bytes, str]]
    name: str = ""
    objects: list[tuple[int, bytes]] = field(default_factory=list)

    def put(self, kind: int, data: bytes) -> str:
        self.objects.append((kind, data))
        return name_of(kind, data)

    def blob(self, data: bytes = CARD) -> str:
        return self.put(BLOB, data)

    def tree(self, entries: Sequence[tuple[bytes, bytes, str]]) -> str:
        """A folder with its entries as they come, however wrong."""
        return self.put(TREE, b"".join(mode + b" " + name + b"\0" + bytes.fromhex(i) for mode, name, i in entries))

    def commit(self, tree: str, **other: Any) -> str:
        """A state; `other` changes a part of it."""
        facts = {"laptop": {"id": self.laptop, "name": self.name or self.laptop}, "moves": [], "rule": 1}
        parts: dict[str, Any] = {
            "parents": [self.base],
            "author": "Ilse <ilse> 1700000000 +0000",
            "step": 2,
            "message": f"Edited by hand\n\n\nrecipebox:\n{json.dumps({**facts, **other.pop('facts', {})})}\n",
            "head": None,
        }
        parts.update(other)
        head = parts["head"]
        if head is None:
            lines = [f"tree {tree}", *(f"parent {parent}" for parent in parts["parents"])]
            lines += [f"author {parts['author']}", f"committer recipebox <recipebox> {parts['step']} +0000"]
            head = "\n".join(lines)
        return self.put(COMMIT, head.encode() + b"\n\n" + parts["message"].encode())

    def adds(self, *entries: tuple[bytes, bytes, str], **other: Any) -> str:
        """A state that has the base's files and these."""
        return self.commit(self.tree([*self.base_entries, *entries]), **other)

    def packed(self) -> bytes:
        return pack([entry(kind, len(data), data) for kind, data in self.objects])

    def ref(self) -> str:
        return f"refs/laptops/{self.laptop}/own"


def leave(box: Path, laptop: str, data: bytes, number: int = 1, named: str | None = None) -> Path:
    """Put a file into a laptop's corner of a box at a folder, under the hash of what it holds."""
    corner = box / laptop
    corner.mkdir(exist_ok=True)
    sha = hashlib.sha256(data).hexdigest()
    file = corner / (named or f"{number:06d}-{{}}.bundle").format(sha)
    file.write_bytes(data)
    return file
