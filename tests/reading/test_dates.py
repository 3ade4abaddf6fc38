"""Dates: orders, years, words, and the files in which they stay open."""

from datetime import date, datetime

import pytest

from preflare.reading.date_order import decide_order
from preflare.reading.dates import Calendar, monday_of, read_date, years_in

HEADER = "Date,Name,Exercise,Load,Reps\n"


@pytest.mark.parametrize(
    ("text", "expected"),
    [("2026-03-05", date(2026, 3, 5)), ("20260305", date(2026, 3, 5)), ("5.3.2026", date(2026, 3, 5)),
     ("5 March 2026", date(2026, 3, 5)), ("March 5, 2026", date(2026, 3, 5)), ("Do 5. März 2026", date(2026, 3, 5)),
     ("5 mars 2026", date(2026, 3, 5)), ("5 de marzo de 2026", date(2026, 3, 5)), ("5 marca 2026", date(2026, 3, 5)),
     ("5 lutego 2026", date(2026, 2, 5)), ("31/12/26", date(2026, 12, 31)), ("Thu 05.03.2026", date(2026, 3, 5)),
     ("2026/3/5", date(2026, 3, 5)), ("5th March 2026", date(2026, 3, 5))],
)  # fmt: skip
def test_dates_in_words_and_figures(text, expected, lexicon):
    written = read_date(text, lexicon)
    assert written is not None
    assert Calendar("day first").resolve(written) == expected


# There is no month or day 0: "30.0" is a load, "0.5" an increment.
NO_ZERO = ["30.0", "0.5", "0.0", "Mon 30.0", "5.0.2026", "0.5.2026", "2026-00-05", "2026-05-00", "20260005"]


@pytest.mark.parametrize(
    "text", ["31.2.2026", "yesterday", "140x5", "5x3", "13/13/2026", "Squat", "12", "", *NO_ZERO, 20260500.0]
)
def test_what_is_no_date_is_none(text, lexicon):
    assert read_date(text, lexicon) is None


def test_a_spreadsheet_serial_is_a_date_of_the_1900_system(lexicon):
    # ECMA-376 part 1, 18.17.4.1: serial 45292 is 1 January 2024 (widely printed check value).
    written = read_date(45292.0, lexicon)
    assert written is not None
    assert Calendar("undecided").resolve(written) == date(2024, 1, 1)


def test_one_day_above_twelve_settles_a_whole_file(read):
    logs = read({"log.csv": HEADER + "05/03/2026,Ada Berg,squat,100,5\n13/03/2026,Ada Berg,squat,100,5\n"})
    assert [one.date for one in logs.sets] == [date(2026, 3, 5), date(2026, 3, 13)]
    assert logs.files[0].sheets[0].date_order == "day first"


def test_month_first_is_found_the_same_way(read):
    logs = read({"log.csv": HEADER + "05/03/2026,Ada Berg,squat,100,5\n03/13/2026,Ada Berg,squat,100,5\n"})
    assert [one.date for one in logs.sets] == [date(2026, 5, 3), date(2026, 3, 13)]


def test_an_open_order_is_refused_with_the_remedy_and_season_toml_settles_it(read):
    text = HEADER + "05/03/2026,Ada Berg,squat,100,5\n"
    logs = read({"log.csv": text})
    assert logs.sets == []
    assert "day_first" in logs.rejected[0].remedy
    told = read({"log.csv": text}, '[[source]]\nfile = "log.csv"\nday_first = true')
    assert [one.date for one in told.sets] == [date(2026, 3, 5)]


def test_a_weekday_beside_the_date_settles_the_order(read):
    # 5 March 2026 is a Thursday (ISO 8601 calendar, Python's own); 3 May 2026 is a Sunday.
    logs = read({"log.csv": HEADER + "Thu 05/03/2026,Ada Berg,squat,100,5\n"})
    assert [one.date for one in logs.sets] == [date(2026, 3, 5)]


