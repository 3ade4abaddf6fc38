"""Ratings with days across and people down: the site stands in the line above, a side below each day or none.

Common practice, no published source.
"""

import pytest

TITLES = [  # line above, corner, letters of left and right, place
    ("Elbow pain 0-10, asked the next morning", "Athlete", "L", "R", "elbow"),
    ("Schmerz Ellbogen 0-10, am nächsten Morgen", "Name", "li", "re", "elbow"),
    ("Douleur au coude 0-10, le lendemain matin", "Athlète", "G", "D", "elbow"),
    ("Dolor de codo 0-10, a la mañana siguiente", "Atleta", "I", "D", "elbow"),
    ("Dolore al gomito 0-10, la mattina dopo", "Atleta", "sx", "dx", "elbow"),
    ("Dor no cotovelo 0-10, na manhã seguinte", "Atleta", "E", "D", "elbow"),
    ("Pijn elleboog 0-10, volgende ochtend", "Naam", "L", "R", "elbow"),
    ("Ból łokcia 0-10, następnego ranka", "Imię", "L", "P", "elbow"),
    ("Smerte albue 0-10, neste morgen", "Navn", "V", "H", "elbow"),
    ("Smerte albue 0-10, næste morgen", "Navn", "V", "H", "elbow"),
    ("Smärta armbåge 0-10, nästa morgon", "Namn", "V", "H", "elbow"),
    ("Wrist pain 0-10 (asked the next morning)", "Name", "L", "R", "wrist"),
]


def told(logs):
    return sorted((one.athlete, str(one.date), one.site, one.side, one.rating) for one in logs.pain)


@pytest.mark.parametrize("row", TITLES, ids=[row[0] for row in TITLES])
def test_each_rating_is_of_its_person_day_and_side(read, row):
    title, corner, left, right, site = row
    lines = [
        f"{title};;;;;;", f"{corner};14.09.2026;;17.09.2026;;21.09.2026;",
        f";{left};{right};{left};{right};{left};{right}",
        "Ada;0;2;1;3;0;4", "Bo;;1;;2;3;",
    ]  # fmt: skip
    logs = read({"Pain.csv": "\n".join(lines) + "\n"})
    days = sorted({str(one.date) for one in logs.pain})
    ada = [(0, 2), (1, 3), (0, 4)]
    wanted = [("Ada", day, site, "left", pair[0]) for day, pair in zip(days, ada, strict=True)]
    wanted += [("Ada", day, site, "right", pair[1]) for day, pair in zip(days, ada, strict=True)]
    wanted += [("Bo", days[0], site, "right", 1), ("Bo", days[1], site, "right", 2), ("Bo", days[2], site, "left", 3)]
    assert told(logs) == sorted(wanted)
    assert {one.moment for one in logs.pain} == {"next morning"}
    assert not logs.sets


def test_blocks_below_one_another_keep_their_own_site(read):
    lines = [
        "Elbow pain 0-10;;;", "Athlete;14.09.2026;17.09.2026;21.09.2026", "Ada;2;2-3;20", "Bo;;;1", ";;;",
        "Upper arm pain 0-10;;;", "Athlete;14.09.2026;17.09.2026;21.09.2026", "Ada;4;;", "Bo;;;",
    ]  # fmt: skip
    logs = read({"Pain.csv": "\n".join(lines) + "\n"})
    assert told(logs) == [
        ("Ada", "2026-09-14", "elbow", "unknown", 2), ("Ada", "2026-09-14", "upper arm", "unknown", 4),
        ("Ada", "2026-09-17", "elbow", "unknown", 3), ("Bo", "2026-09-21", "elbow", "unknown", 1),
    ]  # fmt: skip
    assert any(one.value == "20" for one in logs.rejected)


def test_loads_below_a_line_about_pain_are_no_ratings(read):
    lines = [
        "No elbow pain please;;;", "Athlete;14.09.2026;17.09.2026;21.09.2026", "Ada;100;105;110", "Bo;60;62,5;65",
    ]  # fmt: skip
    logs = read({"Squat.csv": "\n".join(lines) + "\n"})
    assert not logs.pain
