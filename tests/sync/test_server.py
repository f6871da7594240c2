"""Git servers on loopback: git's daemon, git's web server and OpenSSH's; stock git is the witness."""

import base64
import contextlib
import getpass
import http.server
import os
import shutil
import socket
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from recipebox.sync import boxes_in

GIT = shutil.which("git")
SSHD = shutil.which("sshd") or shutil.which("sshd", path="/usr/sbin:/usr/local/sbin")

pytestmark = pytest.mark.skipif(GIT is None, reason="no git command to serve with and to be the witness")


@pytest.fixture(autouse=True)
def own_settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """No settings of whoever runs the tests count."""
    home = tmp_path / "home"
    home.mkdir()
    for name in ("GIT_SSH_COMMAND", "GIT_SSH", "GIT_ASKPASS", "SSH_ASKPASS", "http_proxy", "https_proxy", "all_proxy"):
        monkeypatch.delenv(name, raising=False)
        monkeypatch.delenv(name.upper(), raising=False)
    monkeypatch.setenv("no_proxy", "127.0.0.1")
    monkeypatch.setenv("GIT_CONFIG_NOSYSTEM", "1")
    monkeypatch.setenv("GIT_CONFIG_GLOBAL", str(home / "gitconfig"))
    return home


@pytest.fixture
def bare(tmp_path: Path) -> Path:
    """An empty repository on the server, in a folder of its own."""
    repository = tmp_path / "served" / "box.git"
    git("init", "--bare", "-q", "-b", "main", str(repository))
    git("-C", str(repository), "config", "http.receivepack", "true")
    return repository


def git(*words: str, check: bool = True) -> str:
    done = subprocess.run(["git", *words], check=check, capture_output=True, text=True)
    return done.stdout


def free_port() -> int:
    with socket.socket() as tried:
        tried.bind(("127.0.0.1", 0))
        return int(tried.getsockname()[1])


@contextlib.contextmanager
def running(command: list[str], port: int) -> Iterator[None]:
    """A server process, once it listens. What it says goes into a file: an unread pipe fills up, and then it waits."""
    with tempfile.TemporaryFile() as said:
        process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=said)
        try:
            for _ in range(200):
                with contextlib.suppress(OSError), socket.create_connection(("127.0.0.1", port), 1):
                    break
                if process.poll() is not None:
                    said.seek(0)
                    pytest.skip(f"{command[0]} does not run here: {said.read(200).decode(errors='replace')}")
                time.sleep(0.02)
            yield
        finally:
            process.terminate()
            process.wait(10)


@contextlib.contextmanager
def daemon(folder: Path) -> Iterator[str]:
    """git's own daemon."""
    port = free_port()
    said = git("--exec-path").strip()
    if not (Path(said) / "git-daemon").exists():
        pytest.skip("git has no daemon here")
    command = [
        f"{said}/git-daemon",
        "--reuseaddr",
        "--listen=127.0.0.1",
        f"--port={port}",
        f"--base-path={folder}",
        "--export-all",
        "--enable=receive-pack",
    ]
    with running(command, port):
        yield f"git://127.0.0.1:{port}"


class Web(http.server.BaseHTTPRequestHandler):
    """Runs `git http-backend` for each request, as any web server does (RFC 3875, CGI)."""

    folder: Path
    login: str | None = None
    sends_on_to: str | None = None
    protocol_version = "HTTP/1.1"

    def do_GET(self) -> None:
        self.answer()

    def do_POST(self) -> None:
        self.answer()

    def answer(self) -> None:
        path, _, query = self.path.partition("?")
        body = self.rfile.read(int(self.headers.get("Content-Length") or 0))
        if self.sends_on_to and path.startswith("/old/"):
            self.reply(301, {"Location": self.sends_on_to + self.path.removeprefix("/old")}, b"")
            return
        if (
            self.login
            and self.headers.get("Authorization") != f"Basic {base64.b64encode(self.login.encode()).decode()}"
        ):
            self.reply(401, {"WWW-Authenticate": 'Basic realm="boxes"'}, b"who are you?")
            return
        done = subprocess.run(
            ["git", "http-backend"],
            input=body,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            check=False,
            env={
                **os.environ,
                "GIT_PROJECT_ROOT": str(self.folder),
                "GIT_HTTP_EXPORT_ALL": "1",
                "PATH_INFO": path,
                "QUERY_STRING": query,
                "REQUEST_METHOD": self.command,
                "CONTENT_TYPE": self.headers.get("Content-Type") or "",
                "CONTENT_LENGTH": str(len(body)),
                "REMOTE_USER": "cook",
            },
        ).stdout
        head, _, content = done.partition(b"\r\n\r\n")
        headers = dict(line.split(": ", 1) for line in head.decode().split("\r\n") if ": " in line)
        self.reply(int(headers.pop("Status", "200").split()[0]), headers, content)

    def reply(self, status: int, headers: dict[str, str], content: bytes) -> None:
        self.send_response(status)
        for name, value in headers.items():
            self.send_header(name, value)
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        self.wfile.write(content)

    def log_message(self, *args: Any) -> None:
        return


