"""Pain reports: forms, columns and notes; zero, missing and unknown are never confused."""

from datetime import date, datetime

import pytest
from openpyxl import Workbook

from preflare.reading.notes import pain_in_note

DAY = date(2026, 1, 5)
FORM = "Timestamp,Your name,When,Where,How bad (0-10),Anything else?\n"


def brief(logs):
    return [(p.athlete, p.date, p.site, p.side, p.rating, p.moment) for p in logs.pain]


def test_a_form_gives_site_side_rating_and_moment(read):
    text = (
        FORM + "1/5/2026 18:30:00,Ada Berg,after training,left elbow,4,\n"
        "1/13/2026 07:10:00,Ada Berg,next morning,forearms,2,\n"
    )
    logs = read({"form.csv": text})
    assert brief(logs) == [
        ("Ada Berg", DAY, "elbow", "left", 4, "after"),
        ("Ada Berg", date(2026, 1, 13), "forearm", "both", 2, "next morning"),
    ]
    assert logs.pain[0].reported_at == datetime(2026, 1, 5, 18, 30)
    assert logs.pain[0].origin == "form"


@pytest.mark.parametrize(
    ("clock", "moment"), [("10:59", "before"), ("11:00", "unknown"), ("14:59", "unknown"), ("15:00", "after")]
)
def test_without_a_when_the_time_stamp_tells(read, clock, moment):
    # The rule of the project: before 11:00 is before that day's session, from 15:00 on after it.
    text = f"Timestamp,Name,Elbow pain\n2026-01-05 {clock},Ada Berg,3\n"
    assert [p.moment for p in read({"form.csv": text}).pain] == [moment]


@pytest.mark.parametrize(
    ("clock", "hour", "minute", "moment"),
    [("07:30", 7, 30, "before"), ("10:59:59", 10, 59, "before"), ("11:00", 11, 0, "unknown"),
     ("14.59", 14, 59, "unknown"), ("18:00-19:30", 18, 0, "after"),
     ("15:00", 15, 0, "after"), ("20:00", 20, 0, "after"), ("7:30 pm", 19, 30, "after"), ("12:15 am", 0, 15, "before"),
     ("19h30", 19, 30, "after"), ("8 a.m.", 8, 0, "before"), ("0.8125", 19, 30, "after")],
)  # fmt: skip
@pytest.mark.parametrize("heading", ["time", "Uhrzeit", "Heure"])
def test_a_time_beside_the_date_of_a_form_is_its_time_stamp(read, heading, clock, hour, minute, moment):
    # The rule of the project, as for a time stamp. 0.8125 days = 19.5 hours: how spreadsheets keep a time of day.
    book = Workbook()
    book.active.append(["name", "date", heading, "where", "score"])
    cell = float(clock) if clock == "0.8125" else clock
    book.active.append(["Ada Berg", "2026-01-05", cell, "left elbow", 4])
    (one,) = read({"form.xlsx": book}).pain
    assert (one.date, one.moment, one.rating) == (DAY, moment, 4)
    assert one.reported_at is not None
    assert (one.reported_at.hour, one.reported_at.minute) == (hour, minute)


def test_each_answer_has_its_own_time_and_one_that_cannot_be_read_is_set_aside(read):
    text = "name,date,time,where,score\nAda Berg,2026-01-05,07:30,elbow,4\nAda Berg,,20:00,elbow,2\n"
    text += "Ada Berg,2026-01-06,25:99,elbow,1\nAda Berg,2026-01-07,,elbow,3\n"
    logs = read({"form.csv": text})
    assert [(p.moment, p.reported_at) for p in logs.pain] == [
        ("before", datetime(2026, 1, 5, 7, 30)), ("after", datetime(2026, 1, 5, 20)),
        ("unknown", None), ("unknown", None),
    ]  # fmt: skip
    assert [(str(r.place), r.value) for r in logs.rejected] == [("form.csv, row 4, column C", "25:99")]


