"""Tables with one row a set or exercise: warm-ups, repetitions in a list, gear that a row leaves blank.

What is right was counted by hand. Common practice, no published source.
"""

import pytest


def loads(logs):
    return [(one.load_kg, one.reps, one.is_warm_up) for one in logs.sets]


@pytest.mark.parametrize(
    ("head", "letter", "lift"),
    [
        ("Datum|Övning|Set|Kg|Reps", "U", "Knäböj"),
        ("Date|Exercise|Set|Kg|Reps", "W", "Squat"),
        ("Datum|Übung|Satz|Kg|Wdh", "A", "Kniebeuge"),
        ("Datum|Übung|Satz|Kg|Wdh", "W", "Kniebeuge"),
        ("Date|Exercice|Série|Kg|Reps", "E", "Squat"),
        ("Fecha|Ejercicio|Serie|Kg|Reps", "C", "Sentadilla"),
        ("Data|Esercizio|Set|Kg|Rip", "R", "Squat"),
        ("Data|Ćwiczenie|Seria|Kg|Powt", "R", "Przysiad"),
        ("Dato|Øvelse|Sett|Kg|Reps", "O", "Knebøy"),
        ("Dato|Øvelse|Sæt nr|Kg|Reps", "O", "Squat"),
        ("Datum|Oefening|Set|Kg|Herh", "w", "Squat"),
        ("Data|Exercício|Série|Kg|Reps", "A", "Agachamento"),
    ],
)
def test_a_letter_before_set_one_numbers_a_warm_up(read, head, letter, lift):
    rows = "".join(
        f"2026-03-{day:02}|{lift}|{number}|{load}|5\n"
        for day in (2, 4)
        for number, load in ((letter, 40), (1, 60), (2, 60))
    )
    logs = read({"Ada Berg.csv": f"{head}\n{rows}"})
    assert loads(logs) == [(40, 5, True), (60, 5, False), (60, 5, False)] * 2


def test_letters_that_label_every_set_are_no_warm_ups(read):
    rows = "".join(f"2026-03-02|Squat|{letter}|60|5\n" for letter in "ABC")
    assert loads(read({"Ada Berg.csv": f"Date|Exercise|Set|Kg|Reps\n{rows}"})) == [(60, 5, False)] * 3


@pytest.mark.parametrize(
    "head",
    [
        "Datum|Übung|AW|Last|Wdh",  # a heading that nobody knows, over lighter sets
        "Datum|Übung|Aufw.|Last|Wdh",
        "Date|Exercise|Warm-up (kg x reps)|Load|Reps",
        "Date|Exercise|W/U|Weight|Reps",
        "Date|Exercice|Échauff.|Charge|Reps",
        "Fecha|Ejercicio|Calent.|Carga|Reps",
        "Data|Esercizio|Risc.|Carico|Rip",
        "Data|Exercício|Aquec.|Carga|Reps",
        "Datum|Oefening|Inw.|Gewicht|Herh",
        "Data|Ćwiczenie|Rozgrz.|Ciężar|Powt",
        "Dato|Øvelse|Oppv.|Vekt|Reps",
        "Datum|Övning|Uppv.|Vikt|Reps",
        "Datum|Übung|Vorlauf|Last|Wdh",
    ],
)
@pytest.mark.parametrize("reps", ["3x5", "5/5/5"])
def test_a_column_of_lighter_sets_beside_load_and_repetitions_holds_warm_ups(read, head, reps):
    rows = f"2026-03-02|Squat|55x5|90|{reps}\n2026-03-04|Squat|47,5x5|80|{reps}\n"
    logs = read({"Ada Berg.csv": f"{head}\n{rows}"})
    assert loads(logs) == [(55, 5, True), *[(90, 5, False)] * 3, (47.5, 5, True), *[(80, 5, False)] * 3]


def test_a_column_of_heavier_sets_beside_load_and_repetitions_is_none_of_warm_ups(read):
    rows = "2026-03-02|Squat|100x3|90|5\n2026-03-04|Squat|110x3|80|5\n"
    logs = read({"Ada Berg.csv": f"Date|Exercise|ZZ|Load|Reps\n{rows}"})
    assert not any(one.is_warm_up for one in logs.sets)


