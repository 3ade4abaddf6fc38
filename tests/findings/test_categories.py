"""Sparse ratings merge into the smaller neighbour, never across the event's threshold."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from preflare.models.categories import merge_categories


def ratings(*counts: int) -> np.ndarray:
    """counts[k] reports of rating k."""
    return np.repeat(np.arange(len(counts)), counts).astype(float)


def test_well_filled_categories_stay_apart() -> None:
    merged = merge_categories(ratings(*[10] * 11))
    assert merged.count == 11
    assert merged.event_code == 4


def test_the_sparse_top_merges_downwards() -> None:
    merged = merge_categories(ratings(50, 20, 20, 20, 20, 20, 12, 4, 3, 2, 1))
    assert merged.groups[-1] == (7, 8, 9, 10)
    assert merged.count == 8


def test_a_sparse_category_joins_the_smaller_neighbour() -> None:
    merged = merge_categories(ratings(50, 30, 5, 12, 20, 20, 0, 0, 0, 0, 0))
    assert (2, 3) in merged.groups


def test_nothing_merges_across_three_and_four() -> None:
    # Three is sparse and its smaller neighbour is four, but four is an event and three is none.
    merged = merge_categories(ratings(50, 40, 30, 2, 11, 20, 20, 20, 0, 0, 0))
    assert (2, 3) in merged.groups
    assert merged.groups[merged.event_code][0] == 4


def test_few_events_stay_a_category_of_their_own() -> None:
    merged = merge_categories(ratings(50, 30, 20, 20, 2, 1))
    assert merged.groups[-1][0] >= 4
    assert merged.of(np.array([4.0, 5.0])).tolist() == [4, 4]


def test_no_event_at_all_has_no_event_category() -> None:
    assert merge_categories(ratings(50, 30, 20, 20)).event_code is None


def test_all_ratings_events_have_no_threshold_to_compare() -> None:
    assert merge_categories(ratings(0, 0, 0, 0, 0, 30, 30)).event_code is None


@given(st.lists(st.integers(0, 10), min_size=1, max_size=200), st.integers(1, 10))
def test_codes_keep_order_and_side_of_the_event_whatever_the_reports(reports: list[int], event: int) -> None:
    reported = np.array(reports, dtype=float)
    merged = merge_categories(reported, event)
    codes = merged.of(np.sort(reported))
    assert (np.diff(codes) >= 0).all()
    assert set(codes.tolist()) == set(range(merged.count))
    for group in merged.groups:
        assert max(group) < event or min(group) >= event
