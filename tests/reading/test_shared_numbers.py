"""One column of loads beside several of repetitions ("kg | Reps 1 | Reps 2 | Reps 3"), and the other way round.

Headings as people write them in eleven languages (common practice, no published source).
"""

import pytest

SHARED = [
    ("en", "kg", "Reps 1,Reps 2,Reps 3"), ("en", "Weight", "Set 1 reps,Set 2 reps,Set 3 reps"),
    ("en", "Load", "Rep 1,Rep 2,Rep 3"), ("en", "Kg", "Reps S1,Reps S2,Reps S3"), ("en", "kg", "R1,R2,R3"),
    ("en", "kg", "Set 1,Set 2,Set 3"), ("en", "kg", "1,2,3"),
    ("de", "kg", "Wdh 1,Wdh 2,Wdh 3"), ("de", "Gewicht", "Wdh. Satz 1,Wdh. Satz 2,Wdh. Satz 3"),
    ("fr", "Charge", "Rép 1,Rép 2,Rép 3"), ("fr", "kg", "Série 1,Série 2,Série 3"),
    ("es", "Peso", "Rep 1,Rep 2,Rep 3"), ("it", "Carico", "Rip 1,Rip 2,Rip 3"), ("pt", "Carga", "Reps 1,Reps 2,Reps 3"),
    ("nl", "Gewicht", "Herh 1,Herh 2,Herh 3"), ("pl", "Ciężar", "Powt 1,Powt 2,Powt 3"),
    ("no", "Vekt", "Reps 1,Reps 2,Reps 3"), ("da", "Vægt", "Gentagelser 1,Gentagelser 2,Gentagelser 3"),
    ("sv", "Vikt", "Reps 1,Reps 2,Reps 3"),
]  # fmt: skip
BODY = "05.03.2026,Ada Berg,Squat,80,5,5,4\n12.03.2026,Ada Berg,Squat,82.5,5,3,\n,Bo Dahl,Bench press,60,8,,\n"
DONE = [(80, 5), (80, 5), (80, 4), (82.5, 5), (82.5, 3), (60, 8)]


def done(logs):
    return [(one.load_kg, one.reps) for one in logs.sets]


@pytest.mark.parametrize(("language", "load", "reps"), SHARED)
def test_a_load_holds_for_the_repetitions_beside_it_and_a_blank_is_a_set_not_done(read, language, load, reps):
    logs = read({"log.csv": f"Date,Name,Exercise,{load},{reps}\n{BODY}"})
    assert done(logs) == DONE
    assert [one.load_kg for one in logs.sets if one.athlete == "Bo Dahl"] == [60]


SAME = ["Reps", "Wdh", "Rép", "Rep", "Rip", "Powt", "Herh", "Gentagelser"]


@pytest.mark.parametrize("heading", SAME)
def test_one_heading_again_and_again_beside_a_load_heads_one_set_each(read, heading):
    logs = read({"log.csv": f"Date,Name,Exercise,kg,{heading},{heading},{heading}\n{BODY}"})
    assert done(logs) == DONE


def test_repetitions_planned_and_done_beside_a_load_are_no_two_sets(read):
    body = "05.03.2026,Ada Berg,Squat,80,5,4\n12.03.2026,Ada Berg,Squat,82.5,5,5\n"
    logs = read({"log.csv": f"Date,Name,Exercise,kg,Planned reps,Reps\n{body}"})
    assert done(logs) == [(80, 4), (82.5, 5)]


@pytest.mark.parametrize("mark", ["", "-", "–", "/"])
def test_a_set_that_was_left_out_is_none(read, mark):
    body = f"05.03.2026,Ada Berg,Squat,80,5,5,{mark}\n12.03.2026,Ada Berg,Squat,82.5,5,5,5\n"
    logs = read({"log.csv": f"Date,Name,Exercise,kg,Reps 1,Reps 2,Reps 3\n{body}"})
    assert done(logs) == [(80, 5), (80, 5), (82.5, 5), (82.5, 5), (82.5, 5)]


def test_warm_ups_in_short_beside_them_are_no_further_set_and_keep_their_loads(read):
    head = "Datum,Wer,Übung,Aufwärmen,kg,Wdh 1,Wdh 2,RIR\n"
    body = '05.03.2026,Ada Berg,Kniebeugen,"40x5, 60x3",80,5,4,2\n,,Klimmzüge,,,6,5,1\n,,Klimmzüge,20x3,,6,5,1\n'
    logs = read({"log.csv": head + body})
    sets = [(one.load_kg, one.reps, one.is_warm_up) for one in logs.sets]
    squats = [(40, 5, True), (60, 3, True), (80, 5, False), (80, 4, False)]
    assert sets == [*squats, (None, 6, False), (None, 5, False), (20, 3, True), (None, 6, False), (None, 5, False)]
    assert not logs.rejected


