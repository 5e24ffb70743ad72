"""Any file that calls itself a picture is read for its facts or reported with a code; none raises."""

import hashlib
import os
import struct
from dataclasses import replace
from datetime import datetime, timedelta
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image

from dossier.model.picture import format_of, is_bomb
from dossier.model.picture_faults import PHOTO_FAULTS
from dossier.publish.pictures.encode import encode
from dossier.publish.pictures.make import make_renditions
from dossier.publish.pictures.open_picture import UnfitPictureError
from dossier.publish.pictures.recipe import SIZES, PictureRequest
from dossier.read.pictures import probe
from tests.publish.pictures.made import coded, detail, exif, laden, profile, quadrants

ENDINGS = {"jpeg": "jpg", "png": "png", "tiff": "tif", "webp": "webp", "heic": "heic"}


def probed(data: bytes, folder: Path, name: str):
    """Facts, and the codes of the faults."""
    path = folder / name
    path.write_bytes(data)
    facts, faults = probe(path)
    assert (facts is None) == any(fault.severity == "error" for fault in faults)
    assert all(fault.code in PHOTO_FAULTS and fault.message and fault.instead for fault in faults)
    assert path.read_bytes() == data, "the original was touched"
    return facts, [fault.code for fault in faults]


@pytest.mark.parametrize("format", ENDINGS)
def test_a_sound_picture_gives_its_facts_and_no_fault(format, tmp_path):
    data = coded(quadrants(640, 400), format)
    facts, codes = probed(data, tmp_path, f"a.{ENDINGS[format]}")
    assert codes == []
    assert (facts.format, facts.width, facts.height, facts.frames) == (format, 640, 400, 1)
    assert facts.sha256 == hashlib.sha256(data).hexdigest()
    assert facts.mark.size == len(data)


@pytest.mark.parametrize("format", ENDINGS)
@pytest.mark.parametrize("orientation", range(1, 9))
def test_width_and_height_are_those_of_the_picture_as_seen(format, orientation, tmp_path):
    facts, codes = probed(coded(detail(300, 200), format, orientation), tmp_path, f"a.{ENDINGS[format]}")
    assert codes == []
    assert (facts.width, facts.height) == ((300, 200) if orientation < 5 else (200, 300))


@pytest.mark.parametrize("format", ["jpeg", "png", "webp", "heic"])
def test_camera_date_and_position_are_found(format, tmp_path):
    facts, codes = probed(laden(format), tmp_path, f"a.{ENDINGS[format]}")
    assert codes == []
    assert facts.taken == datetime(2024, 7, 6, 15, 33, 20)
    assert facts.taken_offset is None
    assert facts.camera.startswith("Invented CANARY")
    assert facts.has_position


@pytest.mark.parametrize(
    ("written", "offset", "taken", "taken_offset"),
    [
        ("2024:07:06 15:33:20", "+02:00", datetime(2024, 7, 6, 15, 33, 20), timedelta(hours=2)),
        ("2024:07:06 15:33:20", "-09:30", datetime(2024, 7, 6, 15, 33, 20), timedelta(hours=-9.5)),
        ("2024:07:06 15:33:20", "Z", datetime(2024, 7, 6, 15, 33, 20), timedelta(0)),
        ("2024:07:06 15:33:20", "   :  ", datetime(2024, 7, 6, 15, 33, 20), None),
        ("2024:07:06 15:33:20", "+25:00", datetime(2024, 7, 6, 15, 33, 20), None),
        ("2024:07:06 15:33:20", "+02:75", datetime(2024, 7, 6, 15, 33, 20), None),
        ("2024-07-06T15:33:20", "", datetime(2024, 7, 6, 15, 33, 20), None),
        ("0000:00:00 00:00:00", "", None, None),
        ("    :  :     :  :  ", "", None, None),
        ("", "", None, None),
    ],
)
def test_a_camera_date_is_read_with_and_without_its_offset(written, offset, taken, taken_offset, tmp_path):
    data = coded(detail(60, 40), "jpeg", exif=exif(taken=written, offset=offset).tobytes())
    facts, codes = probed(data, tmp_path, "a.jpg")
    assert codes == []
    assert (facts.taken, facts.taken_offset) == (taken, taken_offset)


