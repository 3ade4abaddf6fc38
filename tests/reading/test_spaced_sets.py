"""Loads with nothing but a space before their repetitions, and blocks of people across under a day in the corner.

The logs are invented after common ways to keep them (common practice, no published source), and read by eye.
"""

from datetime import date

import pytest
from openpyxl import Workbook

from preflare.reading.item import Habits
from preflare.reading.settled_roles import SHORTHAND
from preflare.reading.shorthand import parse_work
from preflare.reading.spaced_sets import write_load_apart
from reading.shorthand_sets import LEXICON, noted

LISTS = """
60 8/8/7 | 2*60x8 60x7
80 5,5,5 | 3*80x5
80 5, 5, 5 | 3*80x5
82,5 5/5/4 | 2*82.5x5 82.5x4
82.5 5-5-5 @8.5 | 3*82.5x5@8.5
155 5/5/4 @8 | 2*155x5@8 155x4@8
155 5/5/4 RPE 8 | 2*155x5@8 155x4@8
100 5/5/5 2 RIR | 3*100x5r2
100 5/5/5 RIR 2 | 3*100x5r2
155 - 5/5/4 | 2*155x5 155x4
155 5/5/4 @7/8/9 | 155x5@7 155x5@8 155x4@9
155 5/5/4 @7,8,9 | 155x5@7 155x5@8 155x4@9
100x5/5/5 @7/8/9 | 100x5@7 100x5@8 100x5@9
5/5/4 155 @8 | 2*155x5@8 155x4@8
155 5/5/4 + 135 8/8 | 2*155x5 155x4 2*135x8
80kg 5/5/5 | 3*80x5
155 lb 5/5/4 | 2*155lbx5 155lbx4
105 8/7 | 105x8 105x7
100 5/5, 110 3/3 | 2*100x5 2*110x3
100 5/5 110 3/3 | 2*100x5 2*110x3
100 5/5; 110 3/3 | 2*100x5 2*110x3
w/u 60x5 - 100 5/5/5 | 60x5w 3*100x5
wu 60x5; 100 5/5/5 | 60x5w 3*100x5
265 5/5/3 (4th rep failed) @10 | 2*265x5@10 265x3F@10
100 5/5/5 easy | 3*100x5
BW 5/4 | +-x5 +-x4
+25 5/5 | 2*+25x5
(SSB) 175 5/5/5 @7 | 3*175x5@7
[SSB] 100 5/5 | 2*100x5
(SSB) 175x5 | 175x5
SSB: 175 5/5 | 2*175x5
"""
OPEN = [
    "135 5",
    "28 - 30/9",
    "155 5/5/4 RIR",
    "100 5-8",
    "100 4/10",
    "100 3/5",
    "2026 9/14",
    "100 5/5/F",
    "230 5/55/5",
    "15 5/5/5",
    "elbow 100 4/10",
]
APART = [
    ("wu 95 5; 155 5/5/4 @8", "95x5w 2*155x5@8 155x4@8"),
    ("wu 95 5, 155 5/5/4 @8", "95x5w 2*155x5@8 155x4@8"),
    ("w/u 60 5 - 100 5/5/5", "60x5w 3*100x5"),
    ("60 5, 80 5, 100 5/5/5", "60x5 80x5 3*100x5"),
    ("Aufwärmen 60 5; 100 5/5/5", "60x5w 3*100x5"),
    ("échauff. 60 5; 100 5/5/5", "60x5w 3*100x5"),
    ("205 3 @8", "205x3@8"),
    ("205 5", "205x5"),
]


@pytest.mark.parametrize(("text", "expected"), [line.rsplit("|", 1) for line in LISTS.strip().splitlines()])
def test_a_list_behind_a_load_holds_its_repetitions(text, expected):
    assert noted(parse_work(text.strip(), LEXICON).sets) == expected.strip()


@pytest.mark.parametrize("text", OPEN)
def test_what_may_be_a_range_a_rating_or_a_count_of_sets_stays_open(text):
    assert not parse_work(text, LEXICON).sets


@pytest.mark.parametrize(("text", "expected"), APART)
def test_a_lone_number_behind_a_load_counts_repetitions_where_the_log_writes_lists(text, expected):
    assert noted(parse_work(text, LEXICON, habits=Habits(is_load_apart=True)).sets) == expected
    assert noted(parse_work(text, LEXICON).sets) != expected


@pytest.mark.parametrize("text", ["25 5", "20 8", "30 10", "100 5 3", "100 5/8"])
def test_two_small_numbers_stay_open_even_there(text):
    assert not parse_work(text, LEXICON, habits=Habits(is_load_apart=True)).sets


def test_two_cells_make_it_the_habit_of_a_log():
    assert write_load_apart(["squat", "155 5/5/4", "60 8/8/7"])
    assert not write_load_apart(["155 5/5/4", "16/09/2026", "100x5/5/5", "2026 9/14", "140 5x3"])


