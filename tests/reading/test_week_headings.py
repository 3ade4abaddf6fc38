"""Weeks and the days in them, as headings and cells name them. Days checked by an ISO 8601 calendar (python's)."""

from datetime import date

import pytest
from openpyxl import Workbook

from preflare.reading.dates import Calendar, read_date
from preflare.reading.weeks import day_behind_week_word, first_of_range


@pytest.mark.parametrize(
    ("written", "first"),
    [
        ("5.1.-11.1.", "5.1."),
        ("5.-11.1.", "5.1."),
        ("5-11 Jan", "5 Jan"),
        ("29 Dec - 4 Jan", "29 Dec"),
        ("Jan 5-11", "Jan 5"),
        ("02/03 – 08/03", "02/03"),
        ("du 5 au 11 janvier".removeprefix("du "), "5 janvier"),
        ("5 al 11 de enero", "5 de enero"),
        ("12/01", "12/01"),
    ],
)
def test_of_a_range_of_days_the_first_counts(lexicon, written, first):
    assert read_date(first_of_range(written, lexicon), lexicon) == read_date(first, lexicon) is not None


@pytest.mark.parametrize("written", ["3-5", "100-110", "29.-4.2.", "4x5", "week", "2-3"])
def test_what_is_no_range_of_days_gives_none(lexicon, written):
    assert first_of_range(written, lexicon) is None


@pytest.mark.parametrize(
    ("written", "day"),
    [
        ("Sem 12/01", "12/01"),
        ("Week of 5 Jan", "5 Jan"),
        ("Semaine du 12 janvier", "12 janvier"),
        ("w/c 5 Jan", "5 Jan"),
        ("Woche vom 5.1.", "5.1."),
        ("Tydzień od 5.01", "5.01"),
        ("Uke fra 5/1", "5/1"),
    ],
)
def test_a_day_behind_a_word_for_a_week(lexicon, written, day):
    assert day_behind_week_word(written, lexicon) == day


@pytest.mark.parametrize(
    ("written", "week", "weekday"),
    [
        ("KW 33 Mo", 33, 1),
        ("KW33, Do", 33, 4),
        ("v.33 tors", 33, 4),
        ("v 38 tis", 38, 2),
        ("uke 33 fredag", 33, 5),
        ("Mon wk 3", 3, 1),
        ("2026-W33-1", 33, 1),
    ],
)
def test_a_week_and_a_weekday_in_one_cell_make_a_day_of_the_iso_calendar(lexicon, written, week, weekday):
    expected = date.fromisocalendar(2026, week, weekday)
    assert Calendar("undecided", (2026,)).resolve(read_date(written, lexicon)) == expected


def test_a_week_of_a_season_over_new_year_falls_into_the_year_that_it_can(lexicon):
    calendar = Calendar("undecided", (2025, 2026))
    assert calendar.resolve(read_date("v.49 mån", lexicon)) == date.fromisocalendar(2025, 49, 1)
    assert calendar.resolve(read_date("v.3 mån", lexicon)) == date.fromisocalendar(2026, 3, 1)


def test_a_week_and_a_weekday_without_any_year_are_refused_with_the_remedy(read):
    logs = read({"Ada Berg.csv": "Date;Exercise;Load;Reps\nv.33 mon;Squat;100;5\n"})
    assert not logs.sets
    assert "year" in logs.rejected[0].remedy


@pytest.mark.parametrize("headings", [("Woche 1 (5.1.-11.1.)", "Woche 2 (12.1.-18.1.)"), ("Sem 05/01", "Sem 19/01")])
def test_a_grid_takes_its_days_from_the_dates_of_its_weeks(read, headings):
    rows = [
        ["Plan 2026"],
        ["Tag", "Übung", *headings],
        ["Mo", "Kniebeuge", "3x5 @100", None],
        ["Do", "Kreuzheben", None, "3x5 @140"],
    ]
    book = Workbook()
    for row in rows:
        book.active.append(row)
    logs = read({"Ada Berg.xlsx": book})
    second = date(2026, 1, 15 if "Woche" in headings[0] else 22)
    assert {(one.date, one.exercise) for one in logs.sets} == {(date(2026, 1, 5), "back squat"), (second, "deadlift")}


def weeks_on_sheets(names):
    book = Workbook()
    book.remove(book.active)
    for name in names:
        sheet = book.create_sheet(name)
        for row in (["Season 2026"], ["Week", "Day", "Lifter", "Exercise", "kg", "reps"],
                    [int(name.split()[1]), "Mon", "Ada Berg", "squat", 100, 5]):  # fmt: skip
            sheet.append(row)
    return book


@pytest.mark.parametrize("names", [["Wk 1", "Wk 2", "Wk 3"], ["Woche 1", "Woche 2"], ["Sem 3", "Sem 2", "Sem 1"]])
def test_sheets_that_count_weeks_from_one_are_no_weeks_of_the_calendar(read, names):
    logs = read({"log.xlsx": weeks_on_sheets(names)})
    assert logs.sets == []
    told = "\n".join(sentence for sheet in logs.files[0].sheets for sentence in sheet.assumptions)
    assert "ISO 8601" not in told
    assert "give the first day in season.toml" in told


def test_sheets_of_the_weeks_of_a_calendar_are_dated_by_it(read):
    logs = read({"log.xlsx": weeks_on_sheets(["Wk 12", "Wk 13"])})
    assert {one.date for one in logs.sets} == {date(2026, 3, 16), date(2026, 3, 23)}
