"""Which ratings stand apart in the ordinal model: sparse neighbours merge, never across the event's
threshold.

A category with few reports gives a threshold that the data cannot place. Merging into the smaller neighbour
loses least; merging across the threshold of the event would make the event itself unreadable, so that line
always stands.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

RATINGS = 11
FEWEST_REPORTS = 10


@dataclass(frozen=True)
class Categories:
    """Ratings 0-10 grouped into ordered categories.

    groups: the ratings of each category, lowest first. code: (11,) category of each rating.
    event_code: the lowest category that is an event (rating >= event), or None when no report reaches it.
    """

    groups: tuple[tuple[int, ...], ...]
    code: NDArray[np.int64]
    event_code: int | None

    @property
    def count(self) -> int:
        return len(self.groups)

    def of(self, rating: NDArray[np.float64]) -> NDArray[np.int64]:
        """Category codes of whole ratings 0-10, same shape."""
        codes: NDArray[np.int64] = self.code[rating.astype(int)]
        return codes


def merge_categories(rating: NDArray[np.float64], event: int = 4, fewest: int = FEWEST_REPORTS) -> Categories:
    """Merge rating categories with fewer than `fewest` reports into the smaller neighbour, never across
    event-1|event.

    rating: (n,) whole numbers 0-10, none missing. Of several sparse categories the lowest merges first.
    A side of the threshold whose reports are all too few stays as one sparse category.
    """
    count = np.bincount(rating.astype(int), minlength=RATINGS)
    groups = [[k] for k in range(RATINGS)]
    while (pair := _next_merge(groups, count, event, fewest)) is not None:
        low, high = pair
        groups[low] = groups[low] + groups.pop(high)
    groups = [group for group in groups if count[group].sum() > 0]
    return _categories(groups, event)


def _next_merge(groups: list[list[int]], count: NDArray[np.int64], event: int, fewest: int) -> tuple[int, int] | None:
    """The next pair of neighbours to merge, as indices into groups; None when every group is large enough."""
    size = [int(count[group].sum()) for group in groups]
    for i, reports in enumerate(size):
        if reports >= fewest:
            continue
        neighbours = [j for j in (i - 1, i + 1) if 0 <= j < len(groups) and _same_side(groups[i], groups[j], event)]
        if neighbours:
            j = min(neighbours, key=lambda neighbour: size[neighbour])
            return min(i, j), max(i, j)
    return None


def _same_side(one: list[int], other: list[int], event: int) -> bool:
    return (one[0] >= event) == (other[0] >= event)


def _categories(groups: list[list[int]], event: int) -> Categories:
    """Code every rating, those of empty groups with the nearest group below on the same side, else above."""
    code = np.zeros(RATINGS, dtype=np.int64)
    for rating in range(RATINGS):
        same = [k for k, group in enumerate(groups) if (group[0] >= event) == (rating >= event)]
        if not same:
            code[rating] = len(groups) - 1 if rating >= event else 0
            continue
        below = [k for k in same if groups[k][0] <= rating]
        code[rating] = below[-1] if below else same[0]
    event_code = next((k for k, group in enumerate(groups) if group[0] >= event), None)
    return Categories(tuple(tuple(group) for group in groups), code, event_code or None)
