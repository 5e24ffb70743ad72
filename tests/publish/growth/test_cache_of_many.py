"""The cache of pictures, where one process publishes build after build."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

from dossier.publish.pictures import make
from dossier.publish.pictures.cache import PictureCache
from dossier.publish.pictures.recipe import PictureRequest
from tests.bench.made_builds import DEMO

PHOTOS = sorted((DEMO / "kestrane-125-r" / "photos").glob("*.jpg"))[:3]


def test_is_looked_through_now_and_then_and_not_after_every_build(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    tidied: list[Path] = []
    monkeypatch.setattr(PictureCache, "tidy", lambda cache: tidied.append(cache.folder))
    clock = [0.0]
    monkeypatch.setattr(make.time, "monotonic", lambda: clock[0])
    for photo, at in zip(PHOTOS, (1000.0, 1001.0, 1100.0), strict=True):
        clock[0] = at
        asked = [PictureRequest("one", photo, hashlib.sha256(photo.read_bytes()).hexdigest())]
        make.make_renditions(asked, tmp_path / photo.stem, tmp_path / "cache")
    assert tidied == [tmp_path / "cache"] * 2
