"""Loads and repetitions in rows of their own, warm-ups in brackets, gear rows above them.

Sheets are invented after common ways to keep such logs (common practice, no published source); expectations are
counted by hand.
"""

import pytest

from preflare.reading.parts_apart import Way, in_short

PLAIN = Way()


@pytest.mark.parametrize(
    ("load", "reps", "sets", "meant"),
    [
        ("60", "5", "3", "60x5; 60x5; 60x5"),
        ("60/65", "5/4", "", "60x5; 65x4"),
        ("(20)/45", "(8)/6/6", "", "20x8 w/u; 45x6; 45x6"),
        ("100/105", "5/5/4", "", None),  # two loads for three sets
        ("(20)/45", "6/6", "", "45x6; 45x6"),  # the warm-up is told of by the caller
        ("60", "", "", None),
        ("(45x5) 75", "3 / 3", "", "45x5 w/u; 75x3; 75x3"),
        ("(40/60) 80", "(8/5) 3/3", "", "40x8 w/u; 60x5 w/u; 80x3; 80x3"),
        ("BW", "5 / 4", "", "BW x5; BW x4"),
        ("PDC / +5", "8 / 6", "", "BW x8; BW+5 x6"),
        ("LG +2,5", "5", "2", "BW+2,5 x5; BW+2,5 x5"),
        ("+10 / +12,5", "5/5", "", "BW+10 x5; BW+12,5 x5"),
        ("80 / 82,5 / 85", "5/5/3!", "", "80x5; 82,5x5; 85x3"),
    ],
)
def test_parts_of_a_lift_are_put_together(lexicon, load, reps, sets, meant):
    assert in_short({"load": load, "reps": reps, "sets": sets}, lexicon, PLAIN) == meant


@pytest.mark.parametrize(
    ("load", "reps", "meant"),
    [
        ("(45) 75", "5 / 5", "45x5 w/u; 75x5; 75x5"),
        ("(50/60) 80 / 82,5", "3/3", "50x5 w/u; 60x5 w/u; 80x3; 82,5x3"),
        ("(40) (60) 70", "4", "40x5 w/u; 60x5 w/u; 70x4"),
        ("[40] 70", "4", "40x5 w/u; 70x4"),
        ("(90) 70", "4", None),  # no warm-up is heavier than the work
        ("(45) 75", "(8) 5/5", "45x8 w/u; 75x5; 75x5"),  # its own repetitions go first
    ],
)
def test_a_legend_gives_the_repetitions_of_warm_ups_in_brackets(lexicon, load, reps, meant):
    assert in_short({"load": load, "reps": reps}, lexicon, Way(warm_up_reps=5)) == meant


def test_loads_under_a_heading_of_added_weight_hang_on_the_body(lexicon):
    added = Way(is_added=True, is_on_body=True)
    assert in_short({"load": "5", "reps": "6/5"}, lexicon, added) == "BW+5 x6; BW+5 x5"
    assert in_short({"load": "0", "reps": "6"}, lexicon, added) == "BW x6"
    assert in_short({"reps": "12/10"}, lexicon, Way(is_on_body=True)) == "BW x12; BW x10"
    assert in_short({"reps": "12/10"}, lexicon, PLAIN) is None


SHEETS = [
    (
        "Kraft Anna Berg, Herbst 2026\n(in Klammern) = Aufwärmen, 5 Wdh\n"
        "Datum|2.9.2026|5.9.2026|9.9.2026\nStange|gerade|gleich|Sicherheitsstange\nGriff|eng|gleich|-\n"
        "Kniebeuge Gewicht|(45) 75|(45) 80|(45) 70\nKniebeuge Wdh|5/4|3/3|5/4\nRPE|8|7|9\n"
        "Klimmzüge Zusatzgewicht|0|5|5\nKlimmzüge Wdh|5/4|4/3|4\n"
    ),
    (
        "Anna Berg, training autumn 2026\n(in brackets) = warm-up, 5 reps\n"
        "Date|2026-09-02|2026-09-05|2026-09-09\nBar|straight|same|safety bar\nGrip|narrow|same|-\n"
        "Squat load|(45) 75|(45) 80|(45) 70\nSquat reps|5/4|3/3|5/4\nRPE|8|7|9\n"
        "Pull-ups added weight|0|5|5\nPull-ups reps|5/4|4/3|4\n"
    ),
    (
        "Allenamento Anna Berg, autunno 2026\n(tra parentesi) = riscaldamento, 5 rip\n"
        "Data|2026-09-02|2026-09-05|2026-09-09\nBilanciere|dritto|idem|safety bar\nPresa|stretta|idem|-\n"
        "Squat carico|(45) 75|(45) 80|(45) 70\nSquat rip|5/4|3/3|5/4\nRPE|8|7|9\n"
        "Trazioni zavorra|0|5|5\nTrazioni rip|5/4|4/3|4\n"
    ),
    (
        "Krachtlog Anna Berg, najaar 2026\n(tussen haakjes) = opwarmen, 5 herh\n"
        "Datum|2026-09-02|2026-09-05|2026-09-09\nStang|recht|idem|veiligheidsstang\nGreep|smal|idem|-\n"
        "Squat gewicht|(45) 75|(45) 80|(45) 70\nSquat herh|5/4|3/3|5/4\nRPE|8|7|9\n"
        "Optrekken extra gewicht|0|5|5\nOptrekken herh|5/4|4/3|4\n"
    ),
    (
        "Registro Anna Berg, otoño 2026\n(entre paréntesis) = calentamiento, 5 reps\n"
        "Fecha|2026-09-02|2026-09-05|2026-09-09\nBarra|recta|igual|barra de seguridad\nAgarre|estrecho|igual|-\n"
        "Sentadilla carga|(45) 75|(45) 80|(45) 70\nSentadilla reps|5/4|3/3|5/4\nRPE|8|7|9\n"
        "Dominadas lastre|0|5|5\nDominadas reps|5/4|4/3|4\n"
    ),
]


