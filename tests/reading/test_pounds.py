"""Loads without a unit: never pounds taken for kilograms in silence.

A 45 lb bar with pairs of 45 and 25 lb plates gives 95, 135, 185, 225, 275, 315: common practice, no published source.
"""

import pytest

POUNDS = {"squat": (135, 185, 225, 275, 315), "bench": (95, 135, 155, 165)}
KILOGRAMS = {"squat": (60, 80, 100, 115, 125, 135, 145), "bench": (60, 75, 82.5, 90, 95)}


def log_of(loads, heading="Weight"):
    rows = [
        f"2026-01-{day},Ada Berg,{exercise},{load},5\n"
        for day in (13, 15, 17)
        for exercise, of_one in loads.items()
        for load in of_one
    ]
    return f"Date,Name,Exercise,{heading},Reps\n" + "".join(rows)


def test_loads_that_look_like_pounds_are_told_of_with_the_line_for_season_toml(read):
    logs = read({"log.csv": log_of(POUNDS)})
    (doubt,) = logs.rejected
    assert "look like pounds" in doubt.reason
    assert 'file = "log.csv", unit = "lb"' in doubt.remedy
    assert not doubt.is_whole_row
    assert len(logs.sets) == 27


def test_heavy_loads_off_the_ladder_are_told_of_too(read):
    (doubt,) = read({"log.csv": log_of({"squat": (290, 310, 330, 350)})}).rejected
    assert "look like pounds" in doubt.reason


@pytest.mark.parametrize("unit", ["kg", "lb"])
def test_season_toml_settles_it(read, unit):
    logs = read({"log.csv": log_of(POUNDS)}, f'[[source]]\nfile = "log.csv"\nunit = "{unit}"')
    assert logs.rejected == []
    assert logs.sets[0].load_kg == {"kg": 135, "lb": 61.235}[unit]  # 135 x 0.45359237


def test_kilograms_and_written_units_raise_no_doubt(read):
    assert read({"log.csv": log_of(KILOGRAMS)}).rejected == []
    assert read({"log.csv": log_of(POUNDS, "Weight (kg)")}).rejected == []
