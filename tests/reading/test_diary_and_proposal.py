"""Diaries without columns, grids by weekday, and the [[source]] block that the reader proposes."""

import tomllib
from datetime import date

import pytest

from preflare.errors import UsageError
from preflare.reading import propose_sources
from preflare.settings import parse_settings

DIARY = """Training diary 2026

Mon 12 Jan
Squat 60x5 w/u, 100x5, 110x5 RPE 8
Bench 2x5 @60
left elbow 3/10 afterwards

Thu 15 Jan
Squat (SSB) 2x4 @ 95
no elbow pain today
"""


def test_a_diary_of_text_lines(read):
    logs = read({"diary Ada Berg.txt": DIARY})
    assert [(s.date.day, s.exercise, s.bar, s.load_kg, s.reps, s.is_warm_up) for s in logs.sets] == [
        (12, "back squat", None, 60, 5, True),
        (12, "back squat", None, 100, 5, False),
        (12, "back squat", None, 110, 5, False),
        *[(12, "bench press", None, 60, 5, False)] * 2,
        *[(15, "back squat", "safety", 95, 4, False)] * 2,
    ]
    assert [(p.date.day, p.site, p.side, p.rating) for p in logs.pain] == [
        (12, "elbow", "left", 3),
        (15, "elbow", "unknown", 0),
    ]
    assert {s.athlete for s in logs.sets} == {"Ada Berg"}


def test_a_line_with_numbers_that_is_no_work_is_rejected(read):
    logs = read({"diary Ada Berg.txt": DIARY + "something 12 of 17\n"})
    assert [r.value for r in logs.rejected] == ["something 12 of 17"]


def test_weekdays_across_and_the_week_in_the_line_above(read):
    text = "Week of 5 January 2026,,\nMonday,Wednesday,Friday\nSquat 1x5 @80,Bench 1x8 @50,Squat 1x3 @90\n"
    logs = read({"Ada Berg.csv": text})
    assert [(s.date, s.exercise, s.load_kg) for s in logs.sets] == [
        (date(2026, 1, 5), "back squat", 80),
        (date(2026, 1, 7), "bench press", 50),
        (date(2026, 1, 9), "back squat", 90),
    ]


def test_days_written_under_a_heading_for_weekdays_are_dates(read):
    logs = read({"Ada Berg 2026.csv": "Day,Exercise,Load,Reps\n13/1,Squat,100,5\n"})
    assert [s.date for s in logs.sets] == [date(2026, 1, 13)]


def test_section_rows_name_the_person_or_the_exercise(read):
    people = "Date,Exercise,Load kg,Reps\nAda Berg,,,\n2026-01-06,Squat,100,5\nBo Dahl,,,\n2026-01-06,Squat,140,5\n"
    assert [(s.athlete, s.load_kg) for s in read({"squad.csv": people}).sets] == [("Ada Berg", 100), ("Bo Dahl", 140)]
    exercises = "Date,Weight,Reps\nBack squat,,\n2026-01-05,100,5\nBench press,,\n2026-01-05,60,8\n"
    logs = read({"squad.csv": "Date,Name,Exercise,Load,Reps\n", "Zed Quinn.csv": exercises})
    assert [(s.exercise, s.load_kg) for s in logs.sets] == [("back squat", 100), ("bench press", 60)]


def test_the_proposal_is_toml_once_its_marks_are_taken_away(read):
    text = "Datum;Name;Übung;Stange;Last (lb);Wdh;Zeug\n13.1.2026;Ada Berg;Kniebeuge;ox bar;220;5;q\n"
    text += "13.1.2026;Ada Bergh;sqwaat;ox bar;220;5;q\n"
    proposal = propose_sources(read({"log.csv": text}))
    lines = [line[2:] for line in proposal.splitlines() if line.startswith("# ") and not line.startswith("#   ")]
    toml = "\n".join(line for line in lines if " = " in line or line.startswith("["))
    settings = parse_settings(toml)
    assert (settings.source[0].file, settings.source[0].day_first, settings.source[0].unit) == ("log.csv", True, "lb")
    assert settings.source[0].columns["Zeug"] == "not known, not read"
    assert settings.source[0].columns["Last (lb)"] == "load, lb"
    assert settings.words.exercise == {"back squat": ["sqwaat"]}
    assert tomllib.loads(toml)["athlete"][0]["name"] in {"Ada Berg", "Ada Bergh"}


def test_the_proposal_as_it_stands_changes_nothing(read):
    logs = read({"log.csv": "Date,Name,Exercise,Load,Reps\n2026-01-05,Ada Berg,squat,100,5\n"})
    assert parse_settings(propose_sources(logs)) == parse_settings("")


def test_the_proposal_put_into_season_toml_reads_the_same(read):
    text = "Datum;Name;Kniebeuge;Ellenbogen links nach dem Training;sRPE\n13.1.2026;Ada Berg;3x5 @100;3;7\n"
    logs = read({"log.csv": text})
    lines = [line[2:] for line in propose_sources(logs).splitlines() if line.startswith("# ")]
    toml = "\n".join(line for line in lines if line.startswith(("[[", "file", "day_first", "unit", "columns")))
    again = read({"log.csv": text}, toml)
    assert (again.sets, again.pain, again.sessions) == (logs.sets, logs.pain, logs.sessions)
    assert len(again.sets) == 3
    assert [(p.site, p.side, p.moment) for p in again.pain] == [("elbow", "left", "after")]


def test_a_misspelt_kind_of_column_is_said_with_the_nearest_one(read):
    with pytest.raises(UsageError, match=r'"Wt" = "lod" names no kind of column. Did you mean "load"'):
        read({"log.csv": "x"}, '[[source]]\nfile = "log.csv"\ncolumns = { Wt = "lod" }')


@pytest.mark.parametrize(
    ("title", "name"),
    [
        ("Training diary Ada Berg 2026", "Ada Berg"),
        ("Treningsdagbok 2026 Sindre Hauge", "Sindre Hauge"),
        ("Journal d'Émeric Vautrin 2026", "Émeric Vautrin"),
    ],
)
def test_a_diary_is_that_of_the_person_whom_its_title_names_behind_other_words(read, title, name):
    logs = read({"notes.txt": f"{title}\n\nMon 5 Jan\nSquat 3x5 @100\n\nThu 8 Jan\nBench 3x5 @60\n"})
    assert {one.athlete for one in logs.sets} == {name}
