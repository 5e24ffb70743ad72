"""The whole public demo site under a reader of metadata: pictures that say nothing of their making, and no other file that does."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path

import pytest

from dossier.model.audience import Audience
from dossier.publish import dossiers
from tests.pages.demo import BUILDS, opened
from tests.publish.pictures.test_clean import PLAIN_TAGS

TELLING = ("EXIF", "GPS", "IFD", "IPTC", "XMP", "ICC", "MakerNotes", "Photoshop", "InteropIFD", "SubIFD", "MPF", "Adobe", "PNG", "PDF")


@pytest.fixture(scope="module")
def site(tmp_path_factory) -> Path:
    out: Path = tmp_path_factory.mktemp("public") / "site"
    dossiers.publish([one.edition(Audience.PUBLIC) for one in opened()], [one.path for one in opened()], out, single=False)
    return out


@pytest.fixture(scope="module")
def read(site) -> dict[Path, dict[str, object]]:
    if not shutil.which("exiftool"):
        pytest.skip("exiftool is not installed")
    said = subprocess.run(["exiftool", "-r", "-json", "-G1", "-a", "-u", "-U", site], capture_output=True, text=True, check=False)
    return {Path(one["SourceFile"]): one for one in json.loads(said.stdout)}


def test_every_picture_of_the_public_site_says_nothing_but_its_size_and_coding(site, read):
    pictures = [path for path in site.rglob("*") if path.suffix in (".jpg", ".webp", ".png", ".gif", ".tif", ".heic")]
    assert len(pictures) > 90
    assert {path.parent.name for path in pictures} == {"photographs"}
    for path in pictures:
        assert set(read[path]) <= PLAIN_TAGS, (path.name, set(read[path]) - PLAIN_TAGS)


def test_no_other_file_of_the_public_site_bears_tags_of_a_camera_or_an_editor(read):
    assert len(read) > 150
    telling = {path.name: tag for path, tags in read.items() for tag in tags if tag.startswith(TELLING)}
    assert telling == {}


def test_the_originals_do_bear_what_the_public_ones_lost():
    if not shutil.which("exiftool"):
        pytest.skip("exiftool is not installed")
    said = subprocess.run(["exiftool", "-r", "-json", "-G1", BUILDS], capture_output=True, text=True, check=False).stdout
    assert "GPS:GPSLatitude" in said and "ExifIFD:DateTimeOriginal" in said


def test_no_name_of_an_original_stands_in_the_public_site(site):
    names = [path.stem.encode() for path in BUILDS.glob("*/photos/*")]
    assert len(names) > 30
    for path in site.rglob("*"):
        if path.is_file():
            data = path.read_bytes()
            assert not [name for name in names if name in data or name.decode() in path.name], path