@contextlib.contextmanager
def web(folder: Path, login: str | None = None) -> Iterator[str]:
    """A web server that hands everything to git."""
    handler = type("Here", (Web,), {"folder": folder, "login": login})
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler)
    address = f"http://127.0.0.1:{server.server_address[1]}"
    handler.sends_on_to = address
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02}, daemon=True)
    thread.start()
    try:
        yield address
    finally:
        server.shutdown()
        server.server_close()
        thread.join()


@contextlib.contextmanager
def ssh_server(folder: Path, keys: Path, monkeypatch: pytest.MonkeyPatch, known: bool = True) -> Iterator[str]:
    """OpenSSH's server with keys of its own, and the user's ssh set up to know it."""
    if SSHD is None or shutil.which("ssh-keygen") is None or shutil.which("ssh") is None:
        pytest.skip("no OpenSSH server on this computer")
    keys.mkdir(mode=0o700)
    port = free_port()
    for name in ("host", "user"):
        subprocess.run(["ssh-keygen", "-q", "-t", "ed25519", "-N", "", "-f", str(keys / name)], check=True)
    shutil.copy(keys / "user.pub", keys / "authorized")
    (keys / "sshd").write_text(
        f"Port {port}\nListenAddress 127.0.0.1\nHostKey {keys}/host\nPidFile none\nUsePAM no\nStrictModes no\n"
        f"AuthorizedKeysFile {keys}/authorized\nPasswordAuthentication no\nKbdInteractiveAuthentication no\n"
        "PermitRootLogin prohibit-password\n"
    )
    host_key = " ".join((keys / "host.pub").read_text().split()[:2])
    (keys / "known").write_text(f"[127.0.0.1]:{port} {host_key}\n" if known else "")
    (keys / "config").write_text(f"IdentityFile {keys}/user\nIdentitiesOnly yes\nUserKnownHostsFile {keys}/known\n")
    monkeypatch.setenv("GIT_SSH_COMMAND", f"ssh -F {keys}/config")
    if os.geteuid() == 0:  # where it parks what it does not trust; only root is asked for it
        Path("/run/sshd").mkdir(exist_ok=True)
    with running([SSHD, "-D", "-e", "-f", str(keys / "sshd")], port):
        yield f"ssh://{getpass.getuser()}@127.0.0.1:{port}{folder}"


