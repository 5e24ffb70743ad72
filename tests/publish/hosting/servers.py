"""The two web servers, each started on this machine only with the file that ships, its names, ports and paths put in."""

from __future__ import annotations

import base64
import contextlib
import http.client
import os
import shutil
import socket
import ssl
import subprocess
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

SHIPPED = Path(__file__).resolve().parents[3] / "dossier" / "publish" / "hosting"
NAME, PASSWORD = "owner", "a long phrase, not this one"
PATIENCE = 20.0
"""Seconds a server may take to listen."""


@dataclass(frozen=True)
class Answer:
    """What a server answered: status, headers by small name, body."""

    status: int
    headers: dict[str, str]
    body: bytes


@dataclass(frozen=True)
class Server:
    """A server that is up: its ports with and without TLS."""

    kind: str
    secure: int
    plain: int

    def ask(self, address: str, method: str = "GET", password: str = "", name: str = NAME) -> Answer:
        """The answer to one request whose address goes out as it stands; with name and password where a password is given."""
        host = f"127.0.0.1:{self.secure}"
        link = http.client.HTTPSConnection(host, timeout=10, context=ssl._create_unverified_context())
        return _asked(link, host, address, method, password and f"{name}:{password}")

    def ask_plainly(self, address: str) -> Answer:
        """The same without TLS, and without a password."""
        host = f"127.0.0.1:{self.plain}"
        return _asked(http.client.HTTPConnection(host, timeout=10), host, address, "GET", "")


def _asked(link: http.client.HTTPConnection, host: str, address: str, method: str, login: str) -> Answer:
    with contextlib.closing(link):
        link.putrequest(method, address, skip_host=True, skip_accept_encoding=True)
        link.putheader("Host", host)
        if login:
            link.putheader("Authorization", "Basic " + base64.b64encode(login.encode()).decode())
        link.putheader("Content-Length", "0")
        link.endheaders()
        answer = link.getresponse()
        return Answer(answer.status, {key.lower(): value for key, value in answer.getheaders()}, answer.read())


def free_port() -> int:
    """A port that nobody listens at just now."""
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        return int(asked.getsockname()[1])


def put_in(text: str, *pairs: tuple[str, str]) -> str:
    """The shipped text with its examples exchanged, each of which must be there."""
    for old, new in pairs:
        assert old in text, old
        text = text.replace(old, new)
    return text


def said(*command: str) -> str:
    """What a command prints."""
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout.strip()


@contextlib.contextmanager
def caddy(site: Path, work: Path) -> Iterator[Server]:
    """Caddy over `site`, its own state in `work`, with a certificate it makes itself."""
    server = Server("caddy", free_port(), free_port())
    passwords = work / "passwords"
    passwords.write_text(f"{NAME} {said('caddy', 'hash-password', '--plaintext', PASSWORD)}\n")
    ours = f"{{\n\tadmin off\n\tlocal_certs\n\tskip_install_trust\n\thttp_port {server.plain}\n}}\n"
    shipped = (SHIPPED / "Caddyfile").read_text(encoding="utf-8")
    shipped = put_in(
        shipped, ("archive.example.org {", f"https://127.0.0.1:{server.secure} {{"), ("/etc/caddy/archive.passwords", str(passwords)),
        ("/srv/archive", str(site)),
    )  # fmt: skip
    (work / "Caddyfile").write_text(ours + shipped, encoding="utf-8")
    home = {"HOME": str(work), "XDG_DATA_HOME": str(work / "data"), "XDG_CONFIG_HOME": str(work / "config")}
    with _running(["caddy", "run", "--config", str(work / "Caddyfile")], work, home, server):
        yield server


@contextlib.contextmanager
def nginx(site: Path, work: Path) -> Iterator[Server]:
    """nginx over `site`, its own state in `work`, with a certificate made for it."""
    server = Server("nginx", free_port(), free_port())
    passwords = work / "passwords"
    passwords.write_text(f"{NAME}:{said('openssl', 'passwd', '-6', PASSWORD)}\n")
    key, certificate = work / "key.pem", work / "fullchain.pem"
    said(
        "openssl", "req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes", "-days", "2",
        "-subj", "/CN=127.0.0.1", "-keyout", str(key), "-out", str(certificate),
    )  # fmt: skip
    shipped = (SHIPPED / "nginx.conf").read_text(encoding="utf-8")
    shipped = put_in(
        shipped, ("listen 80;", f"listen 127.0.0.1:{server.plain};"), ("listen 443 ssl;", f"listen 127.0.0.1:{server.secure} ssl;"),
        ("archive.example.org", "127.0.0.1"), ("/etc/ssl/archive/fullchain.pem", str(certificate)), ("/etc/ssl/archive/key.pem", str(key)),
        ("/srv/archive", str(site)), ("/etc/nginx/archive.passwords", str(passwords)),
    )  # fmt: skip
    (work / "archive.conf").write_text(shipped, encoding="utf-8")
    stores = "".join(f"{kind}_temp_path {work}/{kind};" for kind in ("client_body", "proxy", "fastcgi", "uwsgi", "scgi"))
    user = "user root;" if os.geteuid() == 0 else ""
    types = "include /etc/nginx/mime.types;" if Path("/etc/nginx/mime.types").is_file() else ""
    whole = f"{user} daemon off; pid {work}/pid; error_log stderr; events {{}}\n"
    whole += f"http {{ access_log off; {stores} {types} include {work}/archive.conf; }}\n"
    (work / "whole.conf").write_text(whole, encoding="utf-8")
    with _running([_program("nginx"), "-e", "stderr", "-p", str(work), "-c", str(work / "whole.conf")], work, {}, server):
        yield server


def _program(name: str) -> str:
    """Where a server lies: Debian keeps nginx in /usr/sbin, which is not on everybody's path."""
    return shutil.which(name) or shutil.which(name, path="/usr/sbin:/usr/local/sbin") or ""


def missing(kind: str) -> str:
    """Which programs a server needs that are not here; empty where all are."""
    needed = {"caddy": ("caddy",), "nginx": ("nginx", "openssl")}[kind]
    return ", ".join(name for name in needed if not _program(name))


@contextlib.contextmanager
def _running(command: list[str], work: Path, extra: dict[str, str], server: Server) -> Iterator[None]:
    with (work / "log").open("wb") as log, subprocess.Popen(command, stdout=log, stderr=log, env={**os.environ, **extra}, cwd=work) as run:
        try:
            _wait(run, server, work / "log")
            yield
        finally:
            run.terminate()
            run.wait(PATIENCE)


def _wait(run: subprocess.Popen[bytes], server: Server, log: Path) -> None:
    until = time.monotonic() + PATIENCE
    while time.monotonic() < until and run.poll() is None:
        try:
            server.ask("/")
            server.ask_plainly("/")
            return
        except (OSError, http.client.HTTPException):
            time.sleep(0.05)
    raise AssertionError(f"{server.kind} does not listen: {log.read_text(errors='replace')}")
