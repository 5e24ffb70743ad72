"""Letters keep apart, fit their room, and numbers are printed as the sheets print them."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from dossier.pages.parts.plots import lettering


@given(st.lists(st.floats(0, 1000), max_size=12), st.floats(1, 40))
def test_spread_labels_keep_their_order_and_their_distance(wanted, gap):
    placed = lettering.spread(wanted, gap)
    order = sorted(range(len(wanted)), key=lambda i: (wanted[i], i))
    for i, j in pairwise(order):
        assert placed[j] - placed[i] >= gap - 1e-6


def test_labels_that_are_far_enough_apart_stay_where_they_are():
    assert lettering.spread([10, 200, 100], 20) == [10, 200, 100]


def test_two_labels_at_one_place_move_by_half_a_gap_each_way():
    assert lettering.spread([100, 100], 20) == [90, 110]


def test_spread_labels_stay_inside_their_room():
    assert lettering.spread([0, 1, 2], 10, low=5, high=100) == [5, 15, 25]
    assert lettering.spread([99, 99], 10, low=0, high=100) == [90, 100]


@given(st.text(max_size=60), st.floats(20, 300))
def test_a_fitted_line_is_never_wider_than_its_room(words, room):
    assert lettering.width_of(lettering.fit(words, room, 15), 15) <= max(room, lettering.width_of("…", 15)) + 1e-9


def test_a_line_with_room_is_left_alone():
    assert lettering.fit("Front brake drum diameter", 300, 15) == "Front brake drum diameter"


def test_lines_are_as_wide_as_a_browser_measures_them():
    # getComputedTextLength of the shipped woff2 letters in Chromium, pixels.
    assert abs(lettering.width_of("Front brake drum diameter", 15) - 146.2) < 0.5
    assert abs(lettering.width_of("cannot be decided", 15, strong=True) - 105.7) < 0.5
    assert abs(lettering.width_of("16,777 km/h 0123", 14.5) - 95.0) < 0.5


def test_numbers_have_commas_true_minuses_and_no_minus_before_nought():
    assert lettering.plain(-16777) == "−16,777"
    assert lettering.plain(-0.2) == "0"
    assert lettering.signed(4380) == "+4,380"
    assert lettering.signed(0.2) == "0"
    assert lettering.short(194.0, 1) == "194"
    assert lettering.short(1300.0) == "1,300"
    assert lettering.short(82.95, 2) == "82.95"