def test_season_toml_says_when_a_form_is_filled(read):
    text = "Timestamp,Name,Elbow pain\n2026-01-05 12:00,Ada Berg,3\n"
    logs = read({"form.csv": text}, '[[source]]\nfile = "form.csv"\nfilled = "evening"')
    assert [p.moment for p in logs.pain] == ["after"]


def test_the_session_s_own_time_settles_a_report_at_noon(read):
    form = "Timestamp,Name,Elbow pain\n2026-01-05 12:00,Ada Berg,3\n"
    log = "Date,Start time,Name,Exercise,Load,Reps\n2026-01-05,09:00,Ada Berg,squat,100,5\n"
    assert [p.moment for p in read({"form.csv": form, "log.csv": log}).pain] == ["after"]


def test_a_pain_column_in_a_training_log_is_after_the_session(read):
    text = "Date,Name,Exercise,Load,Reps,Elbow pain\n2026-01-05,Ada Berg,squat,100,5,3\n"
    assert brief(read({"log.csv": text})) == [("Ada Berg", DAY, "elbow", "unknown", 3, "after")]


def test_an_empty_cell_is_no_report_and_a_question_mark_is_none_either(read):
    text = (
        "Date,Name,Exercise,Load,Reps,Elbow pain\n2026-01-05,Ada Berg,squat,100,5,\n2026-01-06,Ada Berg,squat,100,5,?\n"
    )
    logs = read({"log.csv": text})
    assert logs.pain == []
    assert [(r.value, r.is_whole_row) for r in logs.rejected] == [("?", False)]


def test_words_for_none_are_zero_and_other_words_stay_words(read):
    cells = ["none", "keine", "0", "mild", "stark", "3-4"]
    rows = "".join(f"2026-01-{day:02},Ada Berg,squat,100,5,{cell}\n" for day, cell in enumerate(cells, start=5))
    logs = read({"log.csv": "Date,Name,Exercise,Load,Reps,Elbow pain\n" + rows})
    assert [(p.rating, p.severity_word) for p in logs.pain] == [
        (0, None), (0, None), (0, None), (None, "mild"), (None, "severe"), (4, None)
    ]  # fmt: skip
    assert "3-4" in logs.pain[-1].evidence


@pytest.mark.parametrize("cell", ["11", "-1", "140"])
def test_a_rating_outside_the_scale_is_set_aside_never_clipped(read, cell):
    logs = read({"log.csv": f"Date,Name,Exercise,Load,Reps,Elbow pain\n2026-01-05,Ada Berg,squat,100,5,{cell}\n"})
    assert logs.pain == []
    assert (logs.rejected[0].value, logs.rejected[0].place.column) == (cell, "F")


def test_pain_without_a_site_is_unknown_unless_season_toml_names_one(read):
    text = "Date,Name,Exercise,Load,Reps,Pain\n2026-01-05,Ada Berg,squat,100,5,3\n"
    assert [p.site for p in read({"log.csv": text}).pain] == ["unknown"]
    assert [p.site for p in read({"log.csv": text}, '[season]\ndefault_site = "elbow"').pain] == ["elbow"]


def test_a_later_answer_about_the_same_replaces_the_earlier_and_says_so(read):
    text = (
        FORM + "1/5/2026 18:30:00,Ada Berg,after training,left elbow,4,\n"
        "1/5/2026 19:30:00,Ada Berg,after training,left elbow,6,\n"
    )
    text += "1/13/2026 18:00:00,Ada Berg,after training,left elbow,1,\n"
    logs = read({"form.csv": text})
    assert [p.rating for p in logs.pain] == [6, 1]
    assert [(r.place.row, r.is_whole_row) for r in logs.rejected] == [(2, True)]
    assert "row 3" in logs.rejected[0].reason


def balance(logs):
    """(rows read, rows stored + rejected + no data) over all sheets."""
    sheets = [sheet for file in logs.files for sheet in file.sheets]
    parts = sum(sheet.rows_stored + sheet.rows_rejected + sheet.rows_not_data for sheet in sheets)
    return sum(sheet.rows_read for sheet in sheets), parts


