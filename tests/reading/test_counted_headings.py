"""Sets across under headings that count, and sets of which fewer repetitions were done than meant.

What is right was counted by hand. Ordinals as the languages write them; common practice, no published source.
"""

import pytest

from preflare.reading.headings import parse_heading


def loads(logs):
    return [(one.load_kg, one.reps) for one in logs.sets]


@pytest.mark.parametrize(
    "heads",
    [
        "1|2|3",
        "1st|2nd|3rd",
        "1.|2.|3.",
        "1a|2a|3a",
        "1ª|2ª|3ª",
        "1.ª|2.ª|3.ª",
        "1°|2°|3°",
        "1ère|2e|3e",
        "1re|2ème|3ème",
        "1e|2e|3e",
        "1ste|2de|3de",
        "1:a|2:a|3:e",
        "#1|#2|#3",
        "I|II|III",
        "1ª série|2ª série|3ª série",
        "1a serie|2a serie|3a serie",
        "1er set|2ème set|3ème set",
        "seria I|seria II|seria III",
        "1:a set|2:a set|3:e set",
        "2. Satz|3. Satz|4. Satz",
    ],
)
def test_headings_that_count_stand_over_sets(read, heads):
    log = f"Date;Name;Exercise;{heads.replace('|', ';')};Notes\n"
    log += "2026-03-02;Ada Berg;Squat;70x5;72,5x5;75x4;\n;;Bench;45x6;45x6;;\n"
    assert loads(read({"log.csv": log})) == [(70, 5), (72.5, 5), (75, 4), (45, 6), (45, 6)]


@pytest.mark.parametrize(("text", "number"), [("Week IV", 4), ("Woche II", 2), ("kg 2ª", 2), ("reps 2nd", 2)])
def test_an_ordinal_numbers_what_stands_beside_it(lexicon, text, number):
    heading = parse_heading(text, lexicon)
    assert heading is not None
    assert heading.number == number


@pytest.mark.parametrize(
    ("line", "lift"),
    [
        ("80x2/4 = got 2 of the 4", "Squat"),
        ("80x2/4 = zwei von vier geschafft", "Kniebeuge"),
        ("80x2/4 = deux sur quatre", "Squat"),
        ("80x2/4 = due fatte su quattro previste", "squat"),
        ("80x2/4 = dos de cuatro", "Sentadilla"),
        ("80x2/4 = duas de quatro", "Agachamento"),
        ("80x2/4 = twee van de vier", "Squat"),
        ("80x2/4 = dwa z czterech", "Przysiad"),
        ("80x2/4 = to av fire", "Knebøy"),
        ("80x2/4 = to ud af fire", "Squat"),
        ("80x2/4 = två av fyra", "Knäböj"),
    ],
)
def test_a_stroke_that_the_legend_explains_tells_done_of_meant(read, line, lift):
    log = f"Training log\n{line}\nDate;Name;Exercise;Work\n2026-03-02;Ada Berg;{lift};80x4, 80x2/4\n"
    logs = read({"log.csv": log})
    assert [(one.load_kg, one.reps, one.is_failed) for one in logs.sets] == [(80, 4, False), (80, 2, True)]
    assert any("80x2/4" in text for file in logs.files for sheet in file.sheets for text in sheet.assumptions)


def test_in_a_column_of_one_set_a_stroke_cannot_be_two_sets(read):
    log = "Date;Name;Exercise;Set 1;Set 2\n2026-03-02;Ada Berg;Bench;50x6;50x4/6\n"
    assert loads(read({"log.csv": log})) == [(50, 6), (50, 4)]


def test_a_rising_stroke_that_nothing_explains_is_set_aside(read):
    logs = read({"log.csv": "Date;Name;Exercise;Work\n2026-03-02;Ada Berg;Bench;50x4/6\n"})
    assert not loads(logs)
    assert "50x4/6" in logs.rejected[0].value


@pytest.mark.parametrize(
    ("written", "exercise"),
    [
        ("panca paina", "bench press"),
        ("dévelopé couché", "bench press"),
        ("press banac", "bench press"),
    ],
)
def test_a_slip_in_one_word_of_a_name_is_put_right_and_said(read, written, exercise):
    logs = read({"log.csv": f"Date;Name;Exercise;Kg;Reps\n2026-03-02;Ada Berg;{written};60;5\n"})
    assert [one.exercise for one in logs.sets] == [exercise]
    assert [one.how for one in logs.choices if one.kind == "exercise"] == ["assumed"]


def test_a_word_that_two_lifts_are_near_is_left_open(read):
    logs = read({"log.csv": "Date;Name;Exercise;Kg;Reps\n2026-03-02;Ada Berg;panca xyzuv;60;5\n"})
    assert [one.exercise for one in logs.sets] == ["unknown"]