@pytest.mark.parametrize(
    ("heading", "cell"),
    [
        ("SQ warmup", "45x8 95x5"), ("Squat warm-up", "45x8, 95x5"), ("Kniebeuge Aufw.", "45x8 95x5"),
        ("Échauff. squat", "45x8 95x5"), ("Sentadilla calent.", "45x8 95x5"), ("Squat risc.", "45x8 95x5"),
        ("Agachamento aquec.", "45x8 95x5"), ("Squat inw.", "45x8 95x5"), ("Przysiad rozgrz.", "45x8 95x5"),
        ("Knebøy oppv.", "45x8 95x5"), ("Knäböj uppv.", "45x8 95x5"),
    ],
)  # fmt: skip
def test_a_lift_with_a_warm_up_column_of_its_own(read, heading, cell):
    lift = "SQ" if heading.startswith("SQ") else heading.replace("Échauff. ", "").split()[0].capitalize()
    log = (
        f"Date;Who;{heading};{lift} kg;{lift} reps\n2026-03-02;Ada;{cell};135;5/5/5\n2026-03-04;Ada;{cell};140;5/5/4\n"
    )
    logs = read({"log.csv": log})
    warm = [(45, 8, True), (95, 5, True)]
    work = [(135, 5, False)] * 3, [(140, 5, False), (140, 5, False), (140, 4, False)]
    assert loads(logs) == [*warm, *work[0], *warm, *work[1]]


@pytest.mark.parametrize(
    ("heading", "cell", "expected"),
    [
        ("Pullups", "5/4/4", [(None, 5), (None, 4), (None, 4)]),
        ("Pull-ups", "6,5,5", [(None, 6), (None, 5), (None, 5)]),
        ("Klimmzüge", "5/5", [(None, 5), (None, 5)]),
        ("Tractions", "8/7/6", [(None, 8), (None, 7), (None, 6)]),
        ("Dominadas", "5/5/4", [(None, 5), (None, 5), (None, 4)]),
        ("Trazioni", "5/5/4", [(None, 5), (None, 5), (None, 4)]),
        ("Podciąganie", "5/5/4", [(None, 5), (None, 5), (None, 4)]),
        ("Dips", "10/9/8", [(None, 10), (None, 9), (None, 8)]),
        ("Pullups", "+25: 5/5/5", [(25, 5)] * 3),
        ("Pullups", "BW+10 5/4", [(10, 5), (10, 4)]),
    ],
)
def test_a_list_of_repetitions_under_what_is_done_hanging(read, heading, cell, expected):
    logs = read({"Ada Berg.csv": f"Date;Bench;{heading}\n2026-03-02;60x5;{cell}\n2026-03-04;60x5;{cell}\n"})
    found = [(one.load_kg, one.reps) for one in logs.sets if one.exercise != "bench press"]
    assert found == expected * 2


@pytest.mark.parametrize(
    ("cell", "position"),
    [("hi/narrow", "high"), ("lo/narrow", "low"), ("hi narrow", "high"), ("HB narrow", "high"), ("narrow, lo", "low")],
)
def test_short_words_for_the_place_of_the_bar(read, cell, position):
    logs = read({"Ada Berg.csv": f"Date;Exercise;Pos/grip;Load;Reps\n2026-03-02;Squat;{cell};60;5\n"})
    assert [(one.bar_position, one.grip_width) for one in logs.sets] == [(position, "narrow")]


@pytest.mark.parametrize(
    "heading",
    ["SQ left in tank (last set)", "SQ RIR", "Squat reps in reserve", "RIR squat", "Squat RIR (last set)"],
)
def test_an_effort_under_the_name_of_a_lift_is_that_lifts(read, heading):
    head = f"Date;Who;SQ kg;SQ reps;{heading};Bench kg;Bench reps"
    logs = read({"log.csv": f"{head}\n2026-03-02;Ada;100;5/5;2;60;8/8\n2026-03-04;Ada;105;5/5;1;60;8/8\n"})
    assert [one.rir for one in logs.sets if one.exercise == "back squat"][1::2] == [2, 1]
    assert {one.rir for one in logs.sets if one.exercise == "bench press"} == {None}


@pytest.mark.parametrize("rating", ["2.5", "3-4", "1.5"])
def test_a_rating_that_looks_like_a_date_leaves_the_order_of_day_and_month_alone(read, rating):
    rows = "".join(f"10/{day}/2026 7:4{n}:10 PM,{who},{side},{n},1\n" for n, (day, who, side) in enumerate(_ANSWERS))
    form = f"Timestamp,Your name,Which arm?,Elbow pain 0-10,Upper arm pain 0-10\n{rows}"
    logs = read({"form.csv": f"{form}10/24/2026 8:00:00 AM,Pete,Right,{rating},\n"})
    assert [one.date.day for one in logs.pain if one.site == "elbow"] == [6, 6, 7, 10, 13, 13, 20, 24]


