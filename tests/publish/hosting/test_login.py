"""Behind a login, with the real servers and the files that ship: without the password no address gives a byte of the archive."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner

from dossier import cli
from dossier.publish.exchange import MARK, published_whole
from tests.publish.hosting import servers
from tests.publish.hosting.servers import PASSWORD, Server
from tests.publish.sheets import built

TWISTED = (
    "/", "//", "///index.html", "/./index.html", "/search//search_index.json", "//search/search_index.json", "/search/../index.html",
    "/search/%2e%2e/index.html", "/search/..%2findex.html", "/search/.%2e/search/search_index.json", "/%69ndex.html", "/index%2ehtml",
    "/index.html?x=1", "/index.html?..", "/index.html#all", "/index.html/", "/INDEX.HTML", "/search\\..\\index.html", "/;/index.html",
    "/index.html;x", "/search", "/search/", "/404.html", "/no-such-sheet.html", "/no/such/folder/", "/.htaccess", "/.git/config",
    "/.well-known/acme", "/.passwords", "/search/.hidden", f"/{MARK}", "/robots.txt", "/favicon.ico", "/index.html%20", "/%C3%BC",
)  # fmt: skip
"""Addresses that lead to a published file by another road, or to none."""
OUT_OF_THE_FOLDER = (
    "/../index.html", "/../../etc/passwd", "/%2e%2e/index.html", "/..%2f..%2fetc/passwd", "/search/../../index.html", "/..", "/%2e%2e%2f",
    "/index.html%00", "/index.html%00.png", "/%", "/%zz",
)  # fmt: skip
"""Addresses that a server may refuse as malformed before it asks who is there."""
METHODS = ("GET", "HEAD", "POST", "PUT", "DELETE", "PATCH", "OPTIONS", "PROPFIND", "MOVE", "BREW")


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A published site with a search index, put in place as every publish is."""
    folder = tmp_path_factory.mktemp("site")
    made = built(folder)
    with published_whole(folder / "out") as making:
        shutil.copytree(made, making, dirs_exist_ok=True)
    return folder / "out"


@pytest.fixture(scope="module", params=["caddy", "nginx"])
def server(request: pytest.FixtureRequest, site: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """One of the two servers; skipped with words where it is not installed."""
    if lacking := servers.missing(request.param):
        pytest.skip(f"not installed: {lacking}")
    with getattr(servers, request.param)(site, tmp_path_factory.mktemp(request.param)) as up:
        yield up


def files(site: Path) -> list[str]:
    return sorted(path.relative_to(site).as_posix() for path in site.rglob("*") if path.is_file())


def addresses(site: Path) -> list[str]:
    folders = sorted(path.relative_to(site).as_posix() for path in site.rglob("*") if path.is_dir())
    return [*(f"/{name}" for name in files(site)), *(f"/{name}{end}" for name in folders for end in ("", "/")), *TWISTED]


def gives_nothing_away(body: bytes) -> bool:
    """Whether an answer has no byte of what is published: the machine's name stands on every sheet and in the search index."""
    return len(body) < 1000 and b"Brennock" not in body and b"Orrisdale" not in body and b"dossier" not in body


def test_what_is_published_holds_what_the_other_tests_look_for(site: Path) -> None:
    assert {"index.html", "search/search_index.json", "search/search_index.js", MARK} <= set(files(site))
    assert not gives_nothing_away((site / "index.html").read_bytes()) and not gives_nothing_away((site / MARK).read_bytes())


def test_without_the_password_every_address_answers_401_and_nothing_else(server: Server, site: Path) -> None:
    for address in addresses(site):
        answer = server.ask(address)
        assert (address, answer.status) == (address, 401)
        assert answer.headers["www-authenticate"].startswith("Basic ") and gives_nothing_away(answer.body), address


def test_without_the_password_no_method_is_answered_but_with_401(server: Server) -> None:
    for method in METHODS:
        for address in ("/index.html", "/search/search_index.json", "/", "/no-such-sheet.html"):
            answer = server.ask(address, method)
            assert (method, address, answer.status) == (method, address, 401)
            assert gives_nothing_away(answer.body)


def test_an_address_that_leads_out_of_the_folder_is_refused(server: Server) -> None:
    for address in OUT_OF_THE_FOLDER:
        for method in ("GET", "HEAD", "TRACE"):
            answer = server.ask(address, method)
            assert answer.status in (400, 401, 405), (method, address)
            assert gives_nothing_away(answer.body), address
        inside = server.ask(address, password=PASSWORD)
        assert b"root:" not in inside.body, address


@pytest.mark.parametrize(("name", "password"), [("owner", "wrong"), ("owner", PASSWORD + " "), ("", PASSWORD), ("other", PASSWORD)])
def test_a_wrong_name_or_password_is_as_good_as_none(server: Server, name: str, password: str) -> None:
    for address in ("/index.html", "/search/search_index.json", "/no-such-sheet.html"):
        answer = server.ask(address, password=password, name=name)
        assert answer.status == 401 and gives_nothing_away(answer.body)


def test_with_the_password_every_published_file_comes_byte_for_byte(server: Server, site: Path) -> None:
    for name in files(site):
        answer = server.ask(f"/{name}", password=PASSWORD)
        assert (name, answer.status, answer.body) == (name, 200, (site / name).read_bytes())
        assert answer.headers["cache-control"] == "private", "no cache between server and reader may keep it"
    assert server.ask("/", password=PASSWORD).body == (site / "index.html").read_bytes()


def test_with_the_password_an_address_that_is_none_answers_404(server: Server) -> None:
    assert server.ask("/no-such-sheet.html", password=PASSWORD).status == 404
    assert server.ask("/search/", password=PASSWORD).status in (403, 404), "no list of a folder's files"


def test_in_plain_nothing_is_answered_but_the_way_to_tls(server: Server, site: Path) -> None:
    for address in addresses(site):
        answer = server.ask_plainly(address)
        assert answer.status in (301, 308) and answer.headers["location"].startswith("https://"), address
        assert gives_nothing_away(answer.body.replace(b"Location", b"")), address


def test_the_files_that_ship_say_what_to_change_and_hold_no_password() -> None:
    for name in ("Caddyfile", "nginx.conf"):
        text = (servers.SHIPPED / name).read_text(encoding="utf-8")
        for example in ("archive.example.org", "archive.passwords", "/srv/archive"):
            [line, *_] = [line for line in text.splitlines() if example in line and not line.lstrip().startswith("#")]
            assert "<-" in line, (name, example)
        assert "$2a$" not in text and "$6$" not in text


@pytest.mark.parametrize(("server", "file"), [("caddy", "Caddyfile"), ("nginx", "nginx.conf")])
def test_the_command_prints_the_file_that_ships(server: str, file: str) -> None:
    done = CliRunner().invoke(cli.main, ["hosting", server])
    assert done.exit_code == 0 and done.output == (servers.SHIPPED / file).read_text(encoding="utf-8")
