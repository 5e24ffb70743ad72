"""What lies beneath a mask is gone from every published size, and nothing else is."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dossier.model.picture import Mask
from dossier.publish.pictures.masks import cover
from tests.publish.pictures.made import coded, detail, pixels, published, quadrants, request, run_of

BLOCK = 16
PER_CENT = st.floats(0, 100, allow_nan=False)
POINT = st.tuples(PER_CENT, PER_CENT)


def inside(size: tuple[int, int], outline: list[tuple[float, float]]) -> np.ndarray:
    """Pixels that an outline winds round or touches, by the sum of the angles under which its sides are seen."""
    width, height = size
    y, x = np.mgrid[0:height, 0:width] + 0.5
    corners = [(a / 100 * width, b / 100 * height) for a, b in outline]
    turned = np.zeros((height, width))
    for (ax, ay), (bx, by) in zip(corners, corners[1:] + corners[:1], strict=True):
        step = np.arctan2(by - y, bx - x) - np.arctan2(ay - y, ax - x)
        turned += (step + math.pi) % (2 * math.pi) - math.pi
    found = np.abs(turned) > math.pi
    # And the pixels through which the outline itself passes.
    for (ax, ay), (bx, by) in zip(corners, corners[1:] + corners[:1], strict=True):
        along = np.linspace(0, 1, 2000)
        px, py = (ax + (bx - ax) * along).astype(int), (ay + (by - ay) * along).astype(int)
        found[py.clip(0, height - 1), px.clip(0, width - 1)] = True
    return found


def blocks_round(inner: np.ndarray) -> np.ndarray:
    """Every pixel of the blocks that `inner` touches and of the blocks beside them."""
    wanted = np.zeros_like(inner)
    for row, column in {(y // BLOCK, x // BLOCK) for y, x in np.argwhere(inner)}:
        wanted[max(0, row - 1) * BLOCK : (row + 2) * BLOCK, max(0, column - 1) * BLOCK : (column + 2) * BLOCK] = True
    return wanted


@settings(max_examples=50, deadline=None)
@given(size=st.tuples(st.integers(1, 150), st.integers(1, 150)), outline=st.lists(POINT, min_size=3, max_size=7))
def test_a_polygon_covers_all_it_winds_round_and_one_block_more(size, outline):
    covered = np.asarray(cover(size, outline)) == 255
    assert covered[blocks_round(inside(size, outline))].all()


@settings(max_examples=50, deadline=None)
@given(corners=st.tuples(POINT, POINT), size=st.tuples(st.integers(1, 200), st.integers(1, 200)))
def test_a_rectangle_covers_itself_and_one_block_more_but_not_three(corners, size):
    width, height = size
    mask = Mask("rectangle", corners)
    covered = np.asarray(cover(size, list(mask.outline))) == 255
    (ax, ay), (bx, by) = corners
    left, right = sorted((ax / 100 * width, bx / 100 * width))
    top, bottom = sorted((ay / 100 * height, by / 100 * height))
    y, x = np.mgrid[0:height, 0:width]
    beneath = (x + 1 > left) & (x < right) & (y + 1 > top) & (y < bottom)
    assert covered[blocks_round(beneath)].all()
    far = (x < left - 3 * BLOCK) | (x > right + 3 * BLOCK) | (y < top - 3 * BLOCK) | (y > bottom + 3 * BLOCK)
    assert not covered[far].any()


def test_a_crossing_outline_leaves_no_hole_in_its_middle():
    star = [(50 + 45 * math.sin(k * 4 * math.pi / 5), 50 - 45 * math.cos(k * 4 * math.pi / 5)) for k in range(5)]
    assert np.asarray(cover((600, 600), star))[300, 300] == 255


@pytest.mark.parametrize("format", ["jpeg", "png", "tiff"])
@pytest.mark.parametrize("orientation", [1, 6])
def test_two_pictures_that_differ_beneath_the_mask_only_are_published_as_the_same_bytes(format, orientation, tmp_path):
    one = detail(1600, 1200)
    other = one.copy()
    other[520:641, 700:861] = detail(161, 121, seed=9)[:, :, ::-1]
    # In per cent of the picture as seen; orientation 6 turns the stored rows a quarter clockwise.
    left, right, top, bottom = 700 / 16, 861 / 16, 520 / 12, 641 / 12
    corners = ((left, top), (right, bottom)) if orientation == 1 else ((100 - bottom, left), (100 - top, right))
    more = {"quality": 60, "subsampling": 2} if format == "jpeg" else {}
    sources = []
    for name, rows in (("a", one), ("b", other)):
        (tmp_path / name).write_bytes(coded(rows, format, orientation, **more))
        sources.append(request(tmp_path / name, name, (Mask("rectangle", corners),)))
    assert sources[0].sha256 != sources[1].sha256
    made = run_of(sources, tmp_path).renditions
    assert made["a"] == made["b"]


def test_a_mask_on_a_picture_decoded_at_half_size_lets_nothing_through(tmp_path):
    one = np.full((3200, 4900, 3), 200, np.uint8)
    other = one.copy()
    other[1000:1100, 2000:2300] = detail(300, 100)
    mask = Mask("polygon", ((2000 / 49, 1000 / 32), (2300 / 49, 1000 / 32), (2300 / 49, 1100 / 32), (2000 / 49, 1100 / 32)))
    sources = []
    for name, rows in (("a", one), ("b", other)):
        (tmp_path / name).write_bytes(coded(rows, "jpeg", subsampling=2, quality=80))
        sources.append(request(tmp_path / name, name, (mask,)))
    made = run_of(sources, tmp_path).renditions
    assert made["a"] == made["b"]
    rows = pixels(tmp_path, made["a"])
    assert abs(rows[round(1050 / 3200 * rows.shape[0]), round(2150 / 4900 * rows.shape[1])] - 90).max() <= 3


@pytest.mark.parametrize("mode", ["L", "CMYK", "P", "RGBA", "1", "I;16"])
def test_a_mask_is_a_dark_even_grey_in_every_colour_mode(mode, tmp_path):
    rows = detail(800, 600)
    sixteen = rows[:, :, 0].astype(np.uint16) * 257
    data = coded(sixteen, "png") if mode == "I;16" else coded(rows, "tiff" if mode == "CMYK" else "png", mode=mode)
    made = published(data, tmp_path, (Mask("rectangle", ((40, 40), (60, 60))),))
    for which in range(len(made.files)):
        seen = pixels(tmp_path, made, which)
        height, width = seen.shape[:2]
        beneath = seen[int(height * 0.41) : int(height * 0.59), int(width * 0.41) : int(width * 0.59)]
        assert abs(beneath - 90).max() <= 6


def test_one_photograph_under_different_masks_is_published_as_different_files(tmp_path):
    (tmp_path / "p.jpg").write_bytes(coded(quadrants(1600, 1200), "jpeg"))
    asked = [request(tmp_path / "p.jpg", "owner"), request(tmp_path / "p.jpg", "public", (Mask("rectangle", ((0, 0), (50, 50))),))]
    made = run_of(asked, tmp_path, tmp_path / "cache").renditions
    assert not {file.name for file in made["owner"].files} & {file.name for file in made["public"].files}
    again = run_of(asked[::-1], tmp_path, tmp_path / "cache")
    assert again.made == 0
    assert again.renditions == made


@pytest.mark.parametrize(
    ("kind", "points"),
    [
        ("rectangle", ((1, 1), (2, 2), (3, 3))),
        ("rectangle", ((1, 1),)),
        ("polygon", ((1, 1), (2, 2))),
        ("polygon", ()),
        ("circle", ((1, 1), (2, 2))),
        ("rectangle", ((10, 10), (400, 300))),
        ("rectangle", ((-1, 10), (40, 30))),
        ("polygon", ((1, 1), (2, float("nan")), (3, 3))),
        ("rectangle", ((1, 1), (float("inf"), 3))),
    ],
)
def test_a_mask_that_could_miss_its_mark_is_refused(kind, points):
    with pytest.raises(ValueError, match=r"mask|rectangle|polygon"):
        Mask(kind, points)
