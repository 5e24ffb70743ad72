"""What an audience may not see is in no byte that is published for it, and changing it changes no byte."""

from __future__ import annotations

import contextlib
import hashlib
import zlib
from pathlib import Path

import pytest

from dossier.audience import open_builds
from dossier.model.audience import Audience
from dossier.publish.dossiers import publish
from tests.publish.planted import Planter, plant


def published(folder: Path, audience: Audience, out: Path) -> Path:
    opened, problems = open_builds(folder)
    assert not [str(problem) for problem in problems if problem.severity.value == "error"]
    publish([one.edition(audience) for one in opened], [one.path for one in opened], out, single=False, cache=out.parent / "cache")
    return out


def files(site: Path) -> dict[str, bytes]:
    return {str(path.relative_to(site)): path.read_bytes() for path in sorted(site.rglob("*")) if path.is_file()}


def every_coding(word: str) -> list[bytes]:
    spelt = [word, word.upper(), word.lower(), word[::-1]]
    return [
        coded for one in spelt for coded in (one.encode(), one.encode("utf-16-le"), one.encode().hex().encode(), one.encode("utf-16-be"))
    ]


@pytest.mark.parametrize("audience", [Audience.PUBLIC, Audience.OWNER], ids=lambda one: one.word)
def test_no_planted_word_is_in_any_published_byte(audience: Audience, tmp_path: Path) -> None:
    planter = Planter("Zyxq", above=audience)
    plant("talvera-350-gp", tmp_path / "builds", planter)

    site = published(tmp_path / "builds", audience, tmp_path / "site")

    assert planter.planted > 150
    needles = every_coding("Zyxq")
    for name, data in files(site).items():
        assert "zyxq" not in name.lower()
        for body in (data, *_inflated(data)):
            assert not [needle for needle in needles if needle in body], name


def test_the_planted_words_do_reach_the_workshop(tmp_path: Path) -> None:
    planter = Planter("Zyxq", above=Audience.OWNER)
    plant("talvera-350-gp", tmp_path / "builds", planter)

    site = published(tmp_path / "builds", Audience.WORKSHOP, tmp_path / "site")

    assert sum(data.count(b"Zyxq") for data in files(site).values()) > 20


def test_changing_every_private_word_changes_no_public_byte(tmp_path: Path) -> None:
    digests = []
    for word in ("Zyxq", "Wvut"):
        folder = tmp_path / word
        plant("kestrane-125-r", folder / "builds", Planter(word, above=Audience.PUBLIC))
        site = published(folder / "builds", Audience.PUBLIC, folder / "site")
        digests.append({name: hashlib.sha256(data).hexdigest() for name, data in files(site).items()})

    assert digests[0] == digests[1]


def _inflated(data: bytes) -> list[bytes]:
    """What a zlib stream inside a file holds, such as a PNG's or a PDF's."""
    out = []
    for head in (b"\x78\x9c", b"\x78\xda", b"\x78\x01"):
        at = data.find(head)
        while at >= 0 and len(out) < 20:
            with contextlib.suppress(zlib.error):
                out.append(zlib.decompressobj().decompress(data[at:], 1 << 22))
            at = data.find(head, at + 1)
    return out
