"""Nothing but pixels is published: no tag, no comment, no profile, no thumbnail, no name, whatever the original carried."""

import hashlib
import json
import re
import shutil
import subprocess
from pathlib import Path

import pytest

from dossier.model.picture import Mask
from tests.publish.pictures.made import CANARY, laden, published

FORMATS = ["jpeg", "png", "tiff", "webp", "heic"]

# What a reader of metadata says of a picture that has none: its place on the disk, and what the coding itself needs.
PLAIN_TAGS = {
    "SourceFile", "ExifTool:ExifToolVersion", "System:FileName", "System:Directory", "System:FileSize", "System:FileModifyDate",
    "System:FileAccessDate", "System:FileInodeChangeDate", "System:FilePermissions", "File:FileType", "File:FileTypeExtension",
    "File:MIMEType", "File:ImageWidth", "File:ImageHeight", "File:EncodingProcess", "File:BitsPerSample", "File:ColorComponents",
    "File:YCbCrSubSampling", "JFIF:JFIFVersion", "JFIF:ResolutionUnit", "JFIF:XResolution", "JFIF:YResolution", "RIFF:VP8Version",
    "RIFF:ImageWidth", "RIFF:HorizontalScale", "RIFF:ImageHeight", "RIFF:VerticalScale", "Composite:ImageSize", "Composite:Megapixels",
}  # fmt: skip


def files_of(folder: Path) -> list[Path]:
    found = sorted((folder / "out").iterdir())
    assert found
    return found


def jpeg_markers(data: bytes) -> list[int]:
    """The second byte of every marker up to the end (ITU-T T.81, annex B), entropy-coded data skipped."""
    found, at = [0xD8], 2
    while True:
        assert data[at] == 0xFF
        marker = data[at + 1]
        found.append(marker)
        if marker == 0xD9:
            assert at + 2 == len(data), "something follows the end of the picture"
            return found
        at += 2 + int.from_bytes(data[at + 2 : at + 4], "big")
        if marker == 0xDA:
            at = re.compile(rb"\xff[^\x00\xd0-\xd7]", re.DOTALL).search(data, at).start()


def webp_chunks(data: bytes) -> list[bytes]:
    """The names of a WebP file's chunks (RFC 9649, section 2.3)."""
    assert int.from_bytes(data[4:8], "little") + 8 == len(data)
    found, at = [], 12
    while at < len(data):
        found.append(data[at : at + 4])
        length = int.from_bytes(data[at + 4 : at + 8], "little")
        at += 8 + length + length % 2
    return found


@pytest.mark.parametrize("format", FORMATS)
def test_the_test_pictures_do_carry_the_word(format):
    assert laden(format).count(CANARY.encode()) >= 2


@pytest.mark.parametrize("primaries", ["display p3", "srgb"])
@pytest.mark.parametrize("format", FORMATS)
@pytest.mark.parametrize("size", [(700, 500), (2600, 1700)])
def test_a_published_picture_holds_only_the_parts_its_coding_needs(format, primaries, size, tmp_path):
    # A picture already in sRGB and already small passes nearly untouched, and its metadata must not pass with it.
    published(laden(format, primaries, *size), tmp_path, name=f"{CANARY}.{format}")
    for path in files_of(tmp_path):
        data = path.read_bytes()
        assert CANARY.encode() not in data
        assert CANARY.encode("utf-16-le") not in data
        if path.suffix == ".jpg":
            # SOI, APP0 (JFIF), DQT, SOF2, DHT, SOS, EOI.
            assert set(jpeg_markers(data)) <= {0xD8, 0xE0, 0xDB, 0xC2, 0xC4, 0xDA, 0xD9}
            assert jpeg_markers(data).count(0xE0) == 1
            assert data[20:].count(b"\xff\xd8\xff") == 0, "an embedded thumbnail"
        else:
            assert webp_chunks(data) == [b"VP8 "]


@pytest.mark.parametrize("format", FORMATS)
def test_a_reader_of_metadata_finds_none_in_any_published_picture(format, tmp_path):
    if not shutil.which("exiftool"):
        pytest.skip("exiftool is not installed")
    published(laden(format), tmp_path, (Mask("rectangle", ((10, 10), (20, 20))),))
    said = subprocess.run(["exiftool", "-json", "-G1", "-a", "-u", "-U", *files_of(tmp_path)], capture_output=True, check=True, text=True)
    for tags in json.loads(said.stdout):
        assert set(tags) <= PLAIN_TAGS, set(tags) - PLAIN_TAGS


@pytest.mark.parametrize("format", FORMATS)
def test_a_published_name_is_the_beginning_of_the_sha256_of_its_own_bytes(format, tmp_path):
    made = published(laden(format), tmp_path, name=f"{CANARY}.{format}")
    for file in made.files:
        data = (tmp_path / "out" / file.name).read_bytes()
        assert hashlib.sha256(data).hexdigest() == file.sha256
        assert re.fullmatch(r"[0-9a-f]{24}\.(webp|jpg)", file.name)
        assert file.sha256.startswith(file.name[:24])
        assert file.size == len(data)
    assert {path.name for path in files_of(tmp_path)} == {file.name for file in made.files}


def test_published_files_may_be_read_by_a_web_server(tmp_path):
    published(laden("jpeg"), tmp_path)
    assert {path.stat().st_mode & 0o777 for path in files_of(tmp_path)} == {0o644}
