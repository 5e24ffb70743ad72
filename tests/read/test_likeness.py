"""Bursts are grouped, and what only looks alike is not."""

from datetime import datetime, timedelta

import numpy as np
import pytest

from dossier.model.picture import PhotoFacts, wrong_order
from dossier.read.likeness import groups
from dossier.read.pictures import probe
from tests.publish.pictures.made import coded, scene

NOON = datetime(2024, 7, 6, 12, 0)


def facts(likeness: str, taken: datetime | None = None, offset: float | None = None) -> PhotoFacts:
    return PhotoFacts(
        "0" * 64, 3, 2, "jpeg", taken=taken, taken_offset=None if offset is None else timedelta(hours=offset), likeness=likeness
    )


def hashed(rows: np.ndarray, folder, format="jpeg", orientation=None, **more) -> PhotoFacts:
    path = folder / f"a.{format}"
    path.write_bytes(coded(rows, format, orientation, **more))
    found, _ = probe(path)
    assert found is not None
    return found


def test_one_scene_shifted_brightened_shrunk_and_turned_is_one_group(tmp_path):
    rows = scene(1)
    alike = {
        "as it is": hashed(rows, tmp_path),
        "shifted": hashed(np.roll(rows, 4, 1), tmp_path),
        "brighter": hashed((rows * 0.8 + 40).astype(np.uint8), tmp_path),
        "small": hashed(np.ascontiguousarray(rows[::2, ::2]), tmp_path),
        "badly coded": hashed(rows, tmp_path, quality=20),
        "stored turned": hashed(np.ascontiguousarray(np.rot90(rows)), tmp_path, orientation=6),
        "other format": hashed(rows, tmp_path, "png"),
        "another scene": hashed(scene(2), tmp_path),
    }
    assert groups(alike) == (tuple(name for name in alike if name != "another scene"),)


def test_pictures_alike_but_hours_apart_are_no_burst():
    photos = {"before": facts("ff00ff00ff00ff00", NOON), "after": facts("ff00ff00ff00ff00", NOON + timedelta(hours=3))}
    assert groups(photos) == ()


def test_a_burst_may_differ_by_more_than_pictures_without_a_date():
    moved = "00000000000007ff"
    assert groups({"a": facts("0" * 16, NOON), "b": facts(moved, NOON + timedelta(seconds=2))}) == (("a", "b"),)
    assert groups({"a": facts("0" * 16), "b": facts(moved)}) == ()


def test_scenes_that_have_nothing_in_common_are_not_grouped(tmp_path):
    assert groups({str(seed): hashed(scene(seed), tmp_path) for seed in range(12)}) == ()


def test_a_walk_of_small_steps_does_not_end_as_one_group():
    walk = {str(step): facts(f"{(1 << 5 * step) - 1:016x}") for step in range(5)}
    assert groups(walk) == (("0", "1"), ("2", "3"))


def test_pictures_without_a_hash_belong_to_no_group():
    assert groups({"a": facts(""), "b": facts("")}) == ()


@pytest.mark.parametrize(
    ("before", "after", "wrong"),
    [
        (facts("", NOON), facts("", NOON + timedelta(days=1)), False),
        (facts("", NOON), facts("", NOON - timedelta(seconds=1)), True),
        (facts("", NOON), facts("", NOON), False),
        (facts("", None), facts("", NOON), False),
        # Noon at +2 is 10:00 UTC; 11:30 at +0 is later although its clock says less.
        (facts("", NOON, 2), facts("", NOON - timedelta(minutes=30), 0), False),
        (facts("", NOON, 0), facts("", NOON + timedelta(minutes=30), 2), True),
        # One offset unknown: certain only beyond the span of all zones.
        (facts("", NOON, 0), facts("", NOON - timedelta(hours=20)), False),
        (facts("", NOON, 0), facts("", NOON - timedelta(hours=27)), True),
    ],
)
def test_a_pair_is_in_the_wrong_order_only_when_its_dates_leave_no_doubt(before, after, wrong):
    assert wrong_order(before, after) is wrong
