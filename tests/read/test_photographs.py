"""Photographs of a folder as read: the camera's date unless another is written, pairs in order, pictures looked at once only."""

from __future__ import annotations

import datetime
import os
import shutil
import time
from pathlib import Path

import pytest
from PIL import Image

from dossier.read import picture_index
from dossier.read.folder import read_build
from dossier.record import make_record

BASE = Path(__file__).parent.parent / "bad" / "_base"
ORIGINAL, OFFSET = 0x9003, 0x9011


def picture(path: Path, taken: str = "", offset: str = "", colour: int = 90) -> None:
    """A small JPEG with the date the camera wrote, if any."""
    image = Image.linear_gradient("L").resize((64, 48)).convert("RGB").point(lambda level: (level + colour) % 256)
    exif = Image.Exif()
    if taken:
        exif.get_ifd(0x8769)[ORIGINAL] = taken
    if offset:
        exif.get_ifd(0x8769)[OFFSET] = offset
    path.parent.mkdir(exist_ok=True)
    image.save(path, exif=exif)


@pytest.fixture
def build(tmp_path: Path) -> Path:
    shutil.copytree(BASE, tmp_path / "root")
    return tmp_path / "root" / "build"


def listed(build: Path, *rows: str) -> None:
    text = "".join(f"  - {{file: {n}.jpg, id: PH-0{n}, shows: The frame on its stand, seen_by: public{row}}}\n" for n, row in enumerate(rows, 1))
    (build / "photos.yaml").write_text(f"photos:\n{text}", encoding="utf-8")


def codes(build: Path) -> list[str]:
    return [one.code for one in read_build(build)[1]]


def days(build: Path) -> list[datetime.date | None]:
    read, _ = read_build(build)
    assert read is not None
    return [one.date for one in read.photos.photos]


def test_the_cameras_date_stands_unless_another_is_written_or_said(build):
    for number in (1, 2, 3):
        picture(build / "photos" / f"{number}.jpg", "2024:04:13 11:48:05", colour=70 * number)
    listed(build, "", ", date: 2024-03-01", ", date_said: about 1967")

    assert days(build) == [datetime.date(2024, 4, 13), datetime.date(2024, 3, 1), None]


@pytest.mark.parametrize(
    ("before", "after", "wrong"),
    [
        (("2024:04:13 11:48:05", ""), ("2024:04:13 11:48:04", ""), True),
        (("2024:04:13 11:48:04", ""), ("2024:04:13 11:48:05", ""), False),
        (("2024:04:13 00:30:00", "+09:00"), ("2024:04:12 20:00:00", "-05:00"), False),
        (("2024:04:12 20:00:00", "-05:00"), ("2024:04:13 00:30:00", "+09:00"), True),
    ],
)
def test_a_pair_by_one_camera_is_in_order_to_the_second_and_by_the_instant_where_zones_are_known(build, before, after, wrong):
    picture(build / "photos" / "1.jpg", *before)
    picture(build / "photos" / "2.jpg", *after, colour=200)
    listed(build, ", pair: frame, side: before", ", pair: frame, side: after")

    assert ("before-after-order" in codes(build)) == wrong


def test_nearly_the_same_pictures_are_said_but_not_the_two_sides_of_a_pair(build):
    for number in (1, 2, 3):
        picture(build / "photos" / f"{number}.jpg")
    listed(build, "", "", "")
    assert "photos-alike" in codes(build)
    listed(build, ", pair: frame, side: before", ", pair: frame, side: after")
    assert "photos-alike" not in codes(build)


def test_a_pin_leads_to_an_item_or_a_figure_or_is_refused(build):
    picture(build / "photos" / "1.jpg", "2024:04:13 11:48:05")
    listed(build, ", pins: [{x: 10, y: 20, to: compression_ratio.left}, {x: 10, y: 20, to: compresion_ratio}]")

    problems = make_record(build)[1]

    assert [(one.code, one.message) for one in problems if one.field == "to"] == [("id-unknown", "there is no item or figure 'compresion_ratio'")]


def test_a_second_reading_opens_no_photograph_that_is_as_it_was(build, tmp_path, monkeypatch):
    for number in (1, 2):
        picture(build / "photos" / f"{number}.jpg", "2024:04:13 11:48:05")
        old = time.time() - 60
        os.utime(build / "photos" / f"{number}.jpg", (old, old))
    listed(build, "", "")
    monkeypatch.setattr(picture_index, "_SETTLED_NS", 0)
    first = read_build(build, kept=tmp_path / "kept")
    looked: list[Path] = []
    monkeypatch.setattr("dossier.read.pictures.probe", lambda path: looked.append(path) or (None, []))

    assert read_build(build, kept=tmp_path / "kept") == first
    assert looked == []
    picture(build / "photos" / "2.jpg", "2024:04:14 11:48:05")
    read_build(build, kept=tmp_path / "kept")
    assert [path.name for path in looked] == ["2.jpg"]