def test_a_season_over_new_year_gives_two_years(lexicon):
    assert years_in("Season 2025/26") == (2025, 2026)
    calendar = Calendar("day first", (2025, 2026))
    days = [calendar.resolve(read_date(text, lexicon)) for text in ("1.11.", "1.2.")]
    assert days == [date(2025, 11, 1), date(2026, 2, 1)]


def test_dates_that_contradict_one_another_settle_nothing(lexicon):
    seen = [read_date(text, lexicon) for text in ("13/01/2026", "01/13/2026")]
    assert decide_order(seen, None)[0] == "undecided"


def test_iso_weeks():
    # ISO 8601: week 1 of 2026 begins on Monday 29 December 2025; 2026 has a week 53, 2025 has none.
    assert monday_of(2026, 1) == date(2025, 12, 29)
    assert monday_of(2026, 53) == date(2026, 12, 28)
    assert monday_of(2025, 53) is None


def test_a_future_date_is_set_aside(read):
    logs = read({"log.csv": HEADER + "2027-01-01,Ada Berg,squat,100,5\n2026-01-01,Ada Berg,squat,100,5\n"})
    assert len(logs.sets) == 1
    assert "future" in logs.rejected[0].reason


def test_a_birthday_among_training_dates_is_set_aside(read):
    rows = "".join(f"2026-01-{day:02},Ada Berg,squat,100,5\n" for day in range(1, 9))
    logs = read({"log.csv": HEADER + rows + "1999-06-01,Ada Berg,squat,100,5\n"})
    assert len(logs.sets) == 8
    assert "birthday" in logs.rejected[0].reason


def test_a_time_stamp_keeps_its_time(lexicon):
    written = read_date("3/25/2026 8:19:55 PM", lexicon)
    assert written is not None
    assert (written.clock, Calendar("month first").resolve(written)) == (
        datetime(2026, 3, 25, 20, 19).time(),
        date(2026, 3, 25),
    )


def test_the_season_settles_an_order_that_no_date_shows(read):
    text = HEADER + "05/03/2026,Ada Berg,squat,100,5\n07/03/2026,Ada Berg,squat,100,5\n"
    logs = read({"log.csv": text}, "[season]\nfrom = 2026-03-01\nto = 2026-03-31")
    assert [one.date for one in logs.sets] == [date(2026, 3, 5), date(2026, 3, 7)]
    assert any("season" in sentence for sentence in logs.files[0].sheets[0].assumptions)


def test_dates_that_another_country_s_spreadsheet_may_have_swapped_are_refused(read):
    # Typed day first: 5, 6, 13 and 14 March; a month-first spreadsheet made 3 May and 3 June of the first two.
    from openpyxl import Workbook

    book = Workbook()
    book.active.append(["Date", "Name", "Exercise", "Load", "Reps"])
    for day in (datetime(2026, 5, 3), datetime(2026, 6, 3), "13/03/2026", "14/03/2026"):
        book.active.append([day, "Ada Berg", "squat", 100, 5])
    logs = read({"log.xlsx": book})
    assert [one.date for one in logs.sets] == [date(2026, 3, 13), date(2026, 3, 14)]
    assert ["swapped" in row.reason for row in logs.rejected] == [True, True]
    told = read({"log.xlsx": book}, '[[source]]\nfile = "log.xlsx"\nday_first = true')
    assert len(told.sets) == 4


@pytest.mark.parametrize(
    ("written", "month", "day"), [("2 Mar", 3, 2), ("2 mar 2026", 3, 2), ("Mar 5, 2026", 3, 5), ("mar. 8 oct.", 10, 8)]
)
def test_a_word_for_a_month_that_is_a_weekday_too_is_the_month_beside_a_bare_day(lexicon, written, month, day):
    found = read_date(written, lexicon)
    assert (found.month, found.day) == (month, day)


def test_a_weekday_and_a_bare_day_without_a_month_are_no_date(lexicon):
    assert read_date("mar 8", lexicon) is None