@pytest.mark.parametrize("written", ["2023:02:29 10:00:00", "2024:13:01 10:00:00", "yesterday", "٢٠٢٤:07:06 15:33:20", "2024:07:06"])
def test_a_camera_date_that_is_none_is_said_and_not_guessed(written, tmp_path):
    tags = exif()
    tags.get_ifd(0x8769)[0x9003] = written.encode("utf-8", "replace")
    facts, codes = probed(coded(detail(60, 40), "jpeg", exif=tags.tobytes()), tmp_path, "a.jpg")
    assert facts.taken is None
    assert codes == ["photo-notes-damaged"]


def test_the_date_of_a_later_change_is_not_taken_for_the_date_of_the_picture(tmp_path):
    tags = Image.Exif()
    tags[0x0132] = "2024:07:06 15:33:20"
    assert probed(coded(detail(60, 40), "jpeg", exif=tags.tobytes()), tmp_path, "a.jpg")[0].taken is None


@pytest.mark.parametrize("format", ENDINGS)
@pytest.mark.parametrize("part", [0.3, 0.6, 0.9])
def test_a_picture_that_breaks_off_is_said_to(format, part, tmp_path):
    data = coded(detail(900, 700), format)
    facts, codes = probed(data[: int(len(data) * part)], tmp_path, f"a.{ENDINGS[format]}")
    assert facts is None
    assert codes in (["photo-truncated"], ["photo-unreadable"])
    if format != "tiff":
        assert codes == ["photo-truncated"]


@pytest.mark.parametrize(
    ("name", "data", "code"),
    [
        ("a.jpg", b"", "photo-empty"),
        ("a.jpg", b"hello, this is text", "photo-unreadable"),
        ("a.jpg", b"\0" * 5000, "photo-unreadable"),
        ("a.jpg", b"\xff\xd8\xff", "photo-truncated"),
        ("a.png", b"\x89PNG\r\n\x1a\n", "photo-truncated"),
        ("a.jpg", b"%PDF-1.7 and so on", "photo-other-format"),
        ("a.jpg", b"<!DOCTYPE html><html>", "photo-other-format"),
        ("a.gif", b"GIF89a\x01\0\x01\0\0\0\0;", "photo-other-format"),
        ("a.mp4", b"\0\0\0\x20ftypisom\0\0\0\0", "photo-other-format"),
        ("a.avif", b"\0\0\0\x20ftypavif\0\0\0\0", "photo-other-format"),
        ("a.cr3", b"\0\0\0\x18ftypcrx \0\0\0\0", "photo-raw"),
        ("a.raf", b"FUJIFILMCCD-RAW 0201", "photo-raw"),
    ],
)
def test_a_file_that_is_no_picture_is_reported_with_its_code(name, data, code, tmp_path):
    assert probed(data, tmp_path, name) == (None, [code])


def test_a_raw_file_is_not_published_as_its_small_preview(tmp_path):
    data = coded(detail(160, 120), "tiff")
    assert probed(data, tmp_path, "a.nef") == (None, ["photo-raw"])
    with Image.open(BytesIO(data)) as image:
        tags = image.tag_v2
        tags[50706] = b"\1\4\0\0"
        out = BytesIO()
        image.save(out, "TIFF", tiffinfo=tags)
    assert probed(out.getvalue(), tmp_path, "a.tif") == (None, ["photo-raw"])


def test_a_name_that_is_no_file_is_reported(tmp_path):
    os.mkfifo(tmp_path / "pipe.jpg")
    (tmp_path / "folder.jpg").mkdir()
    (tmp_path / "link.jpg").symlink_to(tmp_path / "link.jpg")
    codes = {
        name: [fault.code for fault in probe(tmp_path / name)[1]] for name in ("none.jpg", "pipe.jpg", "folder.jpg", "link.jpg", "a\0b.jpg")
    }
    assert codes == {
        "none.jpg": ["photo-missing"],
        "pipe.jpg": ["photo-unreadable"],
        "folder.jpg": ["photo-unreadable"],
        "link.jpg": ["photo-unreadable"],
        "a\0b.jpg": ["photo-unreadable"],
    }


@pytest.mark.parametrize(("name", "codes"), [("a.jpg", ["photo-wrong-extension"]), ("a", ["photo-wrong-extension"]), ("a.PNG", [])])
def test_a_wrong_ending_is_a_warning_and_the_content_counts(name, codes, tmp_path):
    facts, found = probed(coded(detail(60, 40), "png"), tmp_path, name)
    assert facts.format == "png"
    assert found == codes


