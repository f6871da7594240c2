"""A git server that keeps to no rule: a sync ends, within its memory and time, with one line that says why."""

import contextlib
import socket
import socketserver
import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.sync.hostile_place import Harm

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="limits of a child process are set as on Unix")


@pytest.fixture
def harm(tmp_path: Path) -> Harm:
    """A laptop that has left its box in a folder."""
    return Harm(tmp_path, server=False)


class Talker(socketserver.BaseRequestHandler):
    """A git server that says what it likes, for as long as anybody listens."""

    def handle(self) -> None:
        self.request.recv(1_000)
        with contextlib.suppress(OSError):
            for said in self.server.says():  # type: ignore[attr-defined]
                self.request.sendall(said)
            self.request.shutdown(socket.SHUT_WR)
            while self.request.recv(1 << 16):
                pass


def line(words: bytes) -> bytes:
    return b"%04x" % (len(words) + 4) + words


def greeting(box: str, commit: str) -> bytes:
    able = b"\0side-band-64k ofs-delta"
    refs = [
        line(f"{commit} refs/heads/laptops/0001aaaa/own".encode() + able),
        line(f"{commit} refs/tags/{box}".encode()),
    ]
    return b"".join([*refs, b"0000"])


def forever(*said: bytes) -> Iterator[bytes]:
    yield from said[:-1]
    while True:
        yield said[-1]


TALKS: dict[str, tuple[Callable[[str], Iterator[bytes]], str]] = {
    "refs": (lambda box: forever(line(b"2" * 40 + b" refs/heads/x" + b"y" * 60_000)), "more branches"),
    "words": (lambda box: forever(line(b"hello " * 1_000)), "more branches"),
    "progress": (lambda box: forever(greeting(box, "2" * 40), line(b"\2" + b"x" * 60_000)), "broke off"),
    "naks": (lambda box: forever(greeting(box, "2" * 40), line(b"NAK\n") * 5_000), "broke off"),
    "nonsense": (lambda box: iter([b"HTTP/1.1 200 OK\r\n\r\n"]), "broke off"),
    "silence": (lambda box: iter([]), "broke off"),
    "half": (lambda box: iter([greeting(box, "2" * 40)[:-30]]), "broke off"),
    "half-pack": (lambda box: iter([greeting(box, "2" * 40), line(b"NAK\n"), line(b"\1PACK\0\0\0\2")]), "broke off"),
    "noise": (
        lambda box: iter([greeting(box, "2" * 40), line(b"NAK\n"), line(b"\1" + b"x" * 60_000) * 900, b"0000"]),
        "broke off",
    ),
    "shouts": (lambda box: iter([line(b"ERR \x1b[2J" + b"go away " * 5_000)]), "go away"),
}


@pytest.mark.parametrize("name", TALKS)
def test_a_server_that_keeps_to_no_rule_is_one_clear_line(harm: Harm, name: str) -> None:
    """Endless refs, endless words, noise, silence: the sync ends, within its memory, with one line that says why."""
    says, why = TALKS[name]
    with socketserver.ThreadingTCPServer(("127.0.0.1", 0), Talker) as server:
        server.daemon_threads = True
        server.says = lambda: says(f"box-{harm.box.box_id}")  # type: ignore[attr-defined]
        thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02}, daemon=True)
        thread.start()
        try:
            outcome = harm.sync(f"git://127.0.0.1:{server.server_address[1]}/box.git")
        finally:
            server.shutdown()
            thread.join()
    [place] = outcome["places"]
    assert place["state"] in ("refused", "not there")
    assert why in place["why"]
    assert place["why"].isprintable()
    assert len(place["why"]) < 300
    assert (outcome["came"], outcome["went"]) == ([], [])
