"""Gear in the columns of numbers beside a lift's name, loads that say what they were not, and diaries that put a line
right at its end or list repetitions alone.

Words as people write them in eleven languages (common practice, no published source).
"""

import pytest

WORDS = [  # squat, bench, straight high wide, safety, "no, it was", "not"
    ("en", "Squat", "Bench press", "straight, high, wide", "safety bar", "no, it was", "not"),
    ("de", "Kniebeuge", "Bankdrücken", "gerade, hoch, breit", "Sicherheitsstange", "nein, es waren", "nicht"),
    ("fr", "Squat", "Développé couché", "droite, haute, large", "SSB", "non, c'était", "pas"),
    ("es", "Sentadilla", "Press banca", "recta, alta, ancho", "SSB", "no, eran", "no"),
    ("it", "Squat", "Panca piana", "dritto, alto, larga", "SSB", "no, erano", "non"),
    ("pt", "Agachamento", "Supino", "reta, alta, larga", "SSB", "não, eram", "não"),
    ("nl", "Kniebuigen", "Bankdrukken", "recht, hoog, breed", "safety", "nee, het was", "niet"),
    ("pl", "Przysiad", "Wyciskanie", "prosty, wysoko, szeroki", "SSB", "nie, było", "nie"),
    ("no", "Knebøy", "Benkpress", "rett, høy, bred", "SSB", "nei, det var", "ikke"),
    ("da", "Squat", "Bænkpres", "lige, høj, bred", "SSB", "nej, det var", "ikke"),
    ("sv", "Knäböj", "Bänkpress", "rak, hög, bred", "SSB", "nej, det var", "inte"),
]
each_language = pytest.mark.parametrize("row", WORDS, ids=[row[0] for row in WORDS])


def side_by_side(squat, bench, ada, bo, load="90"):
    rows = [
        "14.09.2026;;;;;", ";;Ada;;Bo;", "exercise;set;kg;reps;kg;reps", f"{squat};;{ada};;{bo};", ";w;50;5;70;5",
        f";1;{load};5;120;5", f"{bench};;;;;", ";1;60;5;80;5", ";2;60;5;80;5",
    ]  # fmt: skip
    return "\n".join(rows) + "\n"


@each_language
def test_gear_under_each_name_in_the_row_of_the_lift_holds_for_its_sets(read, row):
    _, squat, bench, straight, safety, *_ = row
    logs = read({"group.csv": side_by_side(squat, bench, straight, safety)})
    found = {(s.athlete, s.bar, s.bar_position, s.grip_width) for s in logs.sets if s.exercise == "back squat"}
    assert found == {("Ada", "straight", "high", "wide"), ("Bo", "safety", None, None)}
    assert {s.bar for s in logs.sets if s.exercise == "bench press"} == {None}
    assert len(logs.sets) == 8
    assert logs.rejected == []


def test_a_text_that_is_not_all_gear_is_told_of(read):
    logs = read({"group.csv": side_by_side("Squat", "Bench press", "safety or what", "hello")})
    assert {s.bar for s in logs.sets} == {None}
    assert any("safety or what" in one.value for one in logs.rejected)


def test_gear_beside_a_lift_in_a_table_of_one_person(read):
    text = "Date;Exercise;kg;reps\n14.09.2026;Squat;safety bar;\n;;90;5\n;;95;5\n;Bench press;;\n;;60;5\n"
    logs = read({"Ada Berg.csv": text})
    assert [(s.exercise, s.load_kg, s.bar) for s in logs.sets] == [
        ("back squat", 90, "safety"),
        ("back squat", 95, "safety"),
        ("bench press", 60, None),
    ]


@each_language
def test_a_load_that_says_what_it_was_not_is_the_first_number(read, row):
    no = row[-1]
    logs = read({"group.csv": side_by_side("Squat", "Bench press", "safety", "safety", f"97,5 ({no} 100)")})
    assert [s.load_kg for s in logs.sets if s.athlete == "Ada" and s.exercise == "back squat"] == [50, 97.5]


LAST_DAY = "\n16.9.2026\nBench press\n  50 3x5\n"
DIARY = "Diary of Ada Berg 2026\n\n14.9.2026\nSquat\n  60x5\n{line}\nPull-ups\n  {body}\n" + LAST_DAY


@each_language
def test_a_load_put_right_at_the_end_of_its_line_is_told_of(read, row):
    logs = read({"diary Ada Berg.txt": DIARY.format(line=f"  82.5 3x5 -> {row[-2]} 85", body="3x5")})
    assert [s.load_kg for s in logs.sets if s.exercise == "back squat"] == [60, 85, 85, 85]
    assert any("82.5 kg was replaced by 85 kg" in one.reason for one in logs.rejected)


@pytest.mark.parametrize("end", ["-> no, it was 8", "(not 85)", "-> no, it was 850"])
def test_an_end_that_may_mean_another_thing_changes_nothing(read, end):
    logs = read({"diary Ada Berg.txt": DIARY.format(line=f"  82.5 3x5 {end}", body="3x5")})
    assert 85 not in [s.load_kg for s in logs.sets]
    assert 82.5 in [s.load_kg for s in logs.sets]


def test_several_loads_in_a_line_are_doubted_and_kept(read):
    logs = read({"diary Ada Berg.txt": DIARY.format(line="  80x5, 82.5x5 -> no, it was 85", body="3x5")})
    assert [s.load_kg for s in logs.sets if s.exercise == "back squat"] == [60, 80, 82.5]
    assert any("may put the sets right" in one.reason for one in logs.rejected)


@pytest.mark.parametrize(
    ("body", "loads", "reps"),
    [
        ("bw 5-5-4", [None] * 3, [5, 5, 4]),
        ("+5 4-3-3", [5, 5, 5], [4, 3, 3]),
        ("bw+2.5 4-3-3", [2.5] * 3, [4, 3, 3]),
    ],
)
def test_repetitions_at_the_weight_of_the_body_below_their_lift(read, body, loads, reps):
    logs = read({"diary Ada Berg.txt": DIARY.format(line="  80x5", body=body)})
    pulls = [s for s in logs.sets if s.exercise == "pull-up"]
    assert ([s.load_kg for s in pulls], [s.reps for s in pulls]) == (loads, reps)


@pytest.mark.parametrize(
    ("line", "reps"), [("20 10-9", [10, 9]), ("25 8-8, rpe 8", [8, 8]), ("22,5 10-9-8", [10, 9, 8])]
)
def test_a_load_and_repetitions_with_dashes_are_no_date(read, line, reps):
    text = f"Diary of Ada Berg 2026\n\n14.9.2026\nCurl\n  {line}\nafter: left elbow 3/10\n{LAST_DAY}"
    logs = read({"diary Ada Berg.txt": text})
    assert [s.reps for s in logs.sets if s.date.day == 14] == reps
    assert [(p.date.day, p.rating) for p in logs.pain] == [(14, 3)]


def test_two_rising_numbers_may_be_a_range_and_are_set_aside(read):
    text = "Diary of Ada Berg 2026\n\n14.9.2026\nCurl\n  20 8-10\n\n16.9.2026\nBench press\n  50 3x5\n"
    logs = read({"diary Ada Berg.txt": text})
    assert [s.reps for s in logs.sets if s.date.day == 14] == []
    assert any("20 8-10" in one.value for one in logs.rejected)
