"""One photograph of the demo bears a mask: the owner sees beneath it, the public gets other files in which it is destroyed."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from dossier.model.audience import Audience
from dossier.publish import dossiers
from tests.pages.demo import opened

PHOTO, BOX = "PH-0409", (0.585, 0.763, 0.76, 0.798)
"""The checker's initials on the typed sheet, as photos.yaml masks them: left, top, right, bottom as parts of the whole."""


@pytest.fixture(scope="module")
def sites(tmp_path_factory) -> dict[Audience, Path]:
    folder = tmp_path_factory.mktemp("masked")
    [talvera] = [one for one in opened() if one.slug.startswith("talvera")]
    out = {}
    for audience in (Audience.OWNER, Audience.PUBLIC):  # the unmasked one first, into one cache
        out[audience] = folder / audience.word
        dossiers.publish([talvera.edition(audience)], [talvera.path], out[audience], single=True, cache=folder / "cache")
    return out


def files_of(site: Path, photo: str) -> list[Path]:
    told = json.loads((site / "dossier.json").read_text("utf-8"))["renditions"][photo]["files"]
    return [site / "photographs" / one["name"] for one in told]


def pixels(path: Path) -> np.ndarray:
    with Image.open(path) as image:
        return np.asarray(image.convert("RGB"), int)


def inside(rows: np.ndarray) -> np.ndarray:
    height, width = rows.shape[:2]
    left, top, right, bottom = BOX
    return rows[int(top * height) : int(bottom * height), int(left * width) : int(right * width)]


def test_the_area_is_one_grey_in_every_public_size_and_ink_on_paper_in_every_owners(sites):
    for path in files_of(sites[Audience.PUBLIC], PHOTO):
        assert np.abs(inside(pixels(path)) - 90).max() <= 10, path.name  # the codings ring a little at the edge of the grey
    for path in files_of(sites[Audience.OWNER], PHOTO):
        assert np.ptp(inside(pixels(path))) > 60, path.name


def test_outside_the_area_both_show_the_same_picture(sites):
    for public, owner in zip(*(files_of(sites[one], PHOTO) for one in (Audience.PUBLIC, Audience.OWNER)), strict=True):
        one, other = pixels(public), pixels(owner)
        half = one.shape[0] // 2
        assert np.abs(one[:half] - other[:half]).mean() < 1


def test_no_byte_string_of_the_unmasked_files_is_among_the_public_ones(sites):
    unmasked = files_of(sites[Audience.OWNER], PHOTO)
    digests = {hashlib.sha256(path.read_bytes()).hexdigest() for path in unmasked}
    for path in sites[Audience.PUBLIC].rglob("*"):
        if path.is_file():
            data = path.read_bytes()
            assert hashlib.sha256(data).hexdigest() not in digests
            assert not any(one.name.encode() in data or one.stem.encode() in data for one in unmasked), path
            assert not any(digest.encode() in data for digest in digests), path


def test_a_photograph_without_mask_is_the_same_file_for_both(sites):
    assert [one.name for one in files_of(sites[Audience.PUBLIC], "PH-0435")] == [one.name for one in files_of(sites[Audience.OWNER], "PH-0435")]


def test_the_public_is_told_that_an_area_is_covered_and_the_owner_that_none_is(sites):
    assert "In one picture an area is covered for this edition." in (sites[Audience.PUBLIC] / "photographs.html").read_text("utf-8")
    assert "an area is covered" not in (sites[Audience.OWNER] / "photographs.html").read_text("utf-8")
    assert "initials of whoever" not in (sites[Audience.PUBLIC] / "dossier.json").read_text("utf-8")