def test_of_two_answers_in_one_evening_the_later_counts_by_the_time_beside_the_date(read):
    text = "name,date,time,where,score\nBo,2026-02-01,20:00,left forearm,3-4\nBo,2026-02-01,20:30,left forearm,2\n"
    logs = read({"pain.csv": text})
    assert [(p.rating, p.moment) for p in logs.pain] == [(2, "after")]
    assert [(r.place.row, r.is_whole_row, r.reason) for r in logs.rejected] == [
        (2, True, "the later answer in row 3 corrects it")
    ]
    assert balance(logs) == (3, 3)


def test_an_answer_about_two_sites_is_corrected_for_the_one_that_was_asked_again(read):
    form = FORM + '1/5/2026 18:30:00,Ada Berg,after training,"left elbow, right wrist",4,\n'
    form += "1/5/2026 19:30:00,Ada Berg,after training,left elbow,6,\n1/13/2026 18:00:00,Ada Berg,after,left elbow,1,\n"
    logs = read({"form.csv": form})
    assert [(p.site, p.rating) for p in logs.pain] == [("wrist", 4), ("elbow", 6), ("elbow", 1)]
    assert [(r.place.row, r.value, r.is_whole_row) for r in logs.rejected] == [(2, "4", False)]
    assert "row 3" in logs.rejected[0].reason
    assert balance(logs) == (4, 4)


def test_answers_at_noon_correct_each_other_once_the_session_s_time_is_known(read):
    form = "Timestamp,Name,Elbow pain\n2026-01-05 12:00,Ada Berg,3\n2026-01-05 12:20,Ada Berg,5\n"
    log = "Date,Start time,Name,Exercise,Load,Reps\n2026-01-05,{},Ada Berg,squat,100,5\n"
    ratings = {
        start: [(p.rating, p.moment) for p in read({"form.csv": form, "log.csv": log.format(start)}).pain]
        for start in ("09:00", "12:10")
    }
    assert ratings == {"09:00": [(5, "after")], "12:10": [(3, "before"), (5, "after")]}


def test_two_sites_are_two_reports_and_both_stand(read):
    text = (
        FORM + '1/5/2026 18:30:00,Ada Berg,after training,"left elbow, right wrist",4,\n'
        "1/13/2026 18:30:00,Ada Berg,after,,0,\n"
    )
    logs = read({"form.csv": text})
    assert [(p.site, p.side) for p in logs.pain[:2]] == [("elbow", "left"), ("wrist", "right")]


@pytest.mark.parametrize(
    ("note", "expected"),
    [
        ("left elbow 4/10 after", [("elbow", "left", 4, None)]),
        ("elbow pain 3", [("elbow", "unknown", 3, None)]),
        ("both elbows 6/10 once I was home", [("elbow", "both", 6, None)]),
        ("no elbow pain", [("elbow", "unknown", 0, None)]),
        ("elbows pain free", [("elbow", "both", 0, None)]),
        ("elbow 0/10", [("elbow", "unknown", 0, None)]),
        ("elbow slightly sore", [("elbow", "unknown", None, "mild")]),
        ("codo derecho 5/10 al acabar", [("elbow", "right", 5, None)]),
        ("sin dolor de codo", [("elbow", "unknown", 0, None)]),
        ("pas de douleur au coude", [("elbow", "unknown", 0, None)]),
        ("ingen smerter i albuen", [("elbow", "unknown", 0, None)]),
        ("linker Ellenbogen 4/10", [("elbow", "left", 4, None)]),
        ("keine Schmerzen im Ellenbogen", [("elbow", "unknown", 0, None)]),
        ("bez bólu łokcia", [("elbow", "unknown", 0, None)]),
        ("lewy łokieć 3/10 wieczorem", [("elbow", "left", 3, None)]),
        ("geen pijn in de elleboog", [("elbow", "unknown", 0, None)]),
        ("gomito destro 2/10", [("elbow", "right", 2, None)]),
        ("cotovelo esquerdo 5/10 depois do treino", [("elbow", "left", 5, None)]),
        ("ont i höger armbåge 4/10", [("elbow", "right", 4, None)]),
    ],
)
def test_a_note_becomes_a_report_with_site_and_rating(note, expected, lexicon):
    assert [(p.site, p.side, p.rating, p.severity) for p in pain_in_note(note, lexicon)] == expected