@pytest.mark.parametrize("text", SHEETS, ids=["de", "en", "it", "nl", "es"])
def test_rows_of_gear_above_the_squat_are_its_own_and_warm_ups_in_brackets_are_kept(read, text):
    logs = read({"log.csv": text.replace("|", ";")})
    squats = [one for one in logs.sets if one.exercise == "back squat"]
    assert [(one.load_kg, one.reps, one.is_warm_up) for one in squats] == [
        (45, 5, True), (75, 5, False), (75, 4, False), (45, 5, True), (80, 3, False), (80, 3, False),
        (45, 5, True), (70, 5, False), (70, 4, False),
    ]  # fmt: skip
    assert [(one.bar, one.grip_width) for one in squats] == [("straight", "narrow")] * 6 + [("safety", None)] * 3
    assert [one.rpe for one in squats if not one.is_warm_up] == [None, 8, None, 7, None, 9]
    pulled = [(one.load_kg, one.reps, one.bar) for one in logs.sets if one.exercise == "pull-up"]
    assert pulled == [(None, 5, None), (None, 4, None), (5, 4, None), (5, 3, None), (5, 4, None)]


def test_without_a_legend_warm_ups_in_brackets_are_told_of_and_not_stored(read):
    text = "Date|2026-09-02|2026-09-05\nSquat load|(45) 75|(45) 80\nSquat reps|5/4|3/3\n"
    logs = read({"log.csv": text.replace("|", ";")})
    assert [one.load_kg for one in logs.sets] == [75, 75, 80, 80]
    assert sum("warm-up in brackets" in one.reason for one in logs.rejected) == 2


def test_one_day_written_as_text_among_true_dates_is_read_in_their_order(lexicon):
    from datetime import date

    from preflare.reading.date_order import decide_order
    from preflare.reading.dates import read_date

    true_dates = [read_date(date(2026, 9, day), lexicon) for day in (2, 5, 9, 16)]
    assert decide_order([*true_dates, read_date("12/09", lexicon)], None, is_across=True)[0] == "day first"
    assert decide_order([*true_dates, read_date("09/12", lexicon)], None, is_across=True)[0] == "month first"
    assert decide_order([*true_dates, read_date("Sat 12/09", lexicon)], None)[0] == "day first"
    spring = [read_date(date(2026, month, 20), lexicon) for month in (9, 10, 11, 12)]
    assert decide_order([*spring, read_date("11/12", lexicon)], None, is_across=True)[0] == "undecided"  # both lie near


LISTS = [
    ("Loads in kg. (in brackets) = warm-up of 5 reps", "Date;Exercise;Load;Reps", "Squat", "Pull-ups", "BW"),
    ("Lasten in kg. (in Klammern) = Aufwärmen, 5 Wdh", "Datum;Übung;Gewicht;Wdh", "Kniebeuge", "Klimmzüge", "BW"),
    (
        "Charges en kg. (entre parenthèses) = échauffement, 5 reps",
        "Date;Exercice;Charge;Reps",
        "Squat",
        "Tractions",
        "PDC",
    ),
    ("Lasten in kg. (tussen haakjes) = opwarmen, 5 herh", "Datum;Oefening;Gewicht;Herh", "Squat", "Optrekken", "LG"),
]


@pytest.mark.parametrize(("legend", "head", "squat", "pull", "body"), LISTS, ids=["en", "de", "fr", "nl"])
def test_the_same_holds_in_lists_of_sets(read, legend, head, squat, pull, body):
    rows = [f"2026-09-02;{squat};(45) 75;5/4", f"2026-09-04;{squat};(45/60) 85 / 90;3/3"]
    rows += [f"2026-09-04;{pull};{body} / +5;6/5", f"2026-09-05;{pull};{body};6/5", f"2026-09-05;{pull};+5;6"]
    logs = read({"Ada Berg.csv": "\n".join([legend, head, *rows])})
    assert [(one.load_kg, one.reps, one.is_warm_up) for one in logs.sets] == [
        (45, 5, True), (75, 5, False), (75, 4, False), (45, 5, True), (60, 5, True), (85, 3, False), (90, 3, False),
        (None, 6, False), (5, 5, False), (None, 6, False), (None, 5, False), (5, 6, False),
    ]  # fmt: skip
    assert not logs.rejected


def test_words_in_brackets_beside_a_load_are_no_warm_up(read):
    logs = read({"Ada Berg.csv": "Date;Exercise;Load;Reps\n2026-09-02;Squat;80 (2,5 each side);5\n"})
    assert [one.load_kg for one in logs.sets] == [None]
    assert [one.value for one in logs.rejected] == ["80 (2,5 each side)"]
