"""Sizes and codings of what is published."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from dossier.publish.pictures.recipe import SIZES, steps
from tests.publish.pictures.made import coded, detail, published


@pytest.mark.parametrize(
    ("stored", "wanted"),
    [
        ((4000, 3000), [("WEBP", 480, 360), ("WEBP", 1200, 900), ("JPEG", 2400, 1800)]),
        ((3000, 4000), [("WEBP", 360, 480), ("WEBP", 900, 1200), ("JPEG", 1800, 2400)]),
        ((2000, 1000), [("WEBP", 480, 240), ("WEBP", 1200, 600), ("JPEG", 2000, 1000)]),
        ((1210, 800), [("WEBP", 480, 317), ("JPEG", 1210, 800)]),
        ((500, 400), [("JPEG", 500, 400)]),
        ((3, 2), [("JPEG", 3, 2)]),
        ((1, 1), [("JPEG", 1, 1)]),
        ((5000, 1), [("WEBP", 480, 1), ("WEBP", 1200, 1), ("JPEG", 2400, 1)]),
    ],
)
def test_the_published_sizes_are_480_1200_and_2400_and_never_above_the_original(stored, wanted, tmp_path):
    rows = np.full((stored[1], stored[0], 3), 100, np.uint8)
    made = published(coded(rows, "jpeg"), tmp_path)
    found = []
    for file in made.files:
        with Image.open(tmp_path / "out" / file.name) as image:
            found.append((image.format, image.width, image.height))
            assert (image.width, image.height) == (file.width, file.height)
            assert file.media_type == f"image/{image.format.lower()}"
            if image.format == "JPEG":
                assert image.info.get("progressive")
    assert found == wanted


@given(width=st.integers(1, 20000), height=st.integers(1, 20000))
def test_no_size_is_above_the_original_nor_empty_and_widths_ascend(width, height):
    made = steps(width, height, SIZES)
    assert made[0][2] == "jpeg"
    assert all(1 <= w <= width and 1 <= h <= height and max(w, h) <= 2400 for w, h, _ in made)
    longest = [max(w, h) for w, h, _ in made]
    assert longest == sorted(set(longest), reverse=True)


def test_a_source_set_names_every_file_with_its_width(tmp_path):
    made = published(coded(detail(2000, 1000), "jpeg"), tmp_path)
    small, middle, large = (file.name for file in made.files)
    assert made.srcset("../img") == f"../img/{small} 480w, ../img/{middle} 1200w, ../img/{large} 2000w"
    assert (made.small.name, made.large.name) == (small, large)


def test_two_runs_give_the_same_bytes(tmp_path):
    data = coded(detail(1500, 1000), "jpeg")
    for name in ("a", "b"):
        (tmp_path / name).mkdir()
    assert published(data, tmp_path / "a") == published(data, tmp_path / "b", name="another-name.jpeg")
