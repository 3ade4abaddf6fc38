"""The scorer counts what a hand count gives: a small log with a truth that is wrong on purpose in known places."""

from pathlib import Path

import pytest

from reading.score import main, score

LOG = """Date,Name,Exercise,Bar,Weight (kg),Reps,Elbow pain left
2026-01-05,Ada Berg,squat,safety,100,5,2
2026-01-05,Ada Berg,squat,safety,110,5,
2026-01-07,Ada Berg,bench press,,60,8,4
2026-01-09,Ada Berg,squat,,1400,3,
2026-01-12,Ada Berg,squat,,120,3,7
"""
SETS = "athlete,date,exercise,bar,grip_width,bar_position,load_kg,reps,rpe,is_warm_up,flag\n"
PAIN = "athlete,date,site,side,rating,severity,moment,origin,flag\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "truth").mkdir()
    (tmp_path / "log.csv").write_text(LOG, encoding="utf-8")
    return tmp_path


def put(folder: Path, sets: list[str], pain: list[str]) -> None:
    (folder / "truth/sets.csv").write_text(SETS + "\n".join(sets), encoding="utf-8")
    (folder / "truth/pain.csv").write_text(PAIN + "\n".join(pain), encoding="utf-8")


def counts(one):
    return one.right, one.wrong, one.missed, one.invented


def test_a_true_truth_is_all_right(folder, capsys):
    put(
        folder,
        [
            "Ada Berg,2026-01-05,back squat,safety,,,100,5,,,",
            "Ada Berg,2026-01-05,back squat,safety,,,110,5,,,",
            "BERG Ada,2026-01-07,bench press,,,,60,8,,,",
            "Ada Berg,2026-01-09,back squat,,,,1400,3,,,set aside",
            "Ada Berg,2026-01-12,back squat,,,,120,3,,,",
        ],
        [
            "Ada Berg,2026-01-05,elbow,left,2,,after,column,",
            "Ada Berg,2026-01-07,elbow,left,4,,,column,",
            "Ada Berg,2026-01-12,elbow,left,7,,after,column,",
        ],
    )
    sets, pain = score(folder)
    assert counts(sets) == (5, 0, 0, 0)
    assert counts(pain) == (3, 0, 0, 0)
    assert main([str(folder)]) == 0
    assert "met" in capsys.readouterr().out


def test_every_kind_of_difference_is_counted_and_named(folder, capsys):
    put(
        folder,
        [
            "Ada Berg,2026-01-05,back squat,straight,,,100,5,,,",  # another bar: wrong
            "Ada Berg,2026-01-05,back squat,safety,,,112.5,5,,,",  # another load, not flagged: wrong
            "Ada Berg,2026-01-08,bench press,,,,60,8,,,",  # another day: missed, and the read one invented
            "Ada Berg,2026-01-12,back squat,,,,120,3,,,undecidable",  # stored as a plain value: wrong
        ],
        [
            "Ada Berg,2026-01-05,elbow,right,2,,after,column,",  # another side: wrong
            "Ada Berg,2026-01-12,elbow,left,7,,after,column,",
            "Ada Berg,2026-01-12,knee,,3,,after,column,",  # missed
        ],
    )
    sets, pain = score(folder)
    assert counts(sets) == (0, 3, 1, 2)  # invented: the bench press, and the squat whose load was set aside
    assert sets.silent_loads == 2
    assert counts(pain) == (1, 1, 1, 1)
    assert main([str(folder)]) == 1
    shown = capsys.readouterr().out
    assert "wrong     bar (not flagged)" in shown
    assert "log.csv, row 3" in shown
    assert "not met" in shown


def test_both_sides_equal_a_report_of_each(folder):
    (folder / "log.csv").write_text("Date,Name,Site,Side,Pain\n2026-01-05,Ada Berg,elbow,both,3\n", encoding="utf-8")
    put(folder, [], [f"Ada Berg,2026-01-05,elbow,{side},3,,,form," for side in ("left", "right")])
    assert counts(score(folder)[1]) == (2, 0, 0, 0)


def test_an_unknown_exercise_is_right_where_its_written_name_is_that_of_the_truth(folder):
    log = "Date,Name,Exercise,Weight (kg),Reps\n"
    rows = "2026-01-05,Ada Berg,Quux Hoist,60,8\n2026-01-05,Ada Berg,Zonk Hoist,50,8\n"
    (folder / "log.csv").write_text(log + rows, encoding="utf-8")
    put(folder, ["Ada Berg,2026-01-05,quux hoist,,,,60,8,,,", "Ada Berg,2026-01-05,bench press,,,,50,8,,,"], [])
    assert counts(score(folder)[0]) == (1, 1, 0, 0)