@pytest.mark.parametrize("text", ["155 5/5/4", "80 5,5,5", "wu 95 5; 155 5/5/4", "BW 5/4", "+25 5/5", "(SSB) 175 5/5"])
def test_cells_so_written_look_like_sets(text):
    assert SHORTHAND.search(text)


@pytest.mark.parametrize("text", ["2026 9/14", "Mon 14 9/14", "Week 38 21/9", "12/9/2026", "pain 25 3/10", "5/5"])
def test_days_and_ratings_do_not_look_like_sets(text):
    assert not SHORTHAND.search(text)


DAYS = [  # the first day, the second day, a line over them, their lifts, remarks, pain
    ("Monday Sept 14", "Thursday Sept 17", "Week 1: Sept 14 - Sept 18, 2026", "Squat", "Bench", "Notes"),
    ("Montag 14.9.", "Donnerstag 17.9.", "Woche vom 14.9.2026", "Kniebeuge", "Bankdrücken", "Notizen"),
    ("lundi 14/9", "jeudi 17/9", "Semaine du 14/9/2026", "Squat", "Développé couché", "Remarques"),
    ("lunes 14/9", "jueves 17/9", "Semana del 14/9/2026", "Sentadilla", "Press banca", "Notas"),
    ("lunedì 14/9", "giovedì 17/9", "Settimana del 14/9/2026", "Squat", "Panca piana", "Note"),
    ("segunda 14/9", "quinta 17/9", "Semana de 14/9/2026", "Agachamento", "Supino", "Notas"),
    ("maandag 14/9", "donderdag 17/9", "Week van 14/9/2026", "Squat", "Bankdrukken", "Opmerkingen"),
    ("poniedziałek 14.09", "czwartek 17.09", "Tydzień od 14.09.2026", "Przysiad", "Wyciskanie leżąc", "Uwagi"),
    ("mandag 14.9.", "torsdag 17.9.", "Uke fra 14.9.2026", "Knebøy", "Benkpress", "Notater"),
    ("mandag 14/9", "torsdag 17/9", "Uge fra 14/9/2026", "Squat", "Bænkpres", "Noter"),
    ("måndag 14/9", "torsdag 17/9", "Vecka från 14/9/2026", "Knäböj", "Bänkpress", "Anteckningar"),
]


def book_of(rows, names=()):
    book = Workbook()
    for row in rows:
        book.active.append(row)
    book.active.title = "Wk1"
    if names:
        key = book.create_sheet("Names", 0)
        for row in names:
            key.append(row)
    return book


@pytest.mark.parametrize("words", DAYS, ids=lambda words: words[0])
@pytest.mark.parametrize("people", [("PW", "CB", "HO"), ("Pia", "Cem", "Hal"), ("pw", "cb", "ho")], ids=str)
def test_initials_stand_across_below_a_day_in_the_corner(read, words, people):
    monday, thursday, title, squat, bench, notes = words
    rows = [
        [title],
        [],
        [monday, *people],
        [squat, "wu 95 5; 155 5/5/4", "245 5/5/5", "185 5/5/4"],
        [bench, "85 6/6/5", "-", "105 8/7"],
        [notes],
        [],
        [thursday, *people],
        [bench, "60 6/6", "110 6/6", "70 6/5"],
        [notes],
    ]
    logs = read({"log.xlsx": book_of(rows)}, season="[season]\nfrom = 2026-09-01\nto = 2026-12-31\n")
    assert len({one.athlete for one in logs.sets}) == 3
    found = [(one.date, one.exercise, one.load_kg, one.reps, one.is_warm_up) for one in logs.sets]
    first = {one.athlete.casefold(): None for one in logs.sets}
    assert set(first) == {name.casefold() for name in people}
    assert sum(one[0] == date(2026, 9, 14) for one in found) == 4 + 3 + 3 + 3 + 2
    assert sum(one[0] == date(2026, 9, 17) for one in found) == 6
    assert (date(2026, 9, 14), "back squat", 95.0, 5, True) in found
    assert {one[1] for one in found} == {"back squat", "bench press"}


@pytest.mark.parametrize("names", [("Pia", "Cem", "Hal"), ("Tom", "Ana", "Mar"), ("Li", "Jo", "Don")], ids=str)
def test_one_weekday_of_another_language_among_names_is_a_name(read, names):
    rows = [["2026-09-14", *names], ["Squat", *["100 5/5"] * 3], ["Bench", *["60 5/5"] * 3]]
    logs = read({"log.xlsx": book_of(rows)})
    assert {one.athlete for one in logs.sets} == set(names)


def test_weekdays_across_stay_days(read):
    rows = [
        ["Ada Berg, week of 2026-09-14"],
        ["", "Mon", "Wed", "Fri"],
        ["Squat", *["100 5/5"] * 3],
        ["Bench", *["60 5/5"] * 3],
    ]
    logs = read({"log.xlsx": book_of(rows)})
    assert {one.date.day for one in logs.sets} == {14, 16, 18}


