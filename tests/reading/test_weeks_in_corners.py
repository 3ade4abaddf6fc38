"""A grid for each week, the week in the corner and its days across: read by day, each row by its own lift.

The logs are invented, in eleven languages, and read by eye. Common practice, no published source.
"""

import pytest
from openpyxl import Workbook

LIFTS = ["back squat", "bench press", "curl"]
NAMES = {
    "en": ("Squat", "Bench press", "Curl"),
    "de": ("Kniebeuge", "Bankdrücken", "Curls"),
    "fr": ("Squat", "Développé couché", "Curl"),
    "es": ("Sentadilla", "Press banca", "Curl con barra"),
    "it": ("Squat", "Panca piana", "Curl"),
    "pt": ("Agachamento", "Supino", "Rosca direta"),
    "nl": ("Squat", "Bankdrukken", "Curl"),
    "pl": ("Przysiad", "Wyciskanie leżąc", "Uginanie ramion"),
    "no": ("Knebøy", "Benkpress", "Curl"),
    "da": ("Squat", "Bænkpres", "Curl"),
    "sv": ("Knäböj", "Bänkpress", "Curl"),
}
CORNERS = [
    ("en", "Week {}", "Mon {}", "Thu {}"), ("en", "Wk {}", "{}", "{}"), ("en", "WEEK {}:", "Monday {}", "Thursday {}"),
    ("en", "W{}", "Mon {}", "Thu {}"), ("en", "Week {} (heavy)", "Mon {}", "Thu {}"),
    ("en", "Block 1, week {}", "Mon {}", "Thu {}"), ("en", "Microcycle {}", "Mon {}", "Thu {}"),
    ("de", "Woche {}", "Mo {}", "Do {}"), ("de", "KW {}", "Mo {}", "Do {}"), ("fr", "Semaine {}", "lun {}", "jeu {}"),
    ("es", "SEMANA {}", "Lun {}", "Jue {}"), ("es", "Sem. {}", "Lun {}", "Jue {}"),
    ("it", "Settimana {}", "lun {}", "gio {}"), ("pt", "Semana {}", "seg {}", "qui {}"),
    ("nl", "Week {}", "ma {}", "do {}"), ("pl", "Tydzień {}", "pon {}", "czw {}"), ("no", "Uke {}", "man {}", "tor {}"),
    ("da", "Uge {}", "man {}", "tor {}"), ("sv", "Vecka {}", "mån {}", "tors {}"), ("sv", "V. {}", "mån {}", "tors {}"),
]  # fmt: skip


def log(corner, first, second, names, title=""):
    squat, bench, curl = names
    rows = [title or "Ada Berg - 2026", ""]
    for week, (monday, thursday) in enumerate([("14/9", "17/9"), ("21/9", "24/9"), ("28/9", "1/10")], start=1):
        rows += [
            f"{corner.format(week)};{first.format(monday)};{second.format(thursday)}",
            f"{squat};{100 + week}x5 / {102 + week}x5;{90 + week}x5",
            f"{bench};{60 + week}x5;",
            f"{curl};;{30 + week}x10",
            "",
        ]
    return "\n".join(rows)


def expected():
    found = []
    for week, (monday, thursday) in enumerate([("09-14", "09-17"), ("09-21", "09-24"), ("09-28", "10-01")], start=1):
        found += [(monday, "back squat", 100 + week, 5), (monday, "back squat", 102 + week, 5)]
        found += [(thursday, "back squat", 90 + week, 5), (monday, "bench press", 60 + week, 5)]
        found += [(thursday, "curl", 30 + week, 10)]
    return sorted(found)


def sets(logs):
    return sorted((f"{one.date:%m-%d}", one.exercise, one.load_kg, one.reps) for one in logs.sets)


@pytest.mark.parametrize(("language", "corner", "first", "second"), CORNERS)
def test_each_row_below_a_week_and_its_days_is_of_its_own_lift_and_day(read, language, corner, first, second):
    assert sets(read({"Ada Berg.csv": log(corner, first, second, NAMES[language])})) == expected()


@pytest.mark.parametrize(
    ("language", "corner", "first", "second", "habit"),
    [
        ("en", "Week {}", "Mon {}", "Thu {}", "Squat: always the straight bar, low, unless it says safety bar"),
        ("de", "Woche {}", "Mo {}", "Do {}", "Kniebeuge: immer gerade Stange, tief"),
        ("es", "SEMANA {}", "Lun {}", "Jue {}", "Sentadilla: siempre barra recta, baja, agarre angosto"),
        ("sv", "Grupp {}", "mån {}", "tors {}", "Knäböj: alltid rak stång"),
        ("it", "Scheda {}", "lun {}", "gio {}", "Squat: sempre bilanciere dritto"),
    ],
)
def test_a_sentence_on_one_lift_above_makes_no_other_row_that_lift(read, language, corner, first, second, habit):
    logs = read({"Ada Berg.csv": log(corner, first, second, NAMES[language], f"Ada Berg - 2026\n{habit}")})
    assert sets(logs) == expected()