@pytest.mark.parametrize(
    "note",
    [
        "slept badly",
        "elbow",
        "elbow sleeves on",
        "training partner's elbow was sore",
        "if the elbow hurts we stop",
        "4/10 day",
        "elbow hurt yesterday 5/10",
        "squat 5x3 @140",
        "new elbow wraps",
        "felt strong",
        "left arm over the bar",
        "mal dormi",
        "top set 8/10",
        "shoulder width grip",
        "no elbow sleeves",
        "back to normal",
        "back off sets 4",
        "arm day",
        "elbow pain gone after 10 minutes",
        "worried about the elbow",
        "wenn der Ellenbogen 4/10 ist, aufhören",
    ],
)
def test_no_report_is_invented_from_other_words(note, lexicon):
    assert pain_in_note(note, lexicon) == []


def test_notes_can_be_switched_off(read):
    text = "Date,Name,Work,Notes\n2026-01-05,Ada Berg,squat 140x3,left elbow 4/10\n"
    assert len(read({"log.csv": text}).pain) == 1
    assert read({"log.csv": text}, "[season]\nnotes = false").pain == []


def test_the_words_of_a_note_are_kept_as_evidence(read):
    text = 'Date,Name,Work,Notes\n2026-01-05,Ada Berg,squat 140x3,"slept badly, left elbow 4/10 after"\n'
    (one,) = read({"log.csv": text}).pain
    assert (one.origin, one.evidence, str(one.place)) == ("note", "left elbow 4/10 after", "log.csv, row 2, column D")


@pytest.mark.parametrize(
    "note", ["elbow pain from set 3", "elbow pain since week 2", "elbow pain on rep 4", "elbow hurt for 3 sessions"]
)
def test_a_number_that_counts_something_else_is_no_rating(note, lexicon):
    assert [p.rating for p in pain_in_note(note, lexicon)] == []


def test_ratings_on_another_scale_are_set_aside_not_taken_for_0_to_10(read):
    logs = read({"log.csv": "Date,Name,Exercise,Load,Reps,Elbow pain (0-5)\n2026-01-05,Ada Berg,squat,100,5,3\n"})
    assert logs.pain == []
    assert "ends at 5" in logs.rejected[0].reason


def test_english_for_is_not_norwegian_for_before(lexicon):
    assert [p.moment for p in pain_in_note("left elbow 4/10 for the last two sets", lexicon)] == [None]
    assert [p.moment for p in pain_in_note("venstre albue 4/10 før økta", lexicon)] == ["before"]


@pytest.mark.parametrize(
    ("heading", "moment"),
    [("Smerte albue før", "before"), ("Elbow pain for today", "after"), ("Elbow pain next morning", "next morning"),
     ("Schmerz Ellenbogen vor dem Training", "before"), ("Douleur coude après la séance", "after")],
)  # fmt: skip
def test_a_heading_says_when(read, heading, moment):
    text = f"Date,Name,Exercise,Load,Reps,{heading}\n2026-01-05,Ada Berg,squat,100,5,3\n"
    assert [(p.site, p.moment) for p in read({"log.csv": text}).pain] == [("elbow", moment)]


def test_an_answer_of_known_words_and_a_question_mark_is_no_second_heading(read) -> None:
    """A form's row may consist of words that headings use; its time stamp shows that it is an answer."""
    text = (
        "Timestamp,Your name,When,Where,Worst pain 0-10,Anything else?\n"
        "11/25/2025 19:00:00,Måns,after training,elbows,2,\n"
        "11/26/2025 22:15:39,Måns,after training,elbows,?,\n"
        "11/28/2025 19:00:00,Måns,after training,elbows,3,\n"
    )
    assert [report.rating for report in read({"form.csv": text}).pain] == [2, 3]