@pytest.mark.parametrize("format", ["png", "tiff", "webp"])
def test_only_the_first_of_several_pictures_is_used_and_that_is_said(format, tmp_path):
    first, second, third = (Image.fromarray(rows) for rows in (quadrants(640, 400), detail(640, 400), detail(640, 400, 2)))
    out = BytesIO()
    more = {"lossless": True} if format == "webp" else {}
    first.save(out, format.upper(), save_all=True, append_images=[second, third], **more)
    facts, codes = probed(out.getvalue(), tmp_path, f"a.{ENDINGS[format]}")
    assert facts.frames == 3
    assert codes == ["photo-many-pages" if format == "tiff" else "photo-animated"]
    run = make_renditions([PictureRequest("a", tmp_path / f"a.{ENDINGS[format]}", facts.sha256)], tmp_path / "out")
    with Image.open(tmp_path / "out" / run.renditions["a"].large.name) as seen:
        assert np.abs(np.asarray(seen).astype(int) - quadrants(640, 400)).mean() < 3


def test_a_small_file_that_claims_a_huge_picture_is_refused_without_decoding_it(tmp_path):
    bomb = BytesIO()
    Image.new("1", (20_000, 10_000)).save(bomb, "PNG")
    assert len(bomb.getvalue()) < 100_000
    assert probed(bomb.getvalue(), tmp_path, "a.png") == (None, ["photo-bomb"])
    lying = bytearray(coded(detail(60, 40), "jpeg"))
    at = lying.index(b"\xff\xc0")
    lying[at + 5 : at + 9] = struct.pack(">HH", 65_000, 65_000)
    assert probed(bytes(lying), tmp_path, "a.jpg") == (None, ["photo-bomb"])


@pytest.mark.parametrize(
    ("format", "width", "height", "size", "bomb"),
    [
        ("jpeg", 12_000, 9_000, 20_000_000, False),
        ("jpeg", 16_384, 12_288, 40_000_000, False),
        ("jpeg", 12_000, 9_000, 1_000_000, True),
        ("jpeg", 20_000, 20_000, 90_000_000, True),
        ("png", 12_000, 9_000, 90_000_000, True),
        ("tiff", 9_900, 7_000, 1_000, False),
    ],
)
def test_large_telephone_pictures_pass_and_bombs_do_not(format, width, height, size, bomb):
    assert is_bomb(format, width, height, size) is bomb


def test_thirty_two_bits_a_sample_are_refused_rather_than_guessed(tmp_path):
    rows = np.linspace(-3, 12, 6000, dtype=np.float32).reshape(60, 100)
    assert probed(coded(rows, "tiff"), tmp_path, "a.tif") == (None, ["photo-odd-depth"])


@pytest.mark.filterwarnings("ignore")
@pytest.mark.parametrize(
    "rubbish", [b"Exif\0\0II*\0" + b"\xff" * 60, b"Exif\0\0" + b"\0" * 9, b"Exif\0\0MM\0*\0\0\0\x08\xff\xff" + b"\x01" * 80]
)
def test_damaged_notes_do_not_hinder_the_picture(rubbish, tmp_path):
    facts, codes = probed(coded(detail(60, 40), "jpeg", exif=rubbish), tmp_path, "a.jpg")
    assert (facts.width, facts.height) == (60, 40)
    assert set(codes) <= {"photo-notes-damaged"}


@pytest.mark.parametrize(
    ("mode", "more", "codes"),
    [
        ("CMYK", {}, ["photo-colour-profile"]),
        ("RGB", {"icc_profile": b"rubbish" * 30}, ["photo-colour-profile"]),
        ("L", {"icc_profile": profile()}, ["photo-colour-profile"]),
        ("RGB", {"icc_profile": profile()}, []),
    ],
)
def test_colours_that_cannot_be_trusted_are_said(mode, more, codes, tmp_path):
    facts, found = probed(coded(detail(60, 40), "jpeg", mode=mode, **more), tmp_path, "a.jpg")
    assert facts.colour == mode
    assert found == codes


SEEDS = {format: coded(detail(90, 70), format, 6) for format in ENDINGS}


