"""The year of dates written without one: each source that can tell it, in the ways that people leave it out.

Weekdays are those of the Gregorian calendar as Python's own `datetime` has them (today, in these tests, is
Wednesday 25 November 2026). What a careful person would conclude is common practice, no published source.
"""

from datetime import date

import pytest
from openpyxl import Workbook

HEAD = "Date;Name;Exercise;kg;Reps\n"


def rows(*days: str, name: str = "Ada Berg") -> str:
    return "".join(f"{day};{name};squat;100;5\n" for day in days)


def dates(logs):
    return list(dict.fromkeys(one.date for one in logs.sets))


def said(logs) -> str:
    return " ".join(line for file in logs.files for sheet in file.sheets for line in sheet.assumptions)


@pytest.mark.parametrize(
    ("name", "year"),
    [("spring 2025.csv", 2025), ("log_20250131.csv", 2025), ("2024/log.csv", 2024), ("Saison 24/log.csv", 2026),
     ("Winterblock 24-25/log.csv", 2025), ("journal '25.csv", 2025), ("2023-2024/carnet.csv", 2024),
     ("Ada (1998).csv", 2026), ("dziennik 2025 r.csv", 2025), ("logg vår 2025/uke.csv", 2025)],
)  # fmt: skip
def test_names_of_files_and_folders_tell_the_year(read, name, year):
    # A year of birth is no year of a log of today: then the latest year is taken.
    assert dates(read({name: HEAD + rows("5.3.", "7.3.")})) == [date(year, 3, 5), date(year, 3, 7)]


@pytest.mark.parametrize(
    "title", ["Spring 2025", "Vorbereitung Frühjahr 2025", "Carnet de mars 2025", "Diario 2024/25", "Treinos 2025",
              "Logboek voorjaar 2025", "Plan wiosna 2025", "Treningslogg 2025", "Dagbok våren '25",
              "Temporada 2024-2025"],
)  # fmt: skip
def test_a_title_tells_the_year_before_all_names(read, title):
    logs = read({"2022/log.csv": f"{title}\n\n{HEAD}" + rows("5.3.", "19.3.")})
    assert dates(logs) == [date(2025, 3, 5), date(2025, 3, 19)]
    assert title in said(logs)


def test_the_running_order_finds_new_year(read):
    text = "Winter 2023\n\n" + HEAD + rows("20.11.", "11.12.", "28.12.", "4.1.", "2.2.")
    assert [day.year for day in dates(read({"log.csv": text}))] == [2023, 2023, 2023, 2024, 2024]


def test_the_running_order_finds_new_year_where_the_newest_stand_first(read):
    text = "2023/24\n\n" + HEAD + rows("2.2.", "4.1.", "28.12.", "11.12.")
    assert [day.year for day in dates(read({"log.csv": text}))] == [2024, 2024, 2023, 2023]


def test_every_lifter_of_one_table_may_begin_before_new_year(read):
    text = "2023/24\n\n" + HEAD + rows("20.12.", "9.1.") + rows("20.12.", "11.1.", name="Ola Dahl")
    assert [day.year for day in dates(read({"log.csv": text}))] == [2023, 2024, 2024]


def test_a_title_that_names_the_year_of_most_dates_counts_for_these(read):
    text = "Winter 2024\n\n" + HEAD + rows("28.12.", "4.1.", "6.1.", "9.1.")
    assert [day.year for day in dates(read({"log.csv": text}))] == [2023, 2024, 2024, 2024]


def test_a_year_told_for_a_log_over_new_year_is_that_of_most_dates(read):
    told = '[[source]]\nfile = "log.csv"\nyear = 2022'
    logs = read({"log.csv": "2024\n\n" + HEAD + rows("9.12.", "12.12.", "28.12.", "4.1.")}, told)
    assert [day.year for day in dates(logs)] == [2022, 2022, 2022, 2023]


def test_a_log_over_more_than_a_year_runs_on(read):
    text = HEAD + rows("5.3.2024", "7.3.", "1.6.", "3.9.", "1.12.", "4.1.", "2.3.", "9.5.", "20.8.", "20.12.", "7.1.")
    assert [day.year for day in dates(read({"log.csv": text}))] == [2024] * 5 + [2025] * 5 + [2026]


def book(*sheets: tuple[str, str | None, list[object]]) -> Workbook:
    """A workbook of sheets: name, title, dates."""
    made = Workbook()
    made.remove(made.active)
    for name, title, days in sheets:
        sheet = made.create_sheet(name)
        if title:
            sheet.append([title])
        sheet.append(["Date", "Name", "Exercise", "kg", "Reps"])
        for day in days:
            sheet.append([day, "Ada Berg", "squat", 100, 5])
    return made


def test_real_dates_beside_texts_tell_the_year(read):
    made = book(("Log", None, [date(2024, 3, 4), "6.3.", date(2024, 3, 8), "11.3."]))
    assert {day.year for day in dates(read({"log.xlsx": made}))} == {2024}


