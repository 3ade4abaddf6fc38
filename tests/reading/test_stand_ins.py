"""Cells that stand for another: ditto marks, and plans that were kept. What is right was told by hand."""

from datetime import date

import pytest


def brief(logs):
    return [(one.exercise, one.load_kg, one.reps) for one in logs.sets]


SQUATS = "Date;Exercise;Load;Reps;RPE\n2026-03-02;Squat;100;5;8\n"


@pytest.mark.parametrize("mark", ['"', "〃", "''", "idem", "ditto", "dito", "s.o.", "same", "„", '- " -'])
def test_a_mark_repeats_the_cell_above(read, mark):
    row = ";".join(['""""' if mark == '"' else f'"{mark.replace(chr(34), chr(34) * 2)}"'] * 4)
    logs = read({"Ada Berg.csv": f"{SQUATS}{row};9\n"})
    assert brief(logs) == [("back squat", 100.0, 5)] * 2
    assert [one.rpe for one in logs.sets] == [8.0, 9.0]


def test_quotation_marks_that_stand_alone_in_a_text_file_quote_nothing(read):
    logs = read({"Ada Berg.csv": f'{SQUATS}";";";";9\n2026-03-03;Squat;105;";7\n'})
    assert brief(logs) == [("back squat", 100.0, 5)] * 2 + [("back squat", 105.0, 5)]


def test_quotation_marks_around_text_still_quote(read):
    logs = read({"Ada Berg.csv": 'Date;Exercise;Load;Reps;Note\n2026-03-02;"Squat";100;5;"heavy; slow"\n'})
    assert brief(logs) == [("back squat", 100.0, 5)]
    assert logs.sets[0].note == "heavy; slow"


def test_of_sets_across_a_mark_repeats_the_set_before(read):
    logs = read({"Ada Berg.csv": "Date|Exercise|Set 1|Set 2|Set 3\n2026-03-02|Squat|100x5|''|''\n"})
    assert brief(logs) == [("back squat", 100.0, 5)] * 3


def test_of_sets_across_a_row_of_marks_repeats_the_row_above_for_the_same_lift(read):
    text = "Date|Exercise|Set 1|Set 2\n2026-03-02|Squat|100x5|105x3\n2026-03-04|Squat|''|''\n"
    assert brief(read({"Ada Berg.csv": text})) == [("back squat", 100.0, 5), ("back squat", 105.0, 3)] * 2


def test_a_mark_below_another_lift_or_below_nothing_is_set_aside(read):
    text = "Date|Exercise|Set 1|Set 2\n2026-03-02|Squat|100x5|105x3\n2026-03-04|Bench|''|50x5\n"
    logs = read({"Ada Berg.csv": text})
    assert brief(logs) == [("back squat", 100.0, 5), ("back squat", 105.0, 3), ("bench press", 50.0, 5)]
    assert [one.reason for one in logs.rejected] == ["it is not known what this mark repeats"]
    below_nothing = read({"Bo Lind.csv": f"{SQUATS}2026-03-03;Squat;;5;\n2026-03-04;Squat;'';5;\n"})
    assert any(one.reason == "it is not known what this mark repeats" for one in below_nothing.rejected)


PLANNED = [
    ("Plan", "Done", "ok"),
    ("Soll", "Ist", "wie geplant"),
    ("prévu", "réalisé", "comme prévu"),
    ("previsto", "hecho", "según plan"),
    ("previsto", "svolto", "come da programma"),
    ("gepland", "uitgevoerd", "zoals gepland"),
    ("plan", "wykonanie", "zgodnie z planem"),
    ("planlagt", "gjennomført", "som planlagt"),
    ("planerat", "utfört", "enligt plan"),
]


@pytest.mark.parametrize(("plan", "done", "kept"), PLANNED)
def test_only_what_was_done_counts_and_a_word_for_as_planned_stands_for_the_plan(read, plan, done, kept):
    rows = f"2026-03-02;Squat;3x5 @100;{kept}\n2026-03-04;Squat;3x5 @105;2x5 @105\n2026-03-06;Squat;3x5 @110;-\n"
    logs = read({"Ada Berg.csv": f"Date;Exercise;{plan};{done}\n{rows}"})
    assert brief(logs) == [("back squat", 100.0, 5)] * 3 + [("back squat", 105.0, 5)] * 2


def test_a_column_of_ticks_beside_a_plan(read):
    rows = "2026-03-02;Squat;3x5 @100;✓\n2026-03-04;Bench;3x5 @60;\n2026-03-06;Squat;3x5 @105;yes\n"
    logs = read({"Ada Berg.csv": f"Date;Exercise;Plan;All of it?\n{rows}"})
    assert brief(logs) == [("back squat", 100.0, 5)] * 3 + [("back squat", 105.0, 5)] * 3


def test_numbers_planned_and_done_in_columns_of_their_own(read):
    head = ";;Plan;;Done;\nDate;Exercise;kg;reps;kg;reps\n"
    rows = "2026-03-02;Squat;100;5;97,5;5\n2026-03-04;Bench;60;5;;\n2026-03-06;Deadlift;150;3;ok;ok\n"
    assert brief(read({"Ada Berg.csv": head + rows})) == [("back squat", 97.5, 5), ("deadlift", 150.0, 3)]


def test_plan_and_done_under_every_week_of_a_grid(read):
    head = "Year 2026;;;;;\nDay;Exercise;Week 1 (2 Mar);;Week 2 (9 Mar);\n;;plan;done;plan;done\n"
    rows = "Mon;Squat;3x5 @100;3x5 @100;3x5 @105;3x4 @105\n;Bench;3x5 @60;ok;3x5 @62,5;-\n"
    logs = read({"Ada Berg.csv": head + rows})
    assert sorted((one.date.day, one.exercise, one.load_kg, one.reps) for one in logs.sets) == sorted(
        [(2, "back squat", 100.0, 5)] * 3 + [(2, "bench press", 60.0, 5)] * 3 + [(9, "back squat", 105.0, 4)] * 3
    )


PAIN_ROWS = "Date|Name|Where|Side|Rating|When\n2026-03-02|Ada Berg|elbow|left|3|after\n"


@pytest.mark.parametrize("mark", ['"', "〃", "''", '-"-', ",,"])
@pytest.mark.parametrize("column", range(6))
def test_a_mark_in_any_cell_of_a_table_of_pain_repeats_what_is_above_it(read, mark, column):
    cells = ["2026-03-02", "Ada Berg", "elbow", "left", "3", "next morning" if column != 5 else mark]
    cells[column] = mark
    logs = read({"pain.csv": PAIN_ROWS + "|".join(cells) + "\n"})
    last = logs.pain[-1]
    moment = "after" if column == 5 else "next morning"
    assert (last.athlete, last.date, last.site, last.side, last.rating, last.moment) == (
        "Ada Berg", date(2026, 3, 2), "elbow", "left", 3, moment,
    )  # fmt: skip


def test_a_mark_below_a_total_looks_past_it(read):
    rows = ["Date|Exercise|Bar|kg|Reps", "2026-03-02|Squat|safety|100|5", "Total|||500|", '2026-03-04|"|"|102.5|"']
    logs = read({"Ada Berg.csv": "\n".join(rows)})
    assert [(one.exercise, one.bar, one.load_kg, one.reps) for one in logs.sets] == [
        ("back squat", "safety", 100, 5), ("back squat", "safety", 102.5, 5),
    ]  # fmt: skip
