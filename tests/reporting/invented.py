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
    views["flare_up_before"] = _flare_up_before(names if pain and squats else [], bars)
    return views | _squad_views(names)


def _flare_up_before(names: list[str], bars: tuple[str, ...]) -> pd.DataFrame:
    """Two flare-ups a lifter: one with a habit before it, one where nothing of that was written."""
    usual = {"sessions_usual": 71, "sets_usual": 11.43, "intensity_usual": 76.21, "curls_usual": 4.86}
    told = {"sessions_before": 12, "sets_before": 14.27, "intensity_before": 78.94, "curls_before": 3.13}
    few = {"sessions_before": 5, "sets_before": None, "intensity_before": None, "curls_before": None}
    on_bars = {f"{b}_{when}": 0 for b in ("straight", "safety", "cambered", "other") for when in ("before", "usual")}
    on_bars |= {"straight_before": 9, "straight_usual": 58}
    if "safety" in bars:
        on_bars |= {"safety_before": 3, "safety_usual": 13}
    records = [
        {"athlete": name, "number": number, **usual, **before, **on_bars}
        for name in names
        for number, before in ((1, told), (2, few))
    ]
    return pd.DataFrame(records, columns=["athlete", "number", *usual, *told, *on_bars])


_COLUMNS = {
    "model_frame": ["athlete", "date", "bar", "grip_width", "intensity", "rating"],
    "rating_day": ["athlete", "date", "rating"],
    "athlete_day": ["athlete", "date", "is_logged"],
    "athlete_week": ["athlete", "week_start", "squat_sets", "pressing_sets", "pulling_sets", "elbow_flexion_sets"],
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
        press = float(week % 5) if logged else None
        records["athlete_week"].append(
            {
                "athlete": name,
                "week_start": monday,
                "squat_sets": sets[0] if bars else 0.0,
                "pressing_sets": press,
                "pulling_sets": 0.0 if logged else None,
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
                    "unit": "deg",
                },
                {
                    "athlete": someone,
                    "date": pd.Timestamp("2026-02-02"),
                    "test": "shoulder flexion",
                    "side": "left",
                    "value": 174.5,
                    "unit": "deg",
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


QUESTIONS = {
    "intensity": ("squat intensity", "own mean - 5 points", "own mean + 5 points", 10.0),
    "safety": ("the safety bar", "straight bar", "safety bar", None),
    "cambered": ("the cambered bar", "straight bar", "cambered bar", None),
    "narrow": ("narrow grip", "medium grip", "narrow grip", None),
    "wide": ("wide grip", "medium grip", "wide grip", None),
    "high": ("high bar position", "low", "high", None),
    "sets": ("weekly squat sets", "own - 2.5", "own + 2.5", 5.0),
}
GRADES = {
    "intensity": "clear",
    "safety": "leaning",
    "cambered": "contradicted by a check",
    "narrow": "no clear difference",
    "wide": "too little data",
    "high": "no clear difference",
    "sets": "clear",
}


def invented_finding(question: str, grade: str) -> dict[str, Any]:
    """One finding with every field of the schema; counts that no two fields share, so that each can be traced."""
    exposure, usual, compared, size = QUESTIONS[question]
    known = grade != "too little data"
    low = 3.2 + list(QUESTIONS).index(question)
    risks = {"from_per_100": low + 4, "from_low": low, "from_high": low + 9}
    risks |= {"to_per_100": low + 11, "to_low": low + 5, "to_high": low + 21}
    raw = {"raw_per_100": -2.6, "raw_low": -7.1, "raw_high": 1.9}
    effect = {"per_100": 7.0, "low": 1.3, "high": 12.8, "standard_error": 2.9, "p": 0.0123, "p_adjusted": 0.0412}
    effect |= {"odds_ratio": 1.71, "odds_ratio_low": 1.24, "odds_ratio_high": 2.38, "level": 0.95, "df": 19}
    outcome = "failed" if grade == "contradicted by a check" else "passed"
    return {
        "id": question,
        "question": {
            "exposure": exposure,
            "from": usual,
            "to": compared,
            "size": size,
            "unit": "",
            "outcome": "",
            "scope": "squad",
            "primary": True,
        },
        "effect": effect if known else dict.fromkeys(effect),
        "risks": (risks if known else dict.fromkeys(risks)) | raw,
        "counts": {
            "athletes": 20,
            "contributing": 17,
            "sessions": 2435,
            "reported": 1956,
            "exposed": 322,
            "events": 331,
            "onsets": 41,
        },
        "model": {
            "family": "cumulative",
            "formula": "rating ~ this session's exposures + (1 | athlete)",
            "converged": True,
            "convergence": {"gradient": 1e-5, "iterations": 31, "singular": False, "separated": []},
        },
        "checks": [
            {
                "name": "lead",
                "value": 0.4,
                "limit": 1.96,
                "outcome": outcome,
                "vetoes": True,
                "help": "next week came after.",
            },
            {
                "name": "calendar",
                "value": 0.31,
                "limit": 0.8,
                "outcome": "not checked",
                "vetoes": False,
                "help": "The calendar.",
            },
        ],
        "sensitivity": [{"name": "unreported alike", "per_100": 5.9, "low": 0.4, "high": 11.2}],
        "beside": {},
        "grade": grade,
        "more_athletes": 3,
        "sentence": f"Sentence about {exposure}.",
    }


def invented_findings(
    names: list[str],
    *,
    grades: dict[str, str] | None = None,
    bars: tuple[str, ...] = ("straight", "safety", "cambered"),
    pain: bool = True,
) -> dict[str, Any]:
    """findings.json of an invented squad; without pain reports everything that rests on them is empty or unknown."""
    grades = grades or (GRADES if pain else dict.fromkeys(GRADES, "too little data"))
    response = {"sessions": 2435, "reported": 1956 if pain else 0}
    return {
        "schema_version": 1,
        "made": {"program": "preflare", "version": "0.1.0", "seed": 1},
        "season": {
            "name": "Harbour Lifting Club",
            "from": "2025-09-01",
            "to": "2026-06-07",
            "athletes": len(names),
            "weeks": WEEKS,
        },
        "definitions": {
            "values": {"event": {"rating": 4, "sites": ["elbow", "upper arm"]}, "seed": 1},
            "hash": "189200d86231",
            "first_seen": "2025-08-30",
            "changed": [],
        },
        "logs": {
            "rows_read": 9412,
            "rows_stored": 9180,
            "rows_rejected": 57,
            "rows_not_data": 175,
            "cells_set_aside": 31,
            "files": [],
            "response": response,
        },
        "findings": [invented_finding(question, grade) for question, grade in grades.items()],
        "curves": [_curve()] if pain else [],
        "surveillance": _surveillance(len(names), pain),
        "bar_choice": [_bar(bar, pain) for bar in bars],
        "before_onset": _before_onset() if pain else [],
        "exploratory": _own_exposures() if pain else [],
        "lags": _lags() if pain else None,
        "case_crossover": _case_crossover() if pain else None,
        "athletes": [_athlete(name, pain) for name in names],
        "changes": [],
        "notes": [
            {"kind": "limit", "words": "This says what came first in these logs, not why.", "name": "not_a_reason"}
        ],
    }


def _curve() -> dict[str, Any]:
    points = [{"x": 60.0 + i, "per_100": 9 + i * 0.4, "low": 5 + i * 0.3, "high": 15 + i * 0.7} for i in range(31)]
    return {
        "exposure": "intensity",
        "unit": "% of 1RM",
        "points": points,
        "grade": None,
        "exploratory": True,
        "rug": {"pain": [70.1, 82.4], "none": [64.0, 71.0, 88.8]},
    }


def _surveillance(n: int, pain: bool) -> dict[str, Any]:
    if not pain:
        return {"weekly": [], "rates": [], "sites": []}
    weekly = [
        {
            "week_start": (FIRST + timedelta(weeks=w)).isoformat(),
            "athletes": n,
            "reporting": n - w % 3,
            "with_pain": w % (n - 1 or 1),
            "share": (w % (n - 1 or 1)) / n,
            "low": 0.02,
            "high": 0.83,
        }
        for w in range(WEEKS)
    ]
    rate = {
        "name": "flare-ups",
        "value": 11.38,
        "low": 9.46,
        "high": 13.58,
        "unit": "per 1000 working squat sets",
        "numerator": 123,
        "denominator": 10808.0,
        "how": "exact Poisson interval",
    }
    response = {
        "name": "sessions with a rating",
        "value": 80.3,
        "low": 78.7,
        "high": 81.9,
        "unit": "of 100 squat sessions",
        "numerator": 1956,
        "denominator": 2435,
        "how": "Wilson interval",
    }
    return {
        "weekly": weekly,
        "rates": [rate, response],
        "sites": [{"site": "elbow", "side": "left", "reports": 214, "athletes": 9}],
    }


def _bar(bar: str, pain: bool) -> dict[str, Any]:
    keys = (
        "prior_pain_mean",
        "prior_pain_low",
        "prior_pain_high",
        "raw_per_100",
        "raw_low",
        "raw_high",
        "per_100",
        "low",
        "high",
    )
    values = (1.6, 1.1, 2.2, 4.4, -1.2, 9.7, -7.3, -12.1, -0.4) if pain else (None,) * 9
    record = dict(zip(keys, values, strict=True)) | {"bar": bar, "sessions": 402}
    return record | dict.fromkeys(keys[3:]) if bar == "straight" else record


def _before_onset() -> list[dict[str, Any]]:
    """One exposure of each unit, one that stands apart, one with too few flare-ups, one that nobody ever used."""
    told = (
        ("intensity", "points of %1RM", 37, "median", (0.36, -1.74, 2.35)),
        ("safety bar", "of 100 sessions", 37, "mean", (-17.2, -28.9, -6.4)),
        ("cambered bar", "of 100 sessions", 37, "mean", (0.0, 0.0, 0.0)),
        ("wide grip", "of 100 sessions", 2, "mean", (11.6, None, None)),
        ("weekly sets", "working squat sets in 7 days", 36, "median", (-0.41, -1.48, 0.04)),
    )
    return [
        {"exposure": exposure, "unit": unit, "days": 28, "flare_ups": n, "athletes": min(n, 8), "statistic": how}
        | dict(zip(("difference", "low", "high"), values, strict=True))
        for exposure, unit, n, how, values in told
    ]


def _own_exposures() -> list[dict[str, Any]]:
    """Two exposures of the squad's own: one estimated, one known too rarely for an estimate."""
    told = {"meaning": "Hours slept.", "known": "before the session", "grade": None, "exploratory": True}
    counts = {"sessions": 1830, "reported": 1274, "missing": 97, "athletes": 22, "contributing": 14}
    slept = {"id": "sleep", "label": "Sleep", "unit": "hours", "size": 1.0, "per_100": -3.4, "low": -6.2, "high": -0.7}
    heat = dict.fromkeys(("per_100", "low", "high")) | {"id": "heat", "unit": "hours", "size": 1.0}
    heat["label"] = "Hours in a hall hotter than thirty degrees"
    return [{**one, **counts, **told, "sentence": f"Sentence about {one['id']}."} for one in (slept, heat)]


def _lags() -> dict[str, Any]:
    """More pain with sets of some days ago, less with sets long ago."""
    points = [
        {"days_before": d, "per_100": 0.57 - 0.03 * d, "low": 0.17 - 0.03 * d, "high": 0.97 - 0.03 * d}
        for d in range(1, 29)
    ]
    total = {"sets_a_week": 5.0, "days": 28, "per_100": 4.41, "low": 1.65, "high": 7.16}
    told = {"exposure": "squat sets", "unit": "one more working set that many days before"}
    counts = {"sessions": 1945, "reported": 1369, "athletes": 24}
    return told | {"points": points, "cumulative": total, "grade": None, "exploratory": True} | counts


def _case_crossover() -> dict[str, Any]:
    """An amount, a word, and an interval that leaves every axis."""
    told = (("intensity", 10.0, 1.43, 0.91, 2.26), ("safety", 1.0, 0.37, 0.14, 0.98), ("wide", 1.0, 3.1, 0.004, 310.0))
    exposures = [dict(zip(("exposure", "per", "odds_ratio", "low", "high"), one, strict=True)) for one in told]
    counts = {"onsets": 77, "sessions": 613, "athletes": 19, "block_days": 28}
    left_out = [{"exposure": "cambered", "per": 1.0}]
    return {"exposures": exposures, "left_out": left_out, "grade": None, "exploratory": True} | counts


def _athlete(name: str, pain: bool) -> dict[str, Any]:
    flares = [
        {"number": 1, "onset": "2025-11-05", "end": "2025-11-16", "peak": 7.0, "over": True},
        {"number": 2, "onset": "2026-05-20", "end": None, "peak": 5.0, "over": False},
    ]
    estimate = {
        "squad": {"per_100": 7.0, "low": 1.3, "high": 12.8},
        "own_pulled": {"per_100": 9.2, "low": 0.7, "high": 18.8},
    }
    warnings = [{"date": "2025-11-06", "words": "A rating of 7 was logged.", "kind": "rating"}]
    return {
        "name": name,
        "slug": "",
        "sessions": 114,
        "reported": 83 if pain else 0,
        "events": 19 if pain else 0,
        "onsets": 2,
        "flare_ups": flares if pain else [],
        "warnings": warnings if pain else [],
        "estimates": [
            {"id": i, **estimate, "own_alone": {"per_100": 12.9, "low": -4.4, "high": 31.0} if i == "safety" else None}
            for i in ("intensity", "safety")
        ]
        if pain
        else [],
    }
