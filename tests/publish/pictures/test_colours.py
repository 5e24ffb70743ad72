"""Colours come out as they were meant, without a profile, from every depth and kind of picture."""

import numpy as np
import pytest
from PIL import Image

from dossier.publish.pictures.colour import is_srgb
from tests.publish.pictures.made import coded, pixels, profile, published, srgb_bytes

# Display P3 to linear sRGB, both D65: product of the published matrices of the W3C's CSS Color Module Level 4, section 10.
P3_TO_SRGB = np.array([[1.2249401, -0.2249402, 0.0], [-0.0420569, 1.0420571, 0.0], [-0.0196376, -0.0786361, 1.0982735]])


def flat(colour: tuple[int, int, int]) -> np.ndarray:
    return np.full((64, 96, 3), colour, np.uint8)


def from_p3(colour: tuple[int, int, int]) -> np.ndarray:
    """The sRGB values of a Display P3 colour, by the curve of IEC 61966-2-1 and the matrix above."""
    encoded = np.array(colour) / 255
    linear = np.where(encoded <= 0.04045, encoded / 12.92, ((encoded + 0.055) / 1.055) ** 2.4)
    wanted = (P3_TO_SRGB @ linear).clip(0, 1)
    return 255 * np.where(wanted <= 0.0031308, wanted * 12.92, 1.055 * wanted ** (1 / 2.4) - 0.055)


@pytest.mark.parametrize("format", ["jpeg", "png", "tiff", "webp", "heic"])
@pytest.mark.parametrize("colour", [(200, 100, 50), (90, 160, 120), (128, 128, 128), (40, 60, 150)])
def test_a_wide_colour_profile_is_converted_to_srgb(format, colour, tmp_path):
    data = coded(flat(colour), format, icc_profile=profile("display p3"))
    seen = pixels(tmp_path, published(data, tmp_path))[32, 48]
    assert abs(seen - from_p3(colour)).max() <= 4
    if colour == (200, 100, 50):
        assert seen[0] > 206, "unconverted values would look dull"


def test_a_profile_is_known_as_srgb_by_what_it_does_not_by_its_name():
    assert is_srgb(srgb_bytes())
    assert is_srgb(profile("srgb", name="something else"))
    assert not is_srgb(profile("display p3", name="sRGB IEC61966-2.1"))
    assert not is_srgb(b"rubbish")


# Adobe RGB (1998) to linear sRGB, both D65: product of the published matrices of CSS Color Module Level 4 ("a98-rgb").
A98_TO_SRGB = np.array([[1.3982832, -0.3982831, 0.0], [0.0, 1.0, 0.0], [0.0, -0.0429383, 1.0429383]])


def marked_adobe_rgb(index: str) -> bytes:
    """EXIF of a camera set to the optional colour space: no profile, an interoperability index only."""
    tags = Image.Exif()
    tags.get_ifd(0x8769)[0xA001] = 65535
    tags.get_ifd(0x8769)[0xA005] = {1: index, 2: b"0100"}
    return tags.tobytes()


@pytest.mark.parametrize("colour", [(150, 180, 90), (128, 128, 128), (90, 120, 160)])
def test_a_picture_only_marked_as_adobe_rgb_is_converted_too(colour, tmp_path):
    linear = A98_TO_SRGB @ (np.array(colour) / 255) ** (563 / 256)
    wanted = 255 * np.where(linear <= 0.0031308, linear * 12.92, 1.055 * linear.clip(0) ** (1 / 2.4) - 0.055)
    seen = {}
    for index in ("R03", "R98"):
        data = coded(flat(colour), "jpeg", exif=marked_adobe_rgb(index))
        seen[index] = pixels(tmp_path, published(data, tmp_path))[32, 48]
    assert abs(seen["R03"] - wanted).max() <= 3
    assert abs(seen["R98"] - colour).max() <= 2


@pytest.mark.parametrize("rubbish", [b"x", b"rubbish" * 40, profile()[:200], profile()[:100] + b"\xff" * 500])
def test_a_broken_profile_is_passed_over(rubbish, tmp_path):
    seen = pixels(tmp_path, published(coded(flat((200, 100, 50)), "jpeg", icc_profile=rubbish), tmp_path))
    assert abs(seen[32, 48] - (200, 100, 50)).max() <= 4