TITLES = [
    ("Squats this week: SSB", ("safety", None, None)),
    ("Squats this week: straight bar, low bar, narrow grip", ("straight", "low", "narrow")),
    ("Squat - high bar", (None, "high", None)),
    ("Kniebeuge diese Woche: Sicherheitsstange", ("safety", None, None)),
    ("Squats cette semaine : barre droite", ("straight", None, None)),
    ("Sentadillas de la semana: barra de seguridad", ("safety", None, None)),
    ("Squat della settimana: bilanciere dritto", ("straight", None, None)),
    ("Agachamento da semana: barra de segurança", ("safety", None, None)),
    ("Squats deze week: veiligheidsstang", ("safety", None, None)),
    ("Przysiady w tym tygodniu: gryf prosty", ("straight", None, None)),
    ("Knebøy denne uka: sikkerhetsstang", ("safety", None, None)),
    ("Squat denne uge: sikkerhedsstang", ("safety", None, None)),
    ("Knäböj denna vecka: säkerhetsstång", ("safety", None, None)),
    ("Bar this week: SSB", ("safety", None, None)),
    ("Squats next week: SSB", (None, None, None)),
    ("Kniebeuge ab nächster Woche: Sicherheitsstange", (None, None, None)),
    ("Squats: no SSB", (None, None, None)),
    ("Squats: SSB or straight bar", (None, None, None)),
    ("Bench this week: narrow grip", (None, None, None)),
    ("Squats this week: test the SSB if it has come", (None, None, None)),
]


@pytest.mark.parametrize(("title", "expected"), TITLES, ids=[title for title, _ in TITLES])
@pytest.mark.parametrize("is_across", [True, False], ids=["across", "list"])
def test_a_title_says_what_the_squats_of_its_sheet_were_done_with(read, title, expected, is_across):
    across = [
        [title], [], ["2026-09-14", "Ada", "Bo"], ["Squat", "155x5", "185x5"], ["Bench", "60x5", "80x5"],
    ]  # fmt: skip
    listed = [
        [title], [], ["Date", "Name", "Exercise", "kg", "Reps"],
        ["2026-09-14", "Ada", "Squat", 155, 5], ["2026-09-14", "Bo", "Squat", 185, 5],
        ["2026-09-14", "Bo", "Bench", 80, 5], ["2026-09-14", "Ada", "Bench", 60, 5],
    ]  # fmt: skip
    logs = read({"log.xlsx": book_of(across if is_across else listed)})
    squats = [one for one in logs.sets if one.exercise == "back squat"]
    assert {(one.bar, one.bar_position, one.grip_width) for one in squats} == {expected}
    assert len(squats) == 2
    told = " ".join(logs.files[0].sheets[0].assumptions)
    assert ("From a title" in told) == any(expected)
    others = [one for one in logs.sets if one.exercise == "bench press"]
    assert {(one.bar, one.bar_position, one.grip_width) for one in others} == {(None, None, None)}


def test_a_cell_that_names_its_bar_keeps_it_and_takes_no_grip_from_the_title(read):
    rows = [
        ["Squats this week: straight bar, low bar, wide grip"],
        ["Monday 2026-09-14", "Ada", "Bo"],
        ["Squat", "155x5", "(SSB) 185x5"],
        ["Bench", "60x5", "80x5"],
    ]
    logs = read({"log.xlsx": book_of(rows)})
    squats = {one.athlete: (one.bar, one.bar_position, one.grip_width) for one in logs.sets if "squat" in one.exercise}
    assert squats == {"Ada": ("straight", "low", "wide"), "Bo": ("safety", None, None)}


@pytest.mark.parametrize(
    ("sign", "said", "lift"),
    [
        ("BW / +25", "chin-ups at body weight / with 25 on the belt", "Chin-ups"),
        ("BW", "chin-ups at body weight", "Chin-ups"),
        ("BW", "Klimmzüge mit Körpergewicht", "Klimmzüge"),
        ("PC", "tractions au poids de corps", "Tractions"),
    ],
)
def test_a_sign_for_the_weight_of_the_body_is_no_name_of_the_lift_that_it_is_used_with(read, sign, said, lift):
    names = [["Legend"], [sign, said], ["-", "not done"]]
    rows = [["2026-09-14", "Ada", "Bo"], ["Squat", "100x5", "120x5"], [lift, f"{sign.split()[0]} 5/4", "+25 5/5"]]
    logs = read({"log.xlsx": book_of(rows, names)})
    chins = [(one.athlete, one.load_kg, one.reps) for one in logs.sets if one.exercise in {"chin-up", "pull-up"}]
    assert chins == [("Ada", None, 5), ("Ada", None, 4), ("Bo", 25.0, 5), ("Bo", 25.0, 5)]