@pytest.mark.parametrize(
    ("language", "corner", "first", "second"),
    [
        ("en", "Week {week}: {day}", "Mon {monday}", "Thu {thursday}"), ("en", "Week of {day}", "Mon", "Thu"),
        ("en", "Week {week} ({day})", "Monday", "Thursday"), ("en", "w/c {day}", "Mon", "Thu"),
        ("de", "Woche vom {day}", "Mo", "Do"), ("de", "Woche {week}: {day}", "Mo {monday}", "Do {thursday}"),
        ("fr", "Semaine du {day}", "lun", "jeu"), ("fr", "Semaine {week} ({day})", "lun", "jeu"),
        ("es", "Semana del {day}", "Lun", "Jue"), ("es", "Semana {week} ({day})", "Lun {monday}", "Jue {thursday}"),
        ("it", "Settimana del {day}", "lun", "gio"), ("pt", "Semana de {day}", "seg", "qui"),
        ("nl", "Week {week} ({day})", "ma", "do"), ("pl", "Tydzień {week} ({day})", "pon", "czw"),
        ("no", "Uke {week} ({day})", "man", "tor"), ("da", "Uge {week} ({day})", "man", "tor"),
        ("sv", "Vecka {week} ({day})", "mån", "tors"),
    ],
)  # fmt: skip
def test_a_week_that_names_its_monday_dates_the_weekdays_beside_it(read, language, corner, first, second):
    book = Workbook()
    sheet = book.active
    sheet.title = "Ada Berg"
    squat, bench, curl = NAMES[language]
    for week, (monday, thursday) in enumerate([("14/9", "17/9"), ("21/9", "24/9"), ("28/9", "1/10")], start=1):
        told = {"week": week, "day": monday, "monday": monday, "thursday": thursday}
        sheet.append([one.format(**told) for one in (corner, first, second)])
        sheet.append([squat, f"{100 + week}x5 / {102 + week}x5", f"{90 + week}x5"])
        sheet.append([bench, f"{60 + week}x5", None])
        sheet.append([curl, None, f"{30 + week}x10"])
        sheet.append([])
    assert sets(read({"log 2026.xlsx": book})) == expected()


@pytest.mark.parametrize(
    ("corner", "day"),
    [
        ("Week {}", "Mon {}"), ("Woche {}", "Mo {}"), ("Semaine {}", "lun {}"), ("SEMANA {}", "Lun {}"),
        ("Settimana {}", "lun {}"), ("Semana {}", "seg {}"), ("Week {}", "ma {}"), ("Tydzień {}", "pon {}"),
        ("Uke {}", "man {}"), ("Uge {}", "man {}"), ("Vecka {}", "mån {}"),
    ],
)  # fmt: skip
def test_the_one_day_beside_a_numbered_week_is_the_day_and_not_the_week_of_the_year(read, corner, day):
    book = Workbook()
    sheet = book.active
    sheet.title = "Ada Berg"
    for week, monday in enumerate(("14/9", "21/9", "28/9"), start=1):
        for row in ([corner.format(week), day.format(monday)], ["Squat", f"{100 + week}x5"], ["Curl", "30x10"], []):
            sheet.append(row)
    found = sets(read({"log 2026.xlsx": book}))
    days = ["09-14", "09-21", "09-28"]
    squats = [(day, "back squat", 101 + at, 5) for at, day in enumerate(days)]
    assert found == sorted([*squats, *((day, "curl", 30, 10) for day in days)])


@pytest.mark.parametrize("corner", ["Week {}", "SEMANA {}", "Woche {}"])
def test_numbered_weeks_whose_days_nobody_tells_are_set_aside(read, corner):
    book = Workbook()
    sheet = book.active
    sheet.title = "Ada Berg"
    sheet.append(["September 2026"])
    for week in (1, 2, 3):
        for row in ([corner.format(week), "Mon", "Thu"], ["Squat", "100x5", "90x5"], ["Curl", None, "30x10"], []):
            sheet.append(row)
    logs = read({"log 2026.xlsx": book})
    assert not logs.sets
    assert any("on which day" in one.reason for one in logs.rejected)
