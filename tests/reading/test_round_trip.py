"""Known sets written in any layout are read back equal: a plain table, a table by exercise, shorthand, and a grid."""

import csv
import io
from datetime import date, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import given, settings
from hypothesis import strategies as st

from examples import examples
from preflare.reading import read_logs
from preflare.settings import parse_settings

MONDAY = date(2026, 1, 12)
PEOPLE = ["Ada Berg", "Łucja Dahl", "Cy Eklund"]
EXERCISES = {"squat": "back squat", "Bankdrücken": "bench press", "soulevé de terre": "deadlift", "wiosłowanie": "row"}

SETS = st.lists(
    # 60 to 150 kg: within what one athlete may lift, so that no load is set aside as a slip.
    st.tuples(st.integers(240, 600).map(lambda quarter: quarter / 4), st.integers(1, 15)),
    min_size=1,
    max_size=5,
)
SESSIONS = st.dictionaries(
    st.tuples(
        st.sampled_from(PEOPLE), st.integers(0, 3), st.sampled_from([0, 2, 4]), st.sampled_from(sorted(EXERCISES))
    ),
    SETS,
    min_size=1,
    max_size=8,
)


def truth(sessions):
    """(athlete, day, exercise, load, reps) of every set, sorted."""
    return sorted(
        (who, MONDAY + timedelta(days=7 * week + day), EXERCISES[exercise], load, reps)
        for (who, week, day, exercise), sets in sessions.items()
        for load, reps in sets
    )


def number(value, comma):
    return format(value, "g").replace(".", ",") if comma else format(value, "g")


def day_of(week, day, style):
    when = MONDAY + timedelta(days=7 * week + day)
    return {"iso": when.isoformat(), "dots": when.strftime("%d.%m.%Y"), "words": when.strftime("%d %B %Y")}[style]


def plain(sessions, comma, style):
    rows = [["Date", "Name", "Exercise", "Weight (kg)", "Reps"]]
    for (who, week, day, exercise), sets in sessions.items():
        rows += [[day_of(week, day, style), who, exercise, number(load, comma), str(reps)] for load, reps in sets]
    return rows


def across(sessions, comma, style):
    rows = [["Datum", "Name", "Übung", *[f"Satz {k}" for k in range(1, 6)]]]
    for (who, week, day, exercise), sets in sessions.items():
        rows.append(
            [day_of(week, day, style), who, exercise, *[f"{number(load, comma)}x{reps}" for load, reps in sets]]
        )
    return [[*row, *[""] * (8 - len(row))] for row in rows]


def short(sessions, comma, style):
    rows = [["Date", "Athlete", "Work"]]
    for (who, week, day, exercise), sets in sessions.items():
        rows.append(
            [
                day_of(week, day, style),
                who,
                f"{exercise}: " + "; ".join(f"1x{reps} @{number(load, comma)}" for load, reps in sets),
            ]
        )
    return rows


def grid(sessions, comma, style):
    rows = [["Name", "Day", "Exercise", *[f"Week {k}" for k in range(1, 5)]]]
    cells = {}
    for (who, week, day, exercise), sets in sessions.items():
        cells.setdefault((who, day, exercise), [""] * 4)[week] = ", ".join(
            f"{number(load, comma)}x{reps}" for load, reps in sets
        )
    return rows + [
        [who, ("Mon", "", "Wed", "", "Fri")[day], exercise, *weeks] for (who, day, exercise), weeks in cells.items()
    ]


@given(
    sessions=SESSIONS,
    layout=st.sampled_from([plain, across, short, grid]),
    comma=st.booleans(),
    style=st.sampled_from(["iso", "dots", "words"]),
    delimiter=st.sampled_from(";\t"),
)
@settings(max_examples=examples(120), deadline=None)
def test_known_sets_come_back_from_any_layout(sessions, layout, comma, style, delimiter):
    stream = io.StringIO()
    csv.writer(stream, delimiter=delimiter, lineterminator="\n").writerows(layout(sessions, comma, style))
    season = "[season]\nfrom = 2026-01-12\nto = 2026-03-01"
    with TemporaryDirectory() as folder:
        path = Path(folder) / "squad log.csv"
        path.write_text(stream.getvalue(), encoding="utf-8")
        logs = read_logs([path], parse_settings(season), today=date(2026, 11, 25))
    found = sorted((s.athlete, s.date, s.exercise, s.load_kg, s.reps) for s in logs.sets)
    assert found == truth(sessions), stream.getvalue()
