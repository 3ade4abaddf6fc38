"""Sheets with days, weeks or people across, in many arrangements. The logs are invented, and read by eye."""

from datetime import date

import pytest

from preflare.reading.against_plan import done_in_full
from preflare.reading.gear_letters import letters_of_gear


def sets(logs):
    """One line a set: who, day of the year 2026, what, load, repetitions."""
    return [
        (one.athlete.split()[0], f"{one.date:%d.%m}", one.exercise, one.load_kg, one.reps)
        for one in logs.sets
        if one.date.year == 2026
    ]


def pain(logs):
    return [(one.athlete.split()[0], f"{one.date:%d.%m}", one.site, one.side, one.rating) for one in logs.pain]


PLANNED = """,Mon 2/3,,,Wed 4/3,,
Athlete,Exercise,Plan,Done,Exercise,Plan,Done
Ada Berg,Squat SSB,2x5x60,ok,Deadlift,2x5x80,5/4
,Bench,3x6x40,2x6x42.5,Pull-up,2x5xBW,ok
,Elbow pain R,,3,Elbow pain R,,2
Bo Lind,Squat,2x5x100,ok + w/u 1x8x30,Dips,2x5x+10,5-4
"""


def test_plan_and_done_under_each_day_with_people_down(read):
    logs = read({"team 2026.csv": PLANNED})
    assert sets(logs) == [
        ("Ada", "02.03", "back squat", 60, 5),
        ("Ada", "02.03", "back squat", 60, 5),
        ("Ada", "04.03", "deadlift", 80, 5),
        ("Ada", "04.03", "deadlift", 80, 4),
        ("Ada", "02.03", "bench press", 42.5, 6),
        ("Ada", "02.03", "bench press", 42.5, 6),
        ("Ada", "04.03", "pull-up", None, 5),
        ("Ada", "04.03", "pull-up", None, 5),
        ("Bo", "02.03", "back squat", 100, 5),
        ("Bo", "02.03", "back squat", 100, 5),
        ("Bo", "02.03", "back squat", 30, 8),
        ("Bo", "04.03", "dip", 10, 5),
        ("Bo", "04.03", "dip", 10, 4),
    ]
    assert pain(logs) == [("Ada", "02.03", "elbow", "right", 3), ("Ada", "04.03", "elbow", "right", 2)]
    assert [one.bar for one in logs.sets[:2]] == ["safety", "safety"]


CARD = """Session 2026-03-05,,
,Ada,Bo
Squat,,
Bar,SSB,straight
Grip,,N
w/u,40x5,60x5
1,60x5,100x5
2,62.5x5,\"\"\"\"
RPE,8,9
Fjordling push and pull,,
1,40x6,80x6
Elbow R,2,0
Notes,,right elbow 4 during the last set
Kit wash,2 of 2,
"""


def test_people_across_with_sets_bar_grip_and_effort_in_rows_of_their_own(read):
    logs = read({"gym.csv": CARD})
    squats = [one for one in logs.sets if one.exercise == "back squat"]
    assert [(one.athlete, one.load_kg, one.rpe, one.is_warm_up) for one in squats] == [
        ("Ada", 40, None, True),
        ("Bo", 60, None, True),
        ("Ada", 60, None, False),
        ("Bo", 100, None, False),
        ("Ada", 62.5, 8, False),
        ("Bo", 100, 9, False),
    ]
    assert {(one.athlete, one.bar, one.grip_width) for one in squats} == {
        ("Ada", "safety", None),
        ("Bo", "straight", "narrow"),
    }
    others = [(one.exercise, one.exercise_written, one.load_kg) for one in logs.sets if one not in squats]
    assert others == [("unknown", "Fjordling push and pull", 40), ("unknown", "Fjordling push and pull", 80)]
    assert [(one.athlete, one.rating, one.origin) for one in logs.pain] == [
        ("Ada", 2, "column"),
        ("Bo", 0, "column"),
        ("Bo", 4, "note"),
    ]
    assert [one.value for one in logs.rejected if one.is_whole_row] == ["Kit wash | 2 of 2 | "]


WEEKS = """Day,Exercise,Week 1 (5 Jan),Week 2 (12 Jan)
Mon,Squat,2x5 @100,2x5 @102.5
,Bench,1x5 @60,1x5 @62.5
Thu,Deadlift,1x5 @140,same
,Elbow (0-10),3,4
"""
WEEK_LINES = """Training log Ada Berg 2026,,,
,Mon,Wed,Fri
Week of 5 January,,,
Squat,2x5 @100,,
Bench,,1x5 @60,
Elbow,,,3
Week of 12 January,,,
Squat,2x5 @102.5,,
"""
WEEKDAYS_AND_DATES = """,Montag,Mittwoch,Freitag
,5.1.,7.1.,9.1.
Kniebeuge,2x5 @100,,
Bankdrücken,,1x5 @60,
Schmerz Ellbogen re,,,3
,Montag,Mittwoch,Freitag
,12.1.,14.1.,16.1.
Kniebeuge,2x5 @102.5,,
"""
SESSIONS = """,Session 1 - 5 January,Session 2 - 7 January,Session 3: 9 January,Session 4: 12 January
Squat,100x5 100x5,,,102.5x5 102.5x5
Bench,,60x5,,
elbow,,,3,
"""