_ANSWERS = [
    (6, "Dana", "Left"), (6, "Pete", "Right"), (7, "Lou", "Both"), (10, "Pete", "Right"), (13, "Dana", "Left"),
    (13, "Lou", "Right"), (20, "Dana", "Left"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("line", "high", "low"),
    [
        ("Squat haut / squat bas = barre haute / barre basse sur le dos", "squat haut", "squat bas"),
        ("Squat hoch / Squat tief = hohe Ablage / tiefe Ablage", "Squat hoch", "Squat tief"),
        ("Squat alto / squat basso = bilanciere alto / bilanciere basso", "squat alto", "squat basso"),
        ("Squat hoog / squat laag = hoge stang / lage stang", "squat hoog", "squat laag"),
    ],
)
def test_two_signs_and_two_meanings_parted_by_strokes_keep_their_order(read, line, high, low):
    log = f"Log\n{line}\n\nDate;Exercise;Load;Reps\n2026-03-02;{high};60;5\n2026-03-04;{low};60;5\n"
    assert [one.bar_position for one in read({"Ada Berg.csv": log}).sets] == ["high", "low"]


@pytest.mark.parametrize(
    "word",
    [
        "not done", "skipped", "entf.", "nicht gemacht", "pas fait", "sin hacer", "non fatto", "não feito",
        "niet gedaan", "nie zrobione", "ikke gjort", "sprunget over", "ej",
    ],
)  # fmt: skip
def test_a_word_for_not_done_instead_of_repetitions_stores_no_set_and_is_told(read, word):
    logs = read({"Ada Berg.csv": f"Date;Exercise;Load;Reps\n2026-03-02;Squat;60;5\n2026-03-02;Squat;65;{word}\n"})
    assert loads(logs) == [(60, 5, False)]
    assert [(one.value.endswith(word), "not done" in one.reason) for one in logs.rejected] == [(True, True)]


HEAD_OF_SETS = "Date;Who;Exercise;Bar;Grip;Set;Kg;Reps\n"


@pytest.mark.parametrize("again", ["", "Squat", "squat", "Back squat"])
@pytest.mark.parametrize("first", ["W", "1"])
def test_gear_below_the_first_set_is_that_of_the_first_while_the_numbers_run_on(read, again, first):
    numbers = [first, "1", "2"] if first == "W" else ["1", "2", "3"]
    rows = f"2026-03-02;Ada;Squat;SSB;narrow;{numbers[0]};40;5\n;;{again};;;{numbers[1]};60;5\n;;;;;{numbers[2]};60;5\n"
    rows += f"2026-03-04;Ada;Squat;straight;wide;{numbers[0]};40;5\n;;;;;{numbers[1]};60;5\n"
    logs = read({"log.csv": f"{HEAD_OF_SETS}{rows}"})
    assert [(one.bar, one.grip_width) for one in logs.sets] == [("safety", "narrow")] * 3 + [("straight", "wide")] * 2


def test_gear_is_left_open_where_the_numbers_start_again_or_the_table_leaves_nothing_out(read):
    rows = "2026-03-02;Ada;Squat;SSB;narrow;1;60;5\n;;;;;2;60;5\n2026-03-02;Ada;Squat;;;1;80;5\n"
    assert [one.bar for one in read({"log.csv": f"{HEAD_OF_SETS}{rows}"}).sets] == ["safety", "safety", None]


@pytest.mark.parametrize("mark", ["idem", "dito", "ditto", "same", "id", "samma", "jw", "zelfde", "samme", "igual"])
def test_a_mark_for_gear_below_a_lift_without_any_repeats_the_persons_own_last_of_that_lift(read, mark):
    rows = (
        "2026-03-02;Ada;Squat;SSB;60;5\n2026-03-02;Ada;Bench;;40;5\n2026-03-02;Bo;Squat;straight;90;5\n"
        f"2026-03-02;Bo;Bench;;70;5\n2026-03-04;Ada;Squat;{mark};60;5\n"
    )
    logs = read({"log.csv": f"Date;Who;Exercise;Bar;Kg;Reps\n{rows}"})
    assert [one.bar for one in logs.sets if one.exercise == "back squat"] == ["safety", "straight", "safety"]


def test_signs_of_a_legend_that_are_days_or_words_for_missing_elsewhere(read):
    line = "Bar: BD = straight bar, SB = safety bar (with handles), BC = cambered bar. idem = as the last squat"
    rows = "".join(f"2026-03-0{n};Squat;{sign};60;5\n" for n, sign in enumerate(("BD", "SB", "BC"), start=2))
    logs = read({"Ada Berg.csv": f"Log\n{line}\n\nDate;Exercise;Bar;Kg;Reps\n{rows}"})
    assert [one.bar for one in logs.sets] == ["straight", "safety", "cambered"]