@pytest.mark.parametrize("loads", ["80/85/90", "80; 85; 90", "(60) 80/85/90"])
def test_several_loads_in_the_cell_of_all_are_one_for_each_set(read, loads):
    body = f"05.03.2026,Ada Berg,Squat,{loads},5,5,4\n12.03.2026,Ada Berg,Squat,82.5,5,5,5\n"
    logs = read({"log.csv": f"Date,Name,Exercise,kg,Reps 1,Reps 2,Reps 3\n{body}"})
    assert [pair for pair in done(logs) if pair[0] != 60][:3] == [(80, 5), (85, 5), (90, 4)]
    assert len(logs.sets) <= 7


def test_loads_of_another_number_than_the_sets_are_set_aside(read):
    body = "05.03.2026,Ada Berg,Squat,80/85,5,5,4\n12.03.2026,Ada Berg,Squat,82.5,5,5,5\n"
    logs = read({"log.csv": f"Date,Name,Exercise,kg,Reps 1,Reps 2,Reps 3\n{body}"})
    assert done(logs)[:3] == [(None, 5), (None, 5), (None, 4)]
    assert [(one.value, "2 values stand here for 3 sets" in one.reason) for one in logs.rejected] == [("80/85", True)]


def test_a_load_without_any_repetitions_is_set_aside_once(read):
    body = "05.03.2026,Ada Berg,Squat,80,,,\n12.03.2026,Ada Berg,Squat,82.5,5,5,5\n"
    logs = read({"log.csv": f"Date,Name,Exercise,kg,Reps 1,Reps 2,Reps 3\n{body}"})
    assert done(logs) == [(82.5, 5)] * 3
    assert ["without repetitions" in one.reason for one in logs.rejected] == [True]


def test_a_load_that_is_no_number_is_told_of_once(read):
    body = "05.03.2026,Ada Berg,Squat,8O,5,5,5\n12.03.2026,Ada Berg,Squat,82.5,5,5,5\n"
    logs = read({"log.csv": f"Date,Name,Exercise,kg,Reps 1,Reps 2,Reps 3\n{body}"})
    assert [one.value for one in logs.rejected] == ["8O"]
    assert done(logs)[3:] == [(82.5, 5)] * 3


@pytest.mark.parametrize("heads", ["kg 1,kg 2,kg 3", "Weight 1,Weight 2,Weight 3", "Gewicht 1,Gewicht 2,Gewicht 3"])
def test_repetitions_hold_for_the_loads_beside_them(read, heads):
    rows = ["05.03.2026,Ada Berg,Squat,5,80,85,90", "12.03.2026,Ada Berg,Squat,5,82.5,85,"]
    body = "\n".join([*rows, "19.03.2026,Ada Berg,Squat,5/4/3,80,85,90"])
    logs = read({"log.csv": f"Date,Name,Exercise,Reps,{heads}\n{body}"})
    assert done(logs) == [(80, 5), (85, 5), (90, 5), (82.5, 5), (85, 5), (80, 5), (85, 4), (90, 3)]


def test_the_effort_of_the_row_is_that_of_the_last_set_done(read):
    head = "RIR = reserve in the last set of the row\nDate,Name,Exercise,kg,Reps 1,Reps 2,Reps 3,RIR\n"
    body = "05.03.2026,Ada Berg,Squat,80,5,5,4,2\n12.03.2026,Ada Berg,Squat,82.5,5,3,,1\n"
    logs = read({"log.csv": head + body})
    assert [one.rir for one in logs.sets] == [None, None, 2, None, 1]


@pytest.mark.parametrize("word", ["Reps", "Wdh", "Rép", "Powt"])
def test_one_word_over_counted_columns_heads_the_repetitions_of_each_set(read, word):
    head = f"Date,Name,Exercise,kg,{word},,,RIR\n,,,,1,2,3,\n"
    body = "05.03.2026,Ada Berg,Squat,80,5,5,4,2\n12.03.2026,Ada Berg,Squat,82.5,5,3,,1\n"
    logs = read({"log.csv": head + body})
    assert done(logs) == [(80, 5), (80, 5), (80, 4), (82.5, 5), (82.5, 3)]


def test_a_heading_is_not_carried_over_the_count_beside_it(read):
    head = "Date,Name,Exercise,kg,,Reps,\n,,,,1,2,3\n"
    body = "05.03.2026,Ada Berg,Squat,80,5,5,4\n12.03.2026,Ada Berg,Squat,82.5,5,5,4\n"
    logs = read({"log.csv": head + body})
    assert {one.load_kg for one in logs.sets} <= {80, 82.5, None}
