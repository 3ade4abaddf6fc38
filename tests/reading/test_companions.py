"""Other people's lines in somebody's diary. Common practice, no published source; invented people all."""

import pytest

HEAD = "date,what i did,body stuff\n"


def read_rows(read, *rows, name="Ada Berg.csv"):
    lines = "".join(f'2026-03-0{day},"{work}","{felt}"\n' for day, (work, felt) in enumerate(rows, start=2))
    return read({name: HEAD + lines})


def sets(logs):
    return sorted((one.athlete, one.exercise, one.load_kg) for one in logs.sets)


@pytest.mark.parametrize(
    ("line", "felt"),
    [
        ("Theo: deadlift 140x5", "Theo: L knee 3/10 after"),
        ("Theo: deadlift 140x5", "all fine. Theo left knee 3/10 after"),
        ("Theo : deadlift 140x5", "Theo's left knee 3/10 after"),
        ("Théo : deadlift 140x5", "Théo: genou gauche 3/10 après"),
        ("Theo: Kreuzheben 140x5", "Theo: Knie links 3/10 danach"),
        ("Łukasz: martwy ciąg 140x5", "Łukasz: lewe kolano 3/10 po"),
        ("Íñigo: peso muerto 140x5", "Íñigo rodilla izquierda 3/10 después"),
        ("Åsa: marklyft 140x5", "Åsa: vänster knä 3/10 efter"),
    ],
)
def test_lines_led_by_a_name_are_that_persons(read, line, felt):
    logs = read_rows(read, (f"deadlift 100x5\n{line}\nrow 50x8", felt), ("squat 90x5", ""), ("squat 95x5", ""))
    name = line.split(":")[0].strip()
    own = [("back squat", 90), ("back squat", 95), ("deadlift", 100), ("row", 50)]
    assert sets(logs) == sorted([*(("Ada Berg", *one) for one in own), (name, "deadlift", 140)])
    assert [(one.athlete, one.site, one.side, one.rating) for one in logs.pain] == [(name, "knee", "left", 3)]


@pytest.mark.parametrize(
    "word", ["Finisher", "Main", "Backoff", "Ramp", "Superset", "Later", "Garage", "Zusatz", "Accessoires", "Deload"]
)
def test_a_word_before_a_colon_is_no_person_for_that_alone(read, word):
    logs = read_rows(read, (f"squat 100x5\n{word}: deadlift 140x5", "R elbow 2/10"), ("squat 100x5", ""), ("x", ""))
    assert {one.athlete for one in (*logs.sets, *logs.pain)} == {"Ada Berg"}


def test_with_somebody_tells_that_a_word_is_a_name(read):
    logs = read_rows(read, ("squat 100x5\nMira: squat 60x5", "trained with Mira"), ("squat 100x5", ""), ("rest", ""))
    assert sets(logs) == [("Ada Berg", "back squat", 100), ("Ada Berg", "back squat", 100), ("Mira", "back squat", 60)]


def test_a_companion_known_by_full_name_elsewhere_is_joined(read):
    squad = "Date,Name,Exercise,Load,Reps\n2026-01-05,Theo Brun,squat,140,5\n"
    diary = HEAD + '2026-03-02,"deadlift 100x5\nTheo: deadlift 140x5",Theo: L knee 3/10\n'
    logs = read({"Ada Berg.csv": diary, "squad.csv": squad})
    assert {one.athlete for one in logs.sets} == {"Ada Berg", "Theo Brun"}


@pytest.mark.parametrize(
    "same", ["same bar", "gleiche Stange", "même barre", "misma barra", "stessa barra", "zelfde stang", "samma stång"]
)
def test_the_same_bar_is_the_one_named_last(read, same):
    text = f"squat cambered bar 80x5\nTheo: {same} squat 110x5"
    logs = read_rows(read, (text, "Theo: L knee 3/10"), ("squat 100x5", ""), ("squat 100x5", ""))
    assert [(one.athlete, one.bar) for one in logs.sets if one.load_kg in (80, 110)] == [
        ("Ada Berg", "cambered"), ("Theo", "cambered")
    ]  # fmt: skip
