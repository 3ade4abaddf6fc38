"""The data gate and how many more athletes an answer would need, counted by hand."""

import math

import pytest

from findings.squat_rows import many, sessions
from preflare.findings.contrasts import FAMILY
from preflare.findings.gate import (
    FEWEST_CONTRIBUTING,
    FEWEST_EVENTS,
    FEWEST_EXPOSED,
    Counts,
    count,
    gate,
    more_athletes,
)
from preflare.findings.grade import ADJUSTED_LIMIT, LEANING_LIMIT
from preflare.models.rows import modelling_rows
from preflare.settings import Settings

CONTRAST = {contrast.id: contrast for contrast in FAMILY}


def counts(contributing: int = 6, exposed: int = 30, events: int = 30) -> Counts:
    return Counts(10, contributing, 500, 400, exposed, events)


@pytest.mark.parametrize(
    ("having", "short"),
    [
        (counts(), ()),
        (counts(contributing=5), ("contributing",)),
        (counts(exposed=29), ("exposed",)),
        (counts(events=29), ("events",)),
        (counts(0, 0, 0), ("contributing", "exposed", "events")),
    ],
)
def test_six_contributing_thirty_exposed_thirty_events(having: Counts, short: tuple[str, ...]) -> None:
    assert gate(having) == short


def test_contributing_counts_three_reported_sessions_at_each_of_the_two_levels() -> None:
    rows = modelling_rows(
        sessions([
            *many(3, "Ada Example"), *many(3, "Ada Example", bar="safety"),
            # Bo has three on the safety bar, but only two on the straight one: the cambered sessions are no reference.
            *many(2, "Bo Example"), *many(3, "Bo Example", bar="safety"), *many(3, "Bo Example", bar="cambered"),
            # Cy has three of each, one of them without a rating.
            *many(3, "Cy Example"), *many(2, "Cy Example", bar="safety"),
            *many(1, "Cy Example", bar="safety", rating=float("nan")),
        ])
    )  # fmt: skip
    found = count(CONTRAST["safety"], rows, 4)
    assert (found.athletes, found.contributing, found.exposed) == (3, 1, 8)
    assert (found.sessions, found.reported) == (20, 19)


def test_every_reporting_athlete_contributes_to_an_amount() -> None:
    rows = modelling_rows(sessions([*many(1, "Ada Example", rating=5.0), *many(4, "Bo Example")]))
    found = count(CONTRAST["intensity"], rows, 4)
    assert (found.contributing, found.exposed, found.events) == (2, 5, 1)


def test_grip_counts_only_where_it_applies() -> None:
    forward = many(3, bar="safety", grip_width=None, bar_position=None)
    rows = modelling_rows(sessions([*many(3, grip_width="narrow"), *many(2), *forward]))
    assert count(CONTRAST["narrow"], rows, 4).contributing == 0
    rows = modelling_rows(sessions([*many(3, grip_width="narrow"), *many(3), *forward]))
    assert count(CONTRAST["narrow"], rows, 4).contributing == 1


def test_an_exposure_left_out_of_the_formula_has_no_contributors() -> None:
    rows = modelling_rows(sessions([*many(9, bar_position=None), *many(4, bar_position="high")]))
    assert count(CONTRAST["high"], rows, 4).exposed == 0


def test_more_athletes_by_the_square_root_rule() -> None:
    # 12 athletes with a standard error of 3 per 100; wanted 5 / 2.8: 12 (3 / 1.7857)^2 - 12 = 21.87.
    assert more_athletes(12, 3.0) == 22


def test_more_athletes_never_asks_for_less_than_the_gate() -> None:
    assert more_athletes(2, 1.0) == 4
    assert more_athletes(0, math.nan) == 6


def test_nobody_more_is_needed_where_the_error_is_small_enough() -> None:
    assert more_athletes(24, 1.2) == 0


def test_without_a_standard_error_only_the_gate_speaks() -> None:
    assert more_athletes(9, math.nan) is None


def test_what_the_program_declares_beforehand_is_what_it_uses() -> None:
    declared = Settings().definitions()
    assert declared["family"] == [contrast.id for contrast in FAMILY]
    assert declared["size"] == {contrast.id: contrast.size for contrast in FAMILY if contrast.size}
    assert declared["reference"] == {c.column: c.reference for c in FAMILY if c.column}
    assert declared["gate"] == {
        "contributing": FEWEST_CONTRIBUTING, "exposed": FEWEST_EXPOSED, "events": FEWEST_EVENTS
    }  # fmt: skip
    assert declared["limit"] == {"clear": ADJUSTED_LIMIT, "leaning": LEANING_LIMIT}
