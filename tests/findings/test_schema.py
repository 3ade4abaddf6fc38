"""findings.json keeps to its published schema, key by key and type by type."""

import types
from typing import Any, Literal, Union, get_args, get_origin, is_typeddict

import pandas as pd

from preflare.findings import review
from preflare.findings.schema import SCHEMA_VERSION, Findings
from preflare.settings import Settings


def problems(value: Any, kind: Any, place: str = "") -> list[str]:
    """Where a value differs from a schema's annotation."""
    if kind is Any:
        return []
    if is_typeddict(kind):
        if not isinstance(value, dict):
            return [f"{place} is no record"]
        wrong = [f"{place}.{key} is {how}" for how, keys in _key_differences(value, kind).items() for key in keys]
        return wrong + [p for key, k in kind.__annotations__.items() if key in value
                        for p in problems(value[key], k, f"{place}.{key}")]  # fmt: skip
    origin = get_origin(kind)
    if origin in (Union, types.UnionType):
        tried = [problems(value, option, place) for option in get_args(kind)]
        return [] if [] in tried else min(tried, key=len)
    if origin is Literal:
        return [] if value in get_args(kind) else [f"{place} is {value!r}"]
    if origin is list:
        if not isinstance(value, list):
            return [f"{place} is no list"]
        return [p for i, item in enumerate(value) for p in problems(item, get_args(kind)[0], f"{place}[{i}]")]
    if origin is dict:
        return [] if isinstance(value, dict) else [f"{place} is no table"]
    if kind in (None, type(None)):
        return [] if value is None else [f"{place} is not null"]
    accepted = (int, float) if kind is float else kind
    is_right = isinstance(value, accepted) and (kind is bool or not isinstance(value, bool))
    return [] if is_right else [f"{place} is {value!r}, not {kind.__name__}"]


def _key_differences(value: dict[str, Any], kind: Any) -> dict[str, list[str]]:
    there, wanted = set(value), set(kind.__annotations__)
    return {"missing": sorted(wanted - there), "not in the schema": sorted(there - wanted)}


def test_a_whole_season_keeps_to_the_schema(plant_found: dict[str, Any]) -> None:
    assert plant_found["schema_version"] == SCHEMA_VERSION
    assert problems(plant_found, Findings) == []


def test_a_season_without_squats_keeps_to_the_schema(plant_frame: pd.DataFrame) -> None:
    assert problems(review(plant_frame.iloc[:0], Settings()), Findings) == []


def test_a_season_of_eight_lifters_keeps_to_the_schema(plant_frame: pd.DataFrame) -> None:
    few = plant_frame[plant_frame["athlete"].isin(sorted(plant_frame["athlete"].unique())[:8])]
    assert problems(review(few.reset_index(drop=True), Settings()), Findings) == []


def test_the_comparison_sees_what_is_wrong(plant_frame: pd.DataFrame) -> None:
    found = review(plant_frame.iloc[:0], Settings())
    found["findings"][0]["grade"] = "certain"
    del found["notes"][0]["kind"]
    found["bar_choice"] = {}
    assert problems(found, Findings) == [
        ".findings[0].grade is 'certain'",
        ".bar_choice is no list",
        ".notes[0].kind is missing",
    ]
