"""Pictures stored turned come out upright, in every format and every one of the eight ways."""

import numpy as np
import pytest

from dossier.model.picture import Mask
from dossier.publish.pictures.masks import as_stored
from tests.publish.pictures.made import BLUE, GREEN, RED, WHITE, coded, detail, pixels, published, quadrants

# EXIF 2.32 (CIPA DC-008-2019), tag 0x0112: where the 0th stored row and the 0th stored column lie in the picture as seen.
ROW_AND_COLUMN = {
    1: ("top", "left"),
    2: ("top", "right"),
    3: ("bottom", "right"),
    4: ("bottom", "left"),
    5: ("left", "top"),
    6: ("right", "top"),
    7: ("right", "bottom"),
    8: ("left", "bottom"),
}


def stored(seen: np.ndarray, orientation: int) -> np.ndarray:
    """The rows a camera stores for a picture as seen, straight from the standard's table."""
    row, column = ROW_AND_COLUMN[orientation]
    if row in ("left", "right"):
        seen = seen.swapaxes(0, 1)
    if row in ("bottom", "right"):
        seen = seen[::-1]
    if column in ("right", "bottom"):
        seen = seen[:, ::-1]
    return np.ascontiguousarray(seen)


@pytest.mark.parametrize("format", ["jpeg", "png", "tiff", "webp"])
@pytest.mark.parametrize("orientation", ROW_AND_COLUMN)
def test_every_orientation_comes_out_upright_in_every_size(format, orientation, tmp_path):
    data = coded(stored(quadrants(1300, 900), orientation), format, orientation)
    made = published(data, tmp_path)
    assert [(file.width, file.height) for file in made.files] == [(480, 332), (1300, 900)]
    for which in range(len(made.files)):
        rows = pixels(tmp_path, made, which)
        height, width = rows.shape[:2]
        for (y, x), colour in {(1, 1): RED, (1, 3): GREEN, (3, 1): BLUE, (3, 3): WHITE}.items():
            assert abs(rows[height * y // 4, width * x // 4] - colour).max() <= 12, (y, x)


@pytest.mark.parametrize("compression", ["raw", "tiff_lzw", "tiff_adobe_deflate", "jpeg"])
@pytest.mark.parametrize("orientation", [2, 5, 6])
def test_a_turned_scan_comes_out_upright_whatever_packs_it(compression, orientation, tmp_path):
    data = coded(stored(quadrants(), orientation), "tiff", orientation, compression=compression)
    rows = pixels(tmp_path, published(data, tmp_path))
    assert rows.shape[:2] == (400, 640)
    assert abs(rows[100, 160] - RED).max() <= 12


def test_a_heic_that_says_it_is_turned_is_turned_once(tmp_path):
    made = published(coded(stored(quadrants(), 6), "heic", 6), tmp_path)
    rows = pixels(tmp_path, made)
    assert rows.shape[:2] == (400, 640)
    assert abs(rows[100, 160] - RED).max() <= 16
    assert abs(rows[100, 480] - GREEN).max() <= 16


@pytest.mark.parametrize("nonsense", [0, 9, 65535])
def test_an_orientation_out_of_range_turns_nothing(nonsense, tmp_path):
    rows = pixels(tmp_path, published(coded(quadrants(), "jpeg", nonsense), tmp_path))
    assert abs(rows[100, 160] - RED).max() <= 12


@pytest.mark.parametrize("orientation", ROW_AND_COLUMN)
def test_a_mask_lies_where_it_was_drawn_on_the_turned_picture(orientation, tmp_path):
    seen = quadrants()
    made = published(coded(stored(seen, orientation), "jpeg", orientation), tmp_path, (Mask("rectangle", ((5, 5), (15, 15))),))
    rows = pixels(tmp_path, made)
    assert abs(rows[40, 64] - 90).max() <= 3
    for y, x, colour in ((100, 250, RED), (40, 576, GREEN), (360, 64, BLUE), (360, 576, WHITE)):
        assert abs(rows[y, x] - colour).max() <= 12


@pytest.mark.parametrize("orientation", ROW_AND_COLUMN)
def test_a_point_as_stored_is_the_point_as_seen(orientation):
    seen = np.zeros((40, 60), int)
    seen[10, 45] = 1
    y, x = np.argwhere(stored(seen, orientation))[0]
    height, width = stored(seen, orientation).shape
    stored_x, stored_y = as_stored((45.5 / 60 * 100, 10.5 / 40 * 100), orientation)
    assert (stored_x, stored_y) == pytest.approx(((x + 0.5) / width * 100, (y + 0.5) / height * 100))


def test_a_drafted_jpeg_shows_the_same_picture_as_one_decoded_in_full(tmp_path):
    # 6000 pixels are decoded at half size; a PNG of the same pixels is not.
    rows = np.repeat(np.repeat(detail(600, 400), 10, 0), 10, 1)
    (tmp_path / "a").mkdir()
    (tmp_path / "b").mkdir()
    drafted = pixels(tmp_path / "a", published(coded(rows, "jpeg"), tmp_path / "a"))
    full = pixels(tmp_path / "b", published(coded(rows, "png", compress_level=1), tmp_path / "b"))
    assert drafted.shape == full.shape == (1600, 2400, 3)
    assert np.abs(drafted - full).mean() < 2