@pytest.mark.parametrize("text", [WEEK_LINES, WEEKDAYS_AND_DATES, SESSIONS])
def test_days_across_however_they_are_told(read, text):
    logs = read({"Ada Berg 2026.csv": text})
    assert sorted(sets(logs)) == [
        ("Ada", "05.01", "back squat", 100, 5),
        ("Ada", "05.01", "back squat", 100, 5),
        ("Ada", "07.01", "bench press", 60, 5),
        ("Ada", "12.01", "back squat", 102.5, 5),
        ("Ada", "12.01", "back squat", 102.5, 5),
    ]
    assert [one[:3] + one[4:] for one in pain(logs)] == [("Ada", "09.01", "elbow", 3)]


def test_weeks_across_and_weekdays_down(read):
    logs = read({"Ada Berg 2026.csv": WEEKS})
    assert ("Ada", "15.01", "deadlift", 140, 5) in sets(logs)
    assert ("Ada", "12.01", "bench press", 62.5, 5) in sets(logs)
    assert [one[1:] for one in pain(logs)] == [("08.01", "elbow", "unknown", 3), ("15.01", "elbow", "unknown", 4)]


def test_sets_across_under_each_day(read):
    text = ",2 March,,,5 March,,\nExercise,S1,S2,S3,S1,S2,S3\nSquat,60x5,62.5x5,65x5,60x5,,\nBench,40x6,,,42.5x6,,\n"
    assert sets(read({"Ada Berg 2026.csv": text})) == [
        ("Ada", "02.03", "back squat", 60, 5),
        ("Ada", "02.03", "back squat", 62.5, 5),
        ("Ada", "02.03", "back squat", 65, 5),
        ("Ada", "05.03", "back squat", 60, 5),
        ("Ada", "02.03", "bench press", 40, 6),
        ("Ada", "05.03", "bench press", 42.5, 6),
    ]


def test_loads_and_repetitions_in_rows_of_their_own(read):
    text = ",2 March,5 March\nSquat,,\nkg,100,105\nreps,5/5,5/4\nBench,,\nkg,60,62.5\nreps,6/6,6/6\nElbow R,2,3\n"
    logs = read({"Ada Berg 2026.csv": text})
    assert sets(logs)[:4] == [
        ("Ada", "02.03", "back squat", 100, 5),
        ("Ada", "02.03", "back squat", 100, 5),
        ("Ada", "05.03", "back squat", 105, 5),
        ("Ada", "05.03", "back squat", 105, 4),
    ]
    assert len(logs.sets) == 8
    assert [one.rating for one in logs.pain] == [2, 3]


def test_days_across_and_people_down_with_the_lift_in_the_title(read):
    text = "Back squat 2026,,,\nName,2 March,5 March,9 March\nAda Berg,1x5x60,,2x5x65\nBo Lind,,1x5x105,\n"
    assert sets(read({"squat.csv": text})) == [
        ("Ada", "02.03", "back squat", 60, 5),
        ("Ada", "09.03", "back squat", 65, 5),
        ("Ada", "09.03", "back squat", 65, 5),
        ("Bo", "05.03", "back squat", 105, 5),
    ]


def test_a_day_that_became_a_number_is_found_among_its_neighbours(read):
    text = "Ada Berg 2026,,,,\n,29.09.,6.1,13.10.,20.10.\nSquat,1x5x60,1x5x61,1x5x62,1x5x63\n"
    logs = read({"log.csv": text})
    assert [one.date for one in logs.sets] == [
        date(2026, 9, 29),
        date(2026, 10, 6),
        date(2026, 10, 13),
        date(2026, 10, 20),
    ]


@pytest.mark.parametrize(
    ("done", "plan", "whole"),
    [
        ("ok", "3x5x100", "3x5x100"),
        ("5/5/4", "3x5x100", "100x5; 100x5; 100x4"),
        ("5-4", "3x5x100", "100x5; 100x4"),
        ("4/4 na 80", "3x5x100", "80x4; 80x4"),
        ("100 = 105(4)", "3x5", "100x5; 100x5; 105x4"),
        ("BW BW+5", "2x6", "BW x6; BW+5 x6"),
        ("5/4", "2x5x+10", "BW+10x5; BW+10x4"),
        ("3x5x90", "3x5x100", None),
        ("fait léger", "3x5x100", None),
        ("35", "3x5x100", None),
        ("4 of 4", "3x5", None),
    ],
)
def test_what_was_done_is_told_against_the_plan(lexicon, done, plan, whole):
    assert done_in_full(done, plan, lexicon) == whole


@pytest.mark.parametrize(
    ("values", "column", "meant"),
    [
        ("N M W", "grip", "narrow medium wide"),
        ("M W", "grip", "medium wide"),
        ("e m w", "grip", "narrow medium wide"),
        ("ś w sz", "grip", "medium narrow wide"),
        ("s m b", "grip", "narrow medium wide"),
        ("R S C", "bar", "straight safety cambered"),
        ("A B", "position", "high low"),
        ("h t", "position", "high low"),
        ("w", "grip", ""),  # wide in English, narrow in Polish
        ("X Y", "bar", ""),
    ],
)
def test_letters_are_told_by_all_of_a_column(lexicon, values, column, meant):
    found = letters_of_gear(values.split(), column, lexicon)
    assert found == (dict(zip(values.split(), meant.split(), strict=True)) if meant else {})
