"""An invented squad for the tests of the reports: store views with the columns that views_needed lists, and findings.

The figures have no statistical meaning: what is tested is how they are shown.
"""

import random
from datetime import date, timedelta
from typing import Any

import pandas as pd

FIRST, WEEKS = date(2025, 9, 1), 40
GIVEN = ("Agnes", "Bilal", "Carla", "Dario", "Elin", "Femi", "Greta", "Hugo", "Ines", "Jonas", "Kaja", "Luca")
FAMILY = ("Holt", "Rehm", "Voss", "Oren", "Strand")


def people(n: int) -> list[str]:
    """n invented names, in no order."""
    return [f"{GIVEN[i % len(GIVEN)]} {FAMILY[i // len(GIVEN) % len(FAMILY)]}" for i in range(n)]


def invented_views(
    names: list[str],
    *,
    bars: tuple[str, ...] = ("straight", "safety", "cambered"),
    pain: bool = True,
    squats: bool = True,
    seed: int = 1,
) -> dict[str, pd.DataFrame]:
    """Views of a season with gaps, missing reports, a meet, changes, screens, and a page of odd rows."""
    dice = random.Random(seed)
    records: dict[str, list[dict[str, Any]]] = {
        k: [] for k in ("model_frame", "rating_day", "athlete_day", "athlete_week", "response_week")
    }
    for name in names:
        _season_of_one(name, records, dice, bars if squats else (), pain)
    views = {key: pd.DataFrame(rows, columns=_COLUMNS[key]) for key, rows in records.items()}
    for frame in views.values():
        for column in frame.columns.intersection(["date", "week_start"]):
            frame[column] = pd.to_datetime(frame[column])
    return views | _squad_views(names)


_COLUMNS = {
    "model_frame": ["athlete", "date", "bar", "grip_width", "intensity", "rating"],
    "rating_day": ["athlete", "date", "rating"],
    "athlete_day": ["athlete", "date", "is_logged"],
    "athlete_week": ["athlete", "week_start", "squat_sets", "elbow_flexion_sets"],
    "response_week": ["athlete", "week_start", "state", "sessions", "reported"],
}


def _season_of_one(
    name: str, records: dict[str, list[dict[str, Any]]], dice: random.Random, bars: tuple[str, ...], pain: bool
) -> None:
    gap = dice.randrange(14, 26)
    for week in range(WEEKS):
        monday = FIRST + timedelta(weeks=week)
        logged = week not in (gap, gap + 1)
        reported = 0
        days = [monday + timedelta(days=d) for d in (0, 2, 4)] if logged and bars else []
        for day in days:
            bar = dice.choice(bars) if dice.random() < 0.3 else "straight"
            rating = None
            if pain and dice.random() < 0.75:
                wave = 5 if week in (9, 10, 23, 24) else 0
                rating = float(max(0, min(10, round(dice.gauss(wave, 1.4)))))
                reported += 1
                records["rating_day"].append({"athlete": name, "date": day, "rating": rating})
            grip = "medium" if week < 27 else "wide"
            records["model_frame"].append(
                {
                    "athlete": name,
                    "date": day,
                    "bar": bar,
                    "grip_width": grip,
                    "intensity": dice.gauss(78, 6),
                    "rating": rating,
                }
            )
        for d in range(7):
            records["athlete_day"].append({"athlete": name, "date": monday + timedelta(days=d), "is_logged": logged})
        sets = (float(dice.randrange(6, 18)), float(dice.randrange(0, 10))) if logged else (None, None)
        records["athlete_week"].append(
            {
                "athlete": name,
                "week_start": monday,
                "squat_sets": sets[0] if bars else 0.0,
                "elbow_flexion_sets": sets[1],
            }
        )
        state = "no log" if not days else "reported" if reported * 2 >= len(days) else "unreported"
        records["response_week"].append(
            {"athlete": name, "week_start": monday, "state": state, "sessions": len(days), "reported": reported}
        )


def _squad_views(names: list[str]) -> dict[str, pd.DataFrame]:
    someone = names[0]
    day = pd.Timestamp("2025-12-13")
    return {
        "screen": pd.DataFrame(
            [
                {
                    "athlete": someone,
                    "date": pd.Timestamp("2025-10-02"),
                    "test": "shoulder flexion",
                    "side": "left",
                    "value": 171.0,
                    "unit": "degrees",
                },
                {
                    "athlete": someone,
                    "date": pd.Timestamp("2026-02-02"),
                    "test": "shoulder flexion",
                    "side": "left",
                    "value": 174.5,
                    "unit": "degrees",
                },
            ]
        ),
        "competition": pd.DataFrame(
            [
                {"athlete": None, "date": day, "name": "Harbour Cup"},
                {"athlete": None, "date": pd.Timestamp("2026-04-18"), "name": "Spring Open"},
            ]
        ),
        "change": pd.DataFrame(
            [
                {
                    "athlete": None,
                    "date": pd.Timestamp("2026-01-19"),
                    "what": "safety bar on Mondays",
                    "why": "elbow pain in the squad",
                },
                {"athlete": someone, "date": pd.Timestamp("2026-03-09"), "what": "wider grip", "why": None},
            ]
        ),
        "source_file": pd.DataFrame(
            [
                {"file": "autumn.csv", "format": "csv", "encoding": "utf-8", "refused": None},
                {"file": "photo.jpg", "format": "", "encoding": None, "refused": "this is a picture, not a table"},
            ]
        ),
        "source_sheet": pd.DataFrame(
            [
                {
                    "file": "autumn.csv",
                    "sheet": "",
                    "layout": "one row a set",
                    "columns": {"Who": "person", "Wt": "load"},
                    "date_order": "day first",
                    "unit": "kg",
                    "language": "en",
                    "is_hidden": False,
                    "rows_read": 120,
                    "rows_stored": 110,
                    "rows_rejected": 4,
                    "rows_not_data": 6,
                    "assumptions": ["Empty names mean the name above."],
                }
            ]
        ),
        "rejected_row": pd.DataFrame(
            [
                {
                    "file": "autumn.csv",
                    "sheet": "",
                    "row": 41,
                    "column": "F",
                    "value": "12O",
                    "reason": 'load "12O" is not a number (letter O for zero?)',
                    "remedy": "Correct the cell and import again.",
                    "is_whole_row": True,
                }
            ]
        ),
        "vocabulary_choice": pd.DataFrame(
            [
                {
                    "file": "autumn.csv",
                    "sheet": "",
                    "kind": "exercise",
                    "written": "sqaut",
                    "understood": "back squat",
                    "how": "unambiguous",
                    "nearest": None,
                    "n_rows": 3,
                },
                {
                    "file": "autumn.csv",
                    "sheet": "",
                    "kind": "bar",
                    "written": "yoke thing",
                    "understood": None,
                    "how": "not known",
                    "nearest": "safety",
                    "n_rows": 9,
                },
            ]
        ),
        "person": pd.DataFrame([{"name": n, "written": [n, n.upper()]} for n in names]),
        "note_report": pd.DataFrame(
            [
                {
                    "file": "autumn.csv",
                    "sheet": "",
                    "row": 17,
                    "athlete": someone,
                    "date": pd.Timestamp("2025-11-03"),
                    "rating": 3.0,
                    "severity_word": None,
                    "site": "elbow",
                    "side": "left",
                    "kind": "pain",
                    "evidence": "left elbow 3/10 after squats",
                }
            ]
        ),
    }
