"""Packs and bundles, with libgit2's own packs and git's command as witnesses."""

import hashlib
from pathlib import Path

import pygit2
import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.history import object_name
from recipebox.sync.entries import BLOB, DamagedError
from recipebox.sync.pack import Pack


def _packed(folder: Path, blobs: list[bytes]) -> tuple[bytes, dict[str, bytes]]:
    """libgit2's own pack of these blobs, and the blobs by id."""
    repository = pygit2.init_repository(str(folder / "repository"), bare=True)
    ids = {str(repository.create_blob(blob)): blob for blob in blobs}
    builder = pygit2.PackBuilder(repository)
    for object_id in ids:
        builder.add(pygit2.Oid(hex=object_id))
    builder.write(str(folder))
    return next(folder.glob("*.pack")).read_bytes(), ids


@pytest.fixture(scope="module")
def packed(tmp_path_factory: pytest.TempPathFactory) -> tuple[bytes, dict[str, bytes], bytes]:
    """A pack of long alike texts, so that it holds deltas, and the index libgit2 made for it."""
    lines = [f"{hashlib.sha256(str(n).encode()).hexdigest()} a line of a card\n".encode() for n in range(60)]
    blobs = [b"".join(lines[:n]) + b"end %d" % n for n in range(20, 60)] + [b"", b"x"]
    folder = tmp_path_factory.mktemp("pack")
    data, ids = _packed(folder, blobs)
    return data, ids, next(folder.glob("*.idx")).read_bytes()


def test_what_libgit2_packs_we_read(packed: tuple[bytes, dict[str, bytes], bytes]) -> None:
    """Every object of a pack with deltas comes out as it went in, under git's own id."""
    data, ids, _ = packed
    pack = Pack(data, lambda object_id: None)
    assert {object_id: pack.object(object_id) for object_id in pack} == {i: (BLOB, b) for i, b in ids.items()}
    assert len(data) < sum(map(len, ids.values())) / 3  # it does hold deltas


def test_our_index_is_git_s_own(packed: tuple[bytes, dict[str, bytes], bytes]) -> None:
    """The index we make of a pack is byte for byte the one libgit2 makes."""
    data, _, index = packed
    assert Pack(data, lambda object_id: None).index() == index


@given(at=st.integers(0, 10_000), bit=st.integers(0, 7), mend=st.booleans())
def test_a_flipped_bit_is_damage_or_no_matter(
    packed: tuple[bytes, dict[str, bytes], bytes], at: int, bit: int, mend: bool
) -> None:
    """A pack with one bit flipped raises DamagedError; with its check sum made right, never anything else."""
    damaged = bytearray(packed[0])
    damaged[at % len(damaged)] ^= 1 << bit
    if mend:
        damaged[-20:] = hashlib.sha1(damaged[:-20]).digest()
        try:
            pack = Pack(bytes(damaged), lambda object_id: None)
        except DamagedError:
            return
        assert all(object_name(*pack.object(object_id)) == object_id for object_id in pack)
    else:
        with pytest.raises(DamagedError):
            Pack(bytes(damaged), lambda object_id: None)


@given(data=st.binary(max_size=200), mend=st.booleans())
def test_any_bytes_raise_only_damage(data: bytes, mend: bool) -> None:
    """No bytes whatever make reading fail in another way."""
    whole = b"PACK\0\0\0\2\0\0\0\3" + data
    with pytest.raises(DamagedError):
        Pack(whole + hashlib.sha1(whole).digest() if mend else data, lambda object_id: None)


def test_a_bomb_is_refused_before_it_goes_off() -> None:
    """An object that says it is larger than may be carried, or is larger than it says, is refused."""
    import zlib

    def of(kind: int, size: int, body: bytes) -> bytes:
        head = bytearray([kind << 4 | size & 15])
        size >>= 4
        while size:
            head[-1] |= 128
            head.append(size & 127)
            size >>= 7
        whole = b"PACK\0\0\0\2\0\0\0\1" + bytes(head) + zlib.compress(body)
        return whole + hashlib.sha1(whole).digest()

    assert len(Pack(of(BLOB, 1000, b"0" * 1000), lambda object_id: None)) == 1
    for said, is_really in ((10, 50_000_000), (40_000_000, 10), (1001, 1000), (999, 1000)):
        with pytest.raises(DamagedError):
            Pack(of(BLOB, said, b"0" * is_really), lambda object_id: None)