def test_real_dates_on_another_sheet_tell_the_year(read):
    made = book(("Jan", None, ["10.1.", "12.1."]), ("Feb", None, [date(2024, 2, 5)]), ("Mar", None, ["4.3."]))
    assert {day.year for day in dates(read({"log.xlsx": made}))} == {2024}


def test_a_year_on_the_first_of_several_sheets_holds_for_all_in_order(read):
    made = book(("Nov", "Treinos, novembro de 2023", ["6.11."]), ("Dez", None, ["4.12."]), ("Jan", None, ["8.1."]))
    assert dates(read({"log.xlsx": made})) == [date(2023, 11, 6), date(2023, 12, 4), date(2024, 1, 8)]


def test_a_year_on_the_last_of_several_sheets_holds_for_all_in_order(read):
    made = book(("Nov", None, ["6.11."]), ("Dez", None, ["4.12."]), ("Jan", "Januar 2024", ["8.1."]))
    assert dates(read({"log.xlsx": made})) == [date(2023, 11, 6), date(2023, 12, 4), date(2024, 1, 8)]


def test_sheets_named_after_years_keep_their_own(read):
    made = book(("2023", None, ["6.3.", "9.11."]), ("2024", None, ["4.3.", "7.11."]))
    assert [day.year for day in dates(read({"log.xlsx": made}))] == [2023, 2023, 2024, 2024]


# 5 March was a Thursday in 2026, a Wednesday in 2025, a Tuesday in 2024; 1 March 2023 was a Wednesday.
@pytest.mark.parametrize(
    ("days", "year"),
    [(("Wed 5.3.", "Fri 7.3."), 2025), (("di 5.3.", "do 7.3."), 2024), (("5.3. (Do)", "7.3. (Sa)"), 2026),
     (("mer 1.3.", "ven 3.3."), 2023), (("śr 5.3.", "pt 7.3."), 2025), (("qua 5.3.", "sex 7.3."), 2025),
     (("ons 5.3.", "fre 7.3."), 2025), (("miércoles 5.3.", "viernes 7.3."), 2025), (("tir 5.3.", "tor 7.3."), 2024),
     (("mercoledì 5.3.", "venerdì 7.3."), 2025)],
)  # fmt: skip
def test_weekdays_tell_the_year(read, days, year):
    logs = read({"log.csv": HEAD + rows(*days)})
    assert {day.year for day in dates(logs)} == {year}
    assert "weekdays" in said(logs)


def test_weekdays_that_all_fit_the_year_beside_it_beat_a_title_left_standing(read):
    logs = read({"log 2025.csv": HEAD + rows("Mon 5.1.", "Wed 7.1.", "Fri 9.1.")})  # so in 2026
    assert {day.year for day in dates(logs)} == {2026}
    assert "would give another" in said(logs)


def test_the_season_tells_the_year(read):
    season = "[season]\nfrom = 2023-09-01\nto = 2024-05-31"
    logs = read({"log.csv": HEAD + rows("6.11.", "8.1.")}, season)
    assert dates(logs) == [date(2023, 11, 6), date(2024, 1, 8)]


def test_the_time_stamps_of_the_form_tell_the_year_of_the_log(read):
    form = "Timestamp,Name,Elbow pain\n2024-03-05 19:10:00,Ada Berg,2\n2024-03-07 19:02:11,Ada Berg,3\n"
    logs = read({"a log.csv": HEAD + rows("5.3.", "7.3."), "form.csv": form})
    assert dates(logs) == [date(2024, 3, 5), date(2024, 3, 7)]
    assert "other files" in said(logs)


def test_at_the_very_last_the_latest_year_in_the_past_is_taken_and_said(read):
    logs = read({"log.csv": HEAD + rows("20.11.", "2.12.")})
    assert dates(logs) == [date(2025, 11, 20), date(2025, 12, 2)]  # on 25 November 2026, 2 December lies ahead
    assert any("no year" in row.reason and "year = 2025" in row.remedy for row in logs.rejected)
    assert "year = 2025" in said(logs)


def test_a_diary_of_lines_has_its_year_found_too(read):
    logs = read({"Ada Berg.txt": "Mon 5.1.\nSquat 3x5 @100\n\nWed 7.1.\nSquat 3x5 @102.5\n"})
    assert dates(logs) == [date(2026, 1, 5), date(2026, 1, 7)]


def test_where_day_and_month_are_open_no_year_is_guessed(read):
    logs = read({"log.csv": HEAD + rows("5/3", "7/3")})
    assert logs.sets == []
    assert all("year" in row.reason or "either way" in row.reason for row in logs.rejected)


def test_a_date_that_fits_its_weekday_either_way_round_denies_no_order(read):
    # 5 January 2026 is a Monday and 1 May a Friday; 7 January and 1 July 2026 are both Wednesdays.
    logs = read({"log.csv": HEAD + rows("Mon 5/1/2026", "Wed 7/1/2026")})
    assert dates(logs) == [date(2026, 1, 5), date(2026, 1, 7)]
