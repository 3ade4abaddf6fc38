"""Rows that repeat the row above by marks and blanks, and remarks under headings that nobody knows."""

import pytest

HEAD = "datum | wie | oefening | stang | greep | kg | herh | {}\n"


@pytest.mark.parametrize("mark", ['"', "''", "idem", "dito", "〃", ""])
def test_bar_and_grip_hold_on_while_the_exercise_is_repeated(read, mark):
    rows = "ma 2 feb 2026 | Ada Berg | squat | recht | smal | 60 | 5 |\n"
    rows += f" |  | {mark} |  |  | 80 | 3 |\n |  | {mark} |  |  | 100 | 5 |\n |  | bankdrukken |  |  | 60 | 5 |\n"
    logs = read({"log.txt": HEAD.format("opm") + rows})
    assert [(one.exercise, one.bar, one.grip_width) for one in logs.sets] == [
        ("back squat", "straight", "narrow"), ("back squat", "straight", "narrow"),
        ("back squat", "straight", "narrow"), ("bench press", None, None),
    ]  # fmt: skip


@pytest.mark.parametrize("heading", ["opm", "xyz", "bijz.", "???"])
def test_remarks_are_told_by_what_they_say(read, heading):
    rows = "ma 2 feb 2026 | Ada Berg | squat | recht | smal | 60 | 5 | inw\n"
    rows += " |  |  |  |  | 80 | 3 | mislukt\n |  |  |  |  | 100 | 5 | re elleboog 2 erna\n"
    logs = read({"log.txt": HEAD.format(heading) + rows})
    assert [(one.is_warm_up, one.is_failed) for one in logs.sets] == [(True, False), (False, True), (False, False)]
    assert [(one.site, one.side, one.rating) for one in logs.pain] == [("elbow", "right", 2)]


@pytest.mark.parametrize(
    ("cell", "side", "rating"),
    [("4 re", "right", 4), ("1-2 re", "right", 2), ("2,5 re", "right", 2.5), ("2 li", "left", 2), ("li 2", "left", 2),
     ("0", "unknown", 0), ("3 (R)", "right", 3), ("L: 3", "left", 3), ("3, li", "left", 3)],
)  # fmt: skip
def test_ratings_may_name_their_side(read, cell, side, rating):
    text = f'Date,Name,Exercise,kg,Reps,Elbow pain\n2026-03-05,Ada Berg,squat,100,5,"{cell}"\n'
    assert [(one.side, one.rating) for one in read({"log.csv": text}).pain] == [(side, rating)]