@pytest.mark.filterwarnings("ignore")
@settings(max_examples=250, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    format=st.sampled_from(sorted(SEEDS)),
    changes=st.lists(st.tuples(st.floats(0, 1, exclude_max=True), st.binary(min_size=1, max_size=4)), max_size=6),
    cut=st.one_of(st.none(), st.floats(0, 1)),
    tail=st.binary(max_size=12),
)
def test_no_damage_makes_reading_or_publishing_raise(format, changes, cut, tail, tmp_path):
    data = bytearray(SEEDS[format])
    for where, what in changes:
        at = int(where * len(data))
        data[at : at + len(what)] = what
    data = bytes(data[: None if cut is None else int(cut * len(data))]) + tail
    path = tmp_path / f"a.{ENDINGS[format]}"
    path.write_bytes(data)
    facts, faults = probe(path)
    assert (facts is None) == any(fault.severity == "error" for fault in faults)
    if facts:
        run = make_renditions([PictureRequest("a", path, facts.sha256)], tmp_path / "out", workers=1)
        if run.renditions:
            large = run.renditions["a"].large
            assert (large.width, large.height) == (facts.width, facts.height)


def several() -> bytes:
    """A JPEG with two more pictures in it (CIPA DC-007, multi-picture format)."""
    first, second, third = (Image.fromarray(detail(300, 200, seed)) for seed in (1, 2, 3))
    out = BytesIO()
    first.save(out, "MPO", save_all=True, append_images=[second, third], exif=exif(6).tobytes())
    return out.getvalue()


JPEGS = {
    **{f"orientation {number}": coded(detail(300, 200), "jpeg", number) for number in range(1, 9)},
    "grey": coded(detail(300, 200), "jpeg", mode="L"),
    "printing colours": coded(detail(300, 200), "jpeg", mode="CMYK"),
    "everything a camera writes": laden("jpeg"),
    "progressive": coded(detail(300, 200), "jpeg", 3, progressive=True),
    "a profile that is none": coded(detail(300, 200), "jpeg", icc_profile=b"rubbish" * 30),
    "a profile for other colours": coded(detail(300, 200), "jpeg", mode="L", icc_profile=profile()),
    "notes that are none": coded(detail(300, 200), "jpeg", exif=b"Exif\0\0II*\0" + b"\xff" * 60),
    "something after the end": coded(detail(300, 200), "jpeg") + b"\0" * 70_000,
    "several pictures": several(),
    "one pixel": coded(detail(1, 1), "jpeg"),
}


def looked_at_twice(data: bytes, path: Path) -> bool:
    """Whether a JPEG is refused; undecoded it must give the same facts, or else be one of which no picture can be made."""
    path.write_bytes(data)
    (facts, faults), (bare, same) = probe(path), probe(path, likeness=False, decode=False)
    if facts:
        assert (bare, same) == (replace(facts, likeness=""), faults)
    elif bare:
        with pytest.raises(UnfitPictureError):
            encode(data, (), SIZES)
    return facts is None


@pytest.mark.filterwarnings("ignore")
@pytest.mark.parametrize("kind", JPEGS)
@pytest.mark.parametrize("name", ["a.jpg", "a.png"])
def test_the_facts_of_a_jpeg_are_the_same_whether_it_is_decoded_or_not(kind, name, tmp_path):
    assert not looked_at_twice(JPEGS[kind], tmp_path / name)


@pytest.mark.filterwarnings("ignore")
@pytest.mark.parametrize(
    "kind", ["orientation 6", "progressive", "grey", "printing colours", "everything a camera writes", "several pictures"]
)
def test_of_a_jpeg_that_is_refused_for_its_inside_no_picture_can_be_made_either(kind, tmp_path):
    data = JPEGS[kind]
    refused = [looked_at_twice(data[: len(data) * part // 40], tmp_path / "a.jpg") for part in range(1, 40)]
    assert any(refused)


@pytest.mark.filterwarnings("ignore")
@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    kind=st.sampled_from(sorted(JPEGS)),
    changes=st.lists(st.tuples(st.floats(0, 1, exclude_max=True), st.binary(min_size=1, max_size=4)), max_size=6),
)
def test_however_a_jpeg_is_damaged_undecoded_it_is_told_of_as_decoded_or_cannot_be_published(kind, changes, tmp_path):
    data = bytearray(JPEGS[kind])
    for where, what in changes:
        at = int(where * len(data))
        data[at : at + len(what)] = what
    looked_at_twice(bytes(data), tmp_path / "a.jpg")


@given(st.binary(max_size=40))
def test_the_first_bytes_decide_the_format_and_nothing_raises(head):
    assert format_of(head) in {"", *ENDINGS}
