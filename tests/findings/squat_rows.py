"""Small model frames made by hand, where every answer can be counted."""

from collections.abc import Sequence
from typing import Any

import pandas as pd

KNOWN: dict[str, Any] = {
    "season": 0,
    "week": 3.0,
    "day": 21,
    "intensity": 80.0,
    "bar": "straight",
    "grip_width": "medium",
    "bar_position": "low",
    "grip_applies": True,
    "sets_7d": 10.0,
    "session_sets": 5.0,
    "rating": 0.0,
    "rating_first": 0.0,
    "last_rating": 0.0,
    "last_rating_age": 2.0,
    "second_last_rating": 0.0,
    "recent_rating": 0.0,
    "any_event_7d": 0.0,
    "last_rating_pre": 0.0,
    "last_rating_pre_age": 9.0,
    "second_last_rating_pre": 0.0,
    "recent_rating_pre": 0.0,
    "any_event_8_14d": 0.0,
    "older_sets": 5.0,
    "past_intensity": 80.0,
    "past_safety": 0.0,
    "past_cambered": 0.0,
    "past_other": 0.0,
    "past_narrow": 0.0,
    "past_wide": 0.0,
    "past_high": 0.0,
    "weeks_to_competition": 12.0,
    "competition_entered": False,
    "pressing_7d": float("nan"),
    "pulling_7d": float("nan"),
    "elbow_flexion_7d": float("nan"),
    "logs_other_lifts": False,
    "lead_intensity": 80.0,
    "lead_safety": 0.0,
    "lead_cambered": 0.0,
    "lead_narrow": 0.0,
    "lead_wide": 0.0,
    "lead_high": 0.0,
    "lead_sets": 10.0,
    "is_mixed_bar": False,
    "is_mixed_grip": False,
    "effort_unmarked_share": 0.0,
}
"""An uneventful session: what every row is unless a test says otherwise."""


def sessions(rows: Sequence[dict[str, Any]]) -> pd.DataFrame:
    """A frame of squat sessions; each row names what is not as in KNOWN. athlete defaults to Ada Example."""
    made = pd.DataFrame([{"athlete": "Ada Example", **KNOWN, **row} for row in rows])
    made["session_id"] = range(len(made))
    made["date"] = pd.Timestamp("2025-09-01") + pd.to_timedelta(made["day"], unit="D")
    return made


def many(n: int, athlete: str = "Ada Example", **same: Any) -> list[dict[str, Any]]:
    """n like rows of one athlete."""
    return [{"athlete": athlete, **same} for _ in range(n)]