def test_a_profile_of_another_kind_than_the_picture_is_passed_over(tmp_path):
    seen = pixels(tmp_path, published(coded(flat((77, 77, 77)), "jpeg", mode="L", icc_profile=profile()), tmp_path))
    assert abs(seen[32, 48] - 77).max() <= 2


@pytest.mark.parametrize(("byte_order", "white_is_zero"), [("<u2", False), ("<u2", True), (">u2", False)])
def test_sixteen_bit_grey_keeps_its_shades(byte_order, white_is_zero, tmp_path):
    ramp = np.tile(np.linspace(0, 65535, 256).astype(np.uint16), (64, 1))
    rows = pixels(tmp_path, published(_grey_tiff(ramp, byte_order, white_is_zero), tmp_path))[32].mean(axis=1)
    wanted = np.arange(256)[:: -1 if white_is_zero else 1]
    assert np.abs(rows - wanted).max() <= 3


def test_a_sixteen_bit_grey_png_is_not_all_white(tmp_path):
    ramp = np.tile(np.linspace(0, 65535, 256).astype(np.uint16), (64, 1))
    rows = pixels(tmp_path, published(coded(ramp, "png"), tmp_path))[32].mean(axis=1)
    assert np.abs(rows - np.arange(256)).max() <= 3


def _grey_tiff(rows: np.ndarray, byte_order: str, white_is_zero: bool) -> bytes:
    """A bare TIFF of one strip of 16 bit grey, built from TIFF 6.0, section 2."""
    mark = byte_order[0]
    tags = [(256, 4, rows.shape[1]), (257, 4, rows.shape[0]), (258, 3, 16), (259, 3, 1), (262, 3, 0 if white_is_zero else 1)]
    tags += [(273, 4, 8 + 2 + 9 * 12 + 4), (277, 3, 1), (278, 4, rows.shape[0]), (279, 4, rows.nbytes)]
    word = lambda value, size: np.array([value], f"{mark}u{size}").tobytes()  # noqa: E731
    out = (b"II*\0" if mark == "<" else b"MM\0*") + word(8, 4) + word(len(tags), 2)
    for tag, kind, value in tags:
        out += word(tag, 2) + word(kind, 2) + word(1, 4) + (word(value, 2) + b"\0\0" if kind == 3 else word(value, 4))
    return out + word(0, 4) + rows.astype(byte_order).tobytes()


def test_transparency_is_laid_on_white(tmp_path):
    rows = np.zeros((60, 90, 4), np.uint8)
    rows[:, :45] = (200, 30, 30, 255)
    for format in ("png", "webp", "tiff"):
        seen = pixels(tmp_path, published(coded(rows, format), tmp_path))
        assert abs(seen[30, 20] - (200, 30, 30)).max() <= 6
        assert abs(seen[30, 70] - 255).max() <= 4


def test_a_transparent_palette_entry_is_laid_on_white(tmp_path):
    data = coded(flat((10, 200, 10)), "png", mode="P", transparency=b"\0" * 256)
    assert pixels(tmp_path, published(data, tmp_path))[30, 45].min() >= 251


@pytest.mark.parametrize("format", ["jpeg", "tiff"])
def test_printing_colours_come_out_neither_inverted_nor_black(format, tmp_path):
    seen = pixels(tmp_path, published(coded(flat((220, 40, 40)), format, mode="CMYK"), tmp_path))[32, 48]
    assert seen[0] > 180
    assert seen[1:].max() < 90


def test_a_lab_scan_comes_out_in_its_colours(tmp_path):
    # L* 53.2, a* 80.1, b* 67.2 is sRGB red (IEC 61966-2-1 white D65, adapted); eight bits: L* 255/100, a* and b* signed.
    lab = Image.frombytes("LAB", (96, 64), bytes((136, 80, 67)) * 96 * 64)
    out = tmp_path / "lab.tif"
    lab.save(out)
    seen = pixels(tmp_path, published(out.read_bytes(), tmp_path))[32, 48]
    assert seen[0] > 230
    assert seen[1:].max() < 60


def test_a_line_scan_of_one_bit_is_published_in_greys(tmp_path):
    rows = np.zeros((1800, 1300), np.uint8)
    rows[::2] = 255
    data = coded(rows, "tiff", mode="1", compression="group4")
    made = published(data, tmp_path)
    assert abs(pixels(tmp_path, made, 0).mean() - 127.5) < 8