@pytest.fixture(params=["daemon", "web", "ssh"])
def address(
    request: pytest.FixtureRequest, bare: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[str]:
    """The empty repository's address on each kind of server in turn."""
    servers = {
        "daemon": lambda: daemon(bare.parent),
        "web": lambda: web(bare.parent),
        "ssh": lambda: ssh_server(bare.parent, tmp_path / "keys", monkeypatch),
    }
    with servers[request.param]() as served:
        yield f"{served}/{bare.name}"


def test_three_laptops_meet_at_a_server(family: Any, same: Any, address: str, bare: Path, tmp_path: Path) -> None:
    """Three laptops sync through a real server; stock git finds the repository sound, its log readable, and the box."""
    first = family.start()
    assert first.sync(address).places[0].state == "met"
    second, third = family.join("study", address), family.join("attic", address)
    same(first, second, third)
    first.change("pies/leek.txt", "3 eggs", "4 eggs")
    second.change("pies/leek.txt", "1 cup milk", "2 cups milk")
    third.write("jam.txt", "Jam\n\n2 cups plums\n1 cup sugar\n\nBoil the plums with the sugar.\n")
    assert first.sync().went == ("pies/leek.txt",)
    outcome = second.sync()
    assert (outcome.came, outcome.went, outcome.exit_code) == (("pies/leek.txt",), ("pies/leek.txt",), 0)
    for laptop in (third, first, second, third):
        laptop.sync()
    same(first, second, third)
    assert "4 eggs" in third.read("pies/leek.txt")
    assert "2 cups milk" in third.read("pies/leek.txt")
    assert len({laptop.history.head for laptop in (first, second, third)}) == 1
    again = first.sync()
    assert (again.came, again.went) == ((), ())

    assert git("-C", str(bare), "fsck", "--strict", "--full", "--no-dangling") == ""
    log = git("-C", str(bare), "log", "--format=%an: %s", "main")
    assert {line.split(":")[0] for line in log.splitlines()} == {"kitchen", "study", "attic", "recipebox"}
    branches = git("-C", str(bare), "for-each-ref", "--format=%(refname:short)").split()
    own = {f"laptops/{laptop.box.laptop_id}/own" for laptop in (first, second, third)}
    assert set(branches) == own | {"main", f"box-{first.box.box_id}"}
    git("clone", "-q", str(bare), str(tmp_path / "clone"))
    shutil.rmtree(tmp_path / "clone/.git")
    found = [file for file in (tmp_path / "clone").rglob("*") if file.is_file()]
    assert {f.relative_to(tmp_path / "clone").as_posix(): f.read_bytes() for f in found} == first.files()


def test_a_laptop_brings_along_what_another_left_elsewhere(family: Any, same: Any, bare: Path) -> None:
    """A laptop that meets one at a stick and another at a server carries edits between them."""
    with daemon(bare.parent) as served:
        address = f"{served}/{bare.name}"
        first, second, third = family.three()
        second.sync(address)
        third.sync(address)
        first.change("pies/leek.txt", "3 eggs", "4 eggs")
        first.sync()
        second.sync()
        outcome = third.sync(address)
        assert outcome.came == ("pies/leek.txt",)
        branches = git("-C", str(bare), "for-each-ref", "--format=%(refname:short)").split()
        assert f"laptops/{second.box.laptop_id}/via/{first.box.laptop_id}" in branches
        same(first, second, third)


def test_a_password_comes_from_git_s_helper_only(family: Any, bare: Path, own_settings: Path) -> None:
    """A server that wants a password: git's credential helper gives it; without one a person is needed."""
    with web(bare.parent, "cook:sugar") as served:
        first = family.start()
        outcome = first.sync(f"{served}/{bare.name}")
        assert (outcome.places[0].state, outcome.exit_code) == ("refused", 3)
        assert "credential helper" in outcome.places[0].why
        git("config", "--global", "credential.helper", "!f() { echo username=cook; echo password=salt; }; f")
        assert "does not let you in" in first.sync(f"{served}/{bare.name}").places[0].why
        git("config", "--global", "credential.helper", "!f() { echo username=cook; echo password=sugar; }; f")
        assert first.sync(f"{served}/{bare.name}").exit_code == 0
        assert git("-C", str(bare), "log", "--format=%s", "main").strip() == "Edited by hand"
        assert "sugar" not in (first.box.hidden / "places").read_text()


def test_a_server_that_has_moved_is_followed(family: Any, bare: Path) -> None:
    """A web server that points elsewhere when greeted is followed there, for reading and for writing."""
    with web(bare.parent) as served:
        first = family.start()
        assert first.sync(f"{served}/old/{bare.name}").exit_code == 0
        assert len(boxes_in(f"{served}/{bare.name}")) == 1


def test_an_unknown_host_is_shown_and_not_trusted(
    family: Any, bare: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Off a terminal the key of a host that ssh does not know is named, nothing is sent, and a person is needed."""
    with ssh_server(bare.parent, tmp_path / "keys", monkeypatch, known=False) as served:
        outcome = family.start().sync(f"{served}/{bare.name}")
        mark = subprocess.run(["ssh-keygen", "-lf", str(tmp_path / "keys/host.pub")], check=True, capture_output=True)
        assert (outcome.places[0].state, outcome.exit_code) == ("refused", 3)
        assert mark.stdout.decode().split()[1] in outcome.places[0].why
        assert git("-C", str(bare), "for-each-ref") == ""
        assert (tmp_path / "keys/known").read_text() == ""


def test_a_host_with_another_key_than_before_is_refused(
    family: Any, bare: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A host whose key changed may be somebody in between: it is told, and nothing is sent."""
    with ssh_server(bare.parent, tmp_path / "keys", monkeypatch) as served:
        first = family.start()
        first.sync(f"{served}/{bare.name}")
        known = tmp_path / "keys/known"
        other = " ".join((tmp_path / "keys/user.pub").read_text().split()[:2])
        known.write_text(f"{known.read_text().split()[0]} {other}\n")
        outcome = first.sync()
        assert outcome.places[0].state == "refused"
        assert "another key than before" in outcome.places[0].why


def test_what_is_wrong_with_a_server_is_one_clear_line(
    family: Any, bare: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nobody there, no repository, not let in, something else there: each is said in words, in one line."""
    first = family.start()
    nobody = f"127.0.0.1:{free_port()}/box.git"
    for address in (f"git://{nobody}", f"http://{nobody}", f"ssh://{nobody}"):
        outcome = first.sync(address)
        assert (outcome.places[0].state, outcome.exit_code) == ("not there", 1)
        assert "cannot be reached" in outcome.places[0].why
    with daemon(bare.parent) as served, web(bare.parent) as http_served:
        assert "the server says" in first.sync(f"{served}/none.git").places[0].why
        assert "no repository" in first.sync(f"{http_served}/none.git").places[0].why
    with ssh_server(bare.parent, tmp_path / "keys", monkeypatch) as served:
        assert "no repository" in first.sync(f"{served}/none.git").places[0].why
        (tmp_path / "keys/authorized").write_text("")
        assert "does not let you in" in first.sync(f"{served}/{bare.name}").places[0].why
    with daemon(bare.parent) as served:
        git("init", "-q", str(tmp_path / "code"))
        who = ["-c", "user.name=x", "-c", "user.email=x@example.org"]
        git("-C", str(tmp_path / "code"), *who, "commit", "-q", "--allow-empty", "-m", "x")
        git("-C", str(tmp_path / "code"), "push", "-q", str(bare), "HEAD:refs/heads/main")
        outcome = first.sync(f"{served}/{bare.name}")
        assert "no recipe box" in outcome.places[0].why
        assert git("-C", str(bare), "log", "--format=%s", "main").strip() == "x"
    assert all("\n" not in place.why for place in outcome.places)


def test_a_refused_push_is_told(family: Any, bare: Path) -> None:
    """A server whose hook turns changes away is named, with its reason; nothing counts as sent."""
    hook = bare / "hooks/update"
    hook.parent.mkdir(exist_ok=True)
    hook.write_text("#!/bin/sh\nexit 1\n")
    hook.chmod(0o755)
    with daemon(bare.parent) as served:
        first = family.start()
        outcome = first.sync(f"{served}/{bare.name}")
        assert outcome.places[0].state == "refused"
        assert "hook declined" in outcome.places[0].why
        assert first.history.sent is None
        hook.unlink()
        assert first.sync(f"{served}/{bare.name}").exit_code == 0


def test_another_box_on_the_server_is_not_mixed_in(family: Any, same: Any, bare: Path) -> None:
    """A server that holds another box is told, with exit 3; --join makes them one."""
    with daemon(bare.parent) as served:
        address = f"{served}/{bare.name}"
        first = family.start()
        first.sync(address)
        other = family.start("garden", {"jam.txt": "Jam\n\n2 cups plums\n1 cup sugar\n"})
        outcome = other.sync(address)
        assert (outcome.places[0].state, outcome.exit_code) == ("other box", 3)
        assert set(other.files()) == {"jam.txt"}
        other.sync(address, join=True)
        first.sync()
        same(first, other)


def test_a_cloned_disk_is_noticed_at_a_server(family: Any, same: Any, bare: Path, tmp_path: Path) -> None:
    """Two laptops of one id at a server: the second takes a new id, and both edits are kept."""
    with daemon(bare.parent) as served:
        address = f"{served}/{bare.name}"
        first = family.start()
        first.sync(address)
        second = family.join("study", address)
        second.write("jam.txt", "Jam\n\n2 cups plums\n1 cup sugar\n")
        second.sync()
        saved = tmp_path / "saved"
        shutil.copytree(second.box.hidden, saved)
        second.change("pies/leek.txt", "3 eggs", "4 eggs")
        second.sync()
        was = second.box.laptop_id
        shutil.rmtree(second.box.hidden)
        shutil.copytree(saved, second.root / ".recipebox")
        second.change("pies/leek.txt", "4 eggs", "3 eggs")
        second.change("pies/leek.txt", "1 cup milk", "2 cups milk")
        for _ in range(2):
            second.sync()
            first.sync()
        assert second.box.laptop_id != was
        same(first, second)
        assert "4 eggs" in first.read("pies/leek.txt")
        assert "2 cups milk" in first.read("pies/leek.txt")


def test_a_hostile_branch_is_refused_and_the_others_are_met(family: Any, bare: Path) -> None:
    """One laptop's branch that breaks the limits waits by itself, is named, and is not fetched again and again."""
    with daemon(bare.parent) as served:
        address = f"{served}/{bare.name}"
        first = family.start()
        first.sync(address)
        second, third = family.join("study", address), family.join("attic", address)
        store = second.history.store
        tree = store.put_tree({"big.txt": store.put_blob(b"Big\n\n2 cups plums\n" + b"note\n" * 300_000)})
        message = {"rule": 1, "laptop": {"id": second.box.laptop_id, "name": "study"}, "moves": []}
        made = store.put_commit(tree, (second.history.head,), "Big", message, "x", "x", 1)
        pushed = f"{made}:refs/heads/laptops/{second.box.laptop_id}/own"
        git("-C", str(store.folder), "push", "-q", "--force", address, pushed)
        third.write("jam.txt", "Jam\n\n2 cups plums\n1 cup sugar\n")
        third.sync()
        for came in (("jam.txt",), ()):
            outcome = first.sync()
            assert (outcome.places[0].state, outcome.came) == ("refused", came)
            assert "larger than may be carried" in outcome.places[0].why
            assert outcome.places[0].waits_for == ("study",)
        assert "pies/leek.txt" in first.files()
        assert not first.history.store.has(made) or sys.platform == "win32"
