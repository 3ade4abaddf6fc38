"""The numbers behind every chart and table, as CSV: unrounded, one file a kind, in the folder tables/."""

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

import pandas as pd

_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")

_VIEWS = (
    "response_week",
    "athlete_week",
    "source_sheet",
    "rejected_row",
    "vocabulary_choice",
    "note_report",
    "change",
    "screen",
)
_FILES = {"change": "changes", "screen": "screens"}


def write_tables(findings: Mapping[str, Any], views: Mapping[str, pd.DataFrame], out: Path) -> list[Path]:
    """Writes tables/*.csv under `out` and returns the files. Empty tables are written with their heads alone."""
    folder = out / "tables"
    folder.mkdir(parents=True, exist_ok=True)
    frames = {**_from_findings(findings), **{_FILES.get(n, n): views[n] for n in _VIEWS if n in views}}
    written = []
    for name, frame in frames.items():
        path = folder / f"{name}.csv"
        _harmless(frame).to_csv(path, index=False, encoding="utf-8", lineterminator="\n")
        written.append(path)
    return written


def _harmless(frame: pd.DataFrame) -> pd.DataFrame:
    """Texts that a spreadsheet program would run as a formula get an apostrophe in front."""
    wordy = [c for c in frame.columns if any(isinstance(value, str) for value in frame[c])]
    return frame.assign(**{c: frame[c].map(_quoted) for c in wordy})


def _quoted(value: Any) -> Any:
    return f"'{value}" if isinstance(value, str) and value.startswith(_FORMULA_STARTS) else value


def _from_findings(findings: Mapping[str, Any]) -> dict[str, pd.DataFrame]:
    found = findings.get("findings") or []
    surveillance = findings.get("surveillance") or {}
    athletes = findings.get("athletes") or []
    return {
        "findings": _frame(_finding(f) for f in found),
        "checks": _frame({"id": f["id"], **c} for f in found for c in f["checks"]),
        "readings": _frame({"id": f["id"], **s} for f in found for s in f.get("sensitivity") or []),
        "curves": _frame(
            {"exposure": c["exposure"], "unit": c["unit"], **p}
            for c in findings.get("curves") or []
            for p in c["points"]
        ),
        "curve_rugs": _frame(_rugs(findings.get("curves") or [])),
        "weekly_pain": _frame(surveillance.get("weekly") or []),
        "rates": _frame(surveillance.get("rates") or []),
        "sites": _frame(surveillance.get("sites") or []),
        "bar_choice": _frame(findings.get("bar_choice") or []),
        "before_onset": _frame(findings.get("before_onset") or []),
        "lags": _frame((findings.get("lags") or {}).get("points") or []),
        "own_exposures": _frame(findings.get("exploratory") or []),
        "case_crossover": _frame((findings.get("case_crossover") or {}).get("exposures") or []),
        "flare_ups": _frame({"athlete": a["name"], **f} for a in athletes for f in a["flare_ups"]),
        "athlete_estimates": _frame(_estimates(athletes)),
        "athletes": _frame({k: a[k] for k in ("name", "sessions", "reported", "events", "onsets")} for a in athletes),
    }


def _frame(records: Iterable[Mapping[str, Any]]) -> pd.DataFrame:
    return pd.DataFrame(list(records))


def _finding(finding: Mapping[str, Any]) -> dict[str, Any]:
    """One finding as one flat row."""
    flat = {"id": finding["id"], "grade": finding["grade"], "sentence": finding["sentence"]}
    for part in ("question", "effect", "risks", "counts"):
        flat |= {f"{part}_{key}": value for key, value in finding[part].items()}
    return flat


def _rugs(curves: list[Mapping[str, Any]]) -> Iterable[dict[str, Any]]:
    for curve in curves:
        for kind in ("pain", "none"):
            for x in (curve.get("rug") or {}).get(kind) or []:
                yield {"exposure": curve["exposure"], "followed_by": kind, "x": x}


def _estimates(athletes: list[Mapping[str, Any]]) -> Iterable[dict[str, Any]]:
    for athlete in athletes:
        for estimate in athlete.get("estimates") or []:
            for whose in ("squad", "own_pulled", "own_alone"):
                if estimate.get(whose):
                    yield {"athlete": athlete["name"], "id": estimate["id"], "whose": whose, **estimate[whose]}
