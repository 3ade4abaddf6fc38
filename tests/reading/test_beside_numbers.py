"""Words and efforts beside the number of a load or repetitions cell, and whose a remark is where people stand across.

What is right was counted by hand. Common practice, no published source.
"""

import pytest
from openpyxl import Workbook

from preflare.reading.names_in_remarks import Said, by_person

HEAD = "Date;Name;Exercise;Kg;Reps\n2026-03-02;Ada Berg;"


def only(logs):
    assert len(logs.sets) == 1, logs.rejected
    return logs.sets[0]


@pytest.mark.parametrize(
    ("lift", "load", "bar"),
    [
        ("Squat", "105 SSB", "safety"),
        ("Squat", "SSB 105", "safety"),
        ("Squat", "105 (SSB)", "safety"),
        ("Squat", "105 kg, cambered", "cambered"),
        ("Kniebeuge", "105 gerade Stange", "straight"),
        ("Squat", "105 barre droite", "straight"),
        ("Sentadilla", "105 barra recta", "straight"),
        ("Squat", "105 bilanciere dritto", "straight"),
        ("Agachamento", "105 barra reta", "straight"),
        ("Squat", "105 rechte stang", "straight"),
        ("Przysiad", "105 gryf prosty", "straight"),
        ("Knebøy", "105 rett stang", "straight"),
        ("Squat", "105 lige stang", "straight"),
        ("Knäböj", "105 rak stång", "straight"),
    ],
)
def test_a_bar_beside_the_load_is_that_of_its_set(read, lift, load, bar):
    one = only(read({"log.csv": f"{HEAD}{lift};{load};5\n"}))
    assert (one.load_kg, one.reps, one.bar) == (105, 5, bar)


@pytest.mark.parametrize(
    ("reps", "rpe", "rir"),
    [
        ("5 @9", 9, None), ("5@8.5", 8.5, None), ("5 @ 8,5", 8.5, None), ("5 RPE 9", 9, None), ("5 (RPE9)", 9, None),
        ("5 (@9)", 9, None), ("5, RIR 2", None, 2), ("5 @2 RIR", None, 2),
    ],
)  # fmt: skip
def test_an_effort_behind_the_repetitions_is_that_of_the_set(read, reps, rpe, rir):
    one = only(read({"log.csv": f"{HEAD}Squat;105;{reps}\n"}))
    assert (one.load_kg, one.reps, one.rpe, one.rir) == (105, 5, rpe, rir)


def test_an_effort_behind_repetitions_of_which_some_were_missed(read):
    one = only(read({"log.csv": f"{HEAD}Squat;105;3/5 @10\n"}))
    assert (one.load_kg, one.reps, one.rpe, one.is_failed) == (105, 3, 10, True)


@pytest.mark.parametrize("load", ["105 wu", "105 (warm-up)", "105 Aufwärmen", "105 échauffement", "105 riscaldamento"])
def test_a_word_for_warm_up_beside_the_load(read, load):
    one = only(read({"log.csv": f"{HEAD}Squat;{load};5\n"}))
    assert (one.load_kg, one.is_warm_up) == (105, True)


@pytest.mark.parametrize("load", ["105 red", "105 12", "105 bands?", "105 xyz"])
def test_words_that_nobody_knows_set_the_load_aside(read, load):
    logs = read({"log.csv": f"{HEAD}Squat;{load};5\n"})
    assert [one.load_kg for one in logs.sets] == [None]
    assert logs.rejected[0].value == load


def test_a_bar_beside_the_load_takes_the_grip_of_another_bar_away(read):
    head = "Date;Name;Exercise;Bar;Grip;Kg;Reps\n2026-03-02;Ada Berg;Squat;"
    one = only(read({"log.csv": f"{head}straight;narrow;105 SSB;5\n"}))
    assert (one.bar, one.grip_width) == ("safety", None)
    log = read({"log.csv": f"{head}straight;narrow;105;5\n"})
    assert (only(log).bar, only(log).grip_width) == ("straight", "narrow")


PEOPLE = ["Cole B.", "Mateo Q.", "Anna Lind"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Cole: R elbow 4", [Said("Cole B.", "R elbow 4")]),
        ("Cole - R elbow 4", [Said("Cole B.", "R elbow 4")]),
        ("Mateo elbow felt odd", [Said("Mateo Q.", "elbow felt odd")]),
        ("Anna's elbow 3", [Said("Anna Lind", "elbow 3")]),
        ("Cole: elbow 4. Mateo knee 2", [Said("Cole B.", "elbow 4."), Said("Mateo Q.", "knee 2")]),
        ("Cole: elbow 4. Low back ok", [Said("Cole B.", "elbow 4."), Said("Cole B.", "Low back ok")]),
        ("right elbow 3", [Said(None, "right elbow 3")]),
        ("elbow 3, spotted by Anna", [Said(None, "elbow 3, spotted by Anna", True)]),
    ],
)
def test_a_sentence_that_begins_with_a_name_is_that_persons(text, said):
    assert by_person(text, PEOPLE) == said


def across(note: str, merged: bool = False) -> Workbook:
    book = Workbook()
    sheet = book.active
    sheet.append(["TUE 3/3/2026", None, "Cole B.", None, "Mateo Q.", None])
    sheet.append(["Lift", "Set", "Wt", "Reps", "Wt", "Reps"])
    sheet.append(["Back squat - straight bar, narrow grip", "WU", 60, 5, 50, 5])
    sheet.append([None, 1, 100, 5, "90 SSB", 5])
    sheet.append([None, 2, None, 5, None, 5])
    sheet.append([None, 3, None, "5 @9", None, "5 @8"])
    sheet.append(["Bench", 1, 70, 6, 60, 6])
    sheet.append([None, 2, None, 6, None, 6])
    sheet.append(["Elbow 0-10", None, "2 R", None, 0, None])
    sheet.append(["Notes", None, note, None, None, None])
    if merged:
        sheet.merge_cells("C10:F10")
    return book


def test_people_across_with_warm_ups_blank_loads_and_a_bar_beside_one(read):
    logs = read({"log.xlsx": across("")})
    sets = [(one.athlete, one.bar, one.load_kg, one.reps, one.is_warm_up) for one in logs.sets]
    assert [one[2:] for one in sets if one[0] == "Cole B."] == [
        (60, 5, True), *[(100, 5, False)] * 3, *[(70, 6, False)] * 2
    ]  # fmt: skip
    assert {one[1:] for one in sets if one[0] == "Mateo Q." and one[3] == 5} == {
        ("straight", 50, 5, True),
        ("safety", 90, 5, False),
    }


@pytest.mark.parametrize("merged", [False, True])
def test_a_note_under_one_name_about_another_is_the_others(read, merged):
    logs = read({"log.xlsx": across("Mateo: mild pain in L forearm during the pull-ups", merged)})
    noted = [(one.athlete, one.site, one.side, one.severity_word) for one in logs.pain if one.origin == "note"]
    assert noted == [("Mateo Q.", "forearm", "left", "mild")]


def test_a_note_over_several_people_that_names_nobody_is_set_aside(read):
    logs = read({"log.xlsx": across("left forearm pain 5/10", merged=True)})
    assert not [one for one in logs.pain if one.origin == "note"]
    assert any("whose remark" in one.reason for one in logs.rejected)
