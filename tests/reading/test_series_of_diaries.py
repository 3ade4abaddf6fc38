"""Diaries in a series of files, signs that legends gloss in brackets, and asides beside sets.

All are invented after common ways to keep such logs (common practice, no published source); what each means was told
by hand.
"""

from datetime import date

import pytest

from preflare.reading.legend import read_legend
from preflare.reading.legend_lines import Line
from preflare.reading.pain_said import Said
from preflare.reading.pain_text import read_pain
from preflare.reading.shorthand import parse_work
from preflare.reading.words import WordReader

GLOSSED = [
    ("Squat: straight bar unless it says SB (safety bar) or CB (cambered bar)", "SB", "CB"),
    ("Kniebeuge: gerade Stange, außer es steht SI (Sicherheitsstange) oder GB (gebogene Stange) dabei", "SI", "GB"),
    ("Squat : barre droite, sauf si BS (barre de sécurité) ou BC (barre cambrée)", "BS", "BC"),
    ("Sentadilla: barra recta salvo que ponga BSG (barra de seguridad) o BC (barra curva)", "BSG", "BC"),
    ("Squat: bilanciere dritto, tranne quando c'è SB (safety bar) o BC (bilanciere curvo)", "SB", "BC"),
    ("Agachamento: barra reta, exceto quando diz BSG (barra de segurança) ou BC (barra curva)", "BSG", "BC"),
    ("squat: rechte stang, behalve als er VS (veiligheidsstang) of GS (gebogen stang) staat", "VS", "GS"),
    ("Przysiad: gryf prosty, chyba że stoi GB (gryf bezpieczny) albo GW (gryf wygięty)", "GB", "GW"),
    ("Knebøy: rett stang, med mindre det står SS (sikkerhetsstang) eller BS (buet stang)", "SS", "BS"),
    ("Squat: lige stang, medmindre der står SK (sikkerhedsstang) eller BS (buet stang)", "SK", "BS"),
    ("Knäböj: rak stång, om det inte står SS (säkerhetsstång) eller BS (böjd stång)", "SS", "BS"),
    ("All squats with the straight bar, except where I note safety bar (SB) or cambered bar (CB).", "SB", "CB"),
]


@pytest.mark.parametrize(("line", "safety", "cambered"), GLOSSED)
def test_an_exception_names_its_signs_in_brackets_and_leaves_the_straight_bar(lexicon, line, safety, cambered):
    legend = read_legend([Line(line, True)], WordReader(lexicon), {})
    assert {term.written: term.value for term in legend.terms} == {safety: "safety", cambered: "cambered"}
    assert [(one.part, one.value) for one in legend.defaults] == [("bar", "straight")]


@pytest.mark.parametrize(
    "line",
    ["Bench press (TNG) and squat", "RPE (effort) of the last set", "Squat (KW), bench, deadlift", "BW (squat, dips)"],
)
def test_brackets_behind_a_lift_that_shorten_it_not_explain_nothing(lexicon, line):
    assert read_legend([Line(line, True)], WordReader(lexicon), {}).terms == ()


def test_lists_on_both_sides_of_a_sign_within_more_text_are_not_mixed(lexicon):
    lines = ("squat, hb / lb = bar high / low", "squat: bar. hb / lb = high / low")
    for line in lines:
        legend = read_legend([Line(line, True)], WordReader(lexicon), {})
        assert {term.written: term.value for term in legend.terms}.get("lb", "low") == "low"


def test_an_italian_article_is_no_low_bar(lexicon):
    line = "Attrezzo e presa: solo per lo squat"
    assert read_legend([Line(line, True)], WordReader(lexicon), {}).defaults == ()


# One legend for a series of files ----------------------------------------------------------------------------------

SEPTEMBER = """Group on Thursdays, autumn 2026
Members: Ada, Bo, Cleo
squat: straight bar unless it says VS (safety bar). hb / lb = high / low bar

--- Thu 17 Sept ---
Ada
  - squat hb: w/u 20x10 40x5, 3x8 60 RPE 7
Bo
  - squat VS hb: 3x8 50 RPE 7
Cleo
  - leg press: 3x12 80 RPE 6
"""
OCTOBER = """Group on Thursdays, autumn 2026 (signs: see September)

--- Thu 1 Oct ---
Ada
  - squat VS hb: 3x8 62,5 RPE 7
Bo
  - squat lb: 3x8 52,5 RPE 7
    note: deadlift 3x6 80 was planned, no time
"""


def test_the_legend_of_the_first_file_holds_for_the_others_of_its_series(read):
    logs = read({"group_september.txt": SEPTEMBER, "group_october.txt": OCTOBER})
    squats = [(one.athlete, one.bar, one.bar_position, one.load_kg) for one in logs.sets if one.exercise != "leg press"]
    assert set(squats) == {
        ("Ada", "straight", "high", 20), ("Ada", "straight", "high", 40), ("Ada", "straight", "high", 60),
        ("Bo", "safety", "high", 50), ("Ada", "safety", "high", 62.5), ("Bo", "straight", "low", 52.5),
    }  # fmt: skip
    assert [one.is_warm_up for one in logs.sets if one.load_kg in {20, 40}] == [True, True]
    assert {one.athlete for one in logs.sets if one.exercise == "leg press"} == {"Cleo"}  # named once, and in a title
    told = [text for one in logs.files for sheet in one.sheets for text in sheet.assumptions]
    assert any('"group_september.txt"' in text and "same series" in text for text in told)


def test_files_of_other_names_take_nothing(read):
    logs = read({"group_september.txt": SEPTEMBER, "bo_october.txt": OCTOBER})
    bars = {(one.date.month, one.bar) for one in logs.sets if one.load_kg == 52.5}
    assert bars == {(10, None)}


def test_a_legend_of_its_own_goes_before_that_of_the_series(read):
    own = OCTOBER.replace("see September)", "see September)\nsquat: cambered bar unless it says VS (safety bar)")
    logs = read({"group_september.txt": SEPTEMBER, "group_october.txt": own})
    assert {one.bar for one in logs.sets if one.load_kg == 52.5} == {"cambered"}


@pytest.mark.parametrize(
    "said",
    [
        "was planned",
        "war geplant",
        "était prévu",
        "estaba previsto",
        "era in programma",
        "estava previsto",
        "stond gepland",
        "było w planie",
        "var planlagt",
        "var planerat",
    ],
)
def test_sets_of_which_a_clause_says_that_they_were_planned_are_not_stored(read, said):
    logs = read({"log.txt": f"Ada Berg\n\n2026-09-03\nsquat 3x5 100\ndeadlift 3x6 80 {said}, home early\n"})
    assert {one.exercise for one in logs.sets} == {"back squat"}


def test_sets_done_as_planned_are_stored(read):
    logs = read({"log.txt": "Ada Berg\n\n2026-09-03\nsquat 3x5 100 as planned\ndeadlift 3x6 80, next week 85\n"})
    assert [one.load_kg for one in logs.sets] == [100] * 3 + [80] * 3


# Sets ---------------------------------------------------------------------------------------------------------------

WAYS = [
    ("pull-ups: BW x5 x4 x4", [(None, 5), (None, 4), (None, 4)]),
    ("optrekken: LG x5, x4", [(None, 5), (None, 4)]),
    ("Klimmzüge: +2,5 x5 x5 x4", [(2.5, 5), (2.5, 5), (2.5, 4)]),
    ("squat 100 x5 x5 x4", [(100, 5), (100, 5), (100, 4)]),
    ("squat 100kg x5 / x5 / x4", [(100, 5), (100, 5), (100, 4)]),
    ("squat 100x5x3", [(100, 5)] * 3),
    ("dumbbell row: 3x10 12 RPE 6", [(12, 10)] * 3),
    ("Kurzhantelrudern: 3x10 12,5", [(12.5, 10)] * 3),
    ("row 2x10 15 RIR 2", [(15, 10)] * 2),
    ("squat 67,5x6 (rack was taken) RPE 9", [(67.5, 6)]),
    ("squat 3x6 72,5 (correction: should be 70) RPE 8", [(70, 6)] * 3),
    ("Kniebeuge 3x6 72,5 (Korrektur: 70) RPE 8", [(70, 6)] * 3),
    ("squat 3x6 72,5 (correctie: moet 70 zijn) RPE 8", [(70, 6)] * 3),
    ("squat 3x6 72,5 (correction : 70 kg) RPE 8", [(70, 6)] * 3),
    ("squat 100x5 (corrected: 4) RPE 8", [(100, 4)]),
]


@pytest.mark.parametrize(("text", "meant"), WAYS)
def test_asides_and_corrections_behind_sets(lexicon, text, meant):
    work = parse_work(text, lexicon)
    assert [(one.load, one.reps) for one in work.sets] == meant
    if "R" in text:
        assert all(one.rpe is not None or one.rir is not None for one in work.sets)
    is_put_right = "72,5" in text
    assert bool(work.problems) == is_put_right
    assert all(one.is_doubt for one in work.problems)


@pytest.mark.parametrize("text", ["squat 3x8 12 (correction: 10) RPE 6", "row 3x10 10", "squat 80x5 (error, 3 or 4)"])
def test_what_stays_open_behind_sets_is_told(lexicon, text):
    assert any(not one.is_doubt for one in parse_work(text, lexicon).problems)


# Pain ---------------------------------------------------------------------------------------------------------------

THURSDAY = date(2026, 10, 29)
MORNINGS = [
    ("Friday morning: right wrist 2", "next morning"),
    ("vrijdagochtend: pols re 2", "next morning"),
    ("Freitagmorgen: Handgelenk re 2", "next morning"),
    ("fredagsmorgen: højre håndled 2", "next morning"),
    ("donderdagochtend: pols re 2", "before"),
    ("matin du 30 : poignet D 2/10", "next morning"),
    ("morning of the 30th: right wrist 2/10", "next morning"),
    ("am Morgen des 30.: Handgelenk re 2/10", "next morning"),
    ("la mañana del 30: muñeca der 2/10", "next morning"),
    ("la mattina del 30: polso dx 2/10", "next morning"),
    ("matin du 29 : poignet D 2/10", "before"),
]


@pytest.mark.parametrize(("text", "moment"), MORNINGS)
def test_the_morning_of_a_day_by_its_name_or_number(lexicon, text, moment):
    (told,) = read_pain(text, lexicon, Said(day=THURSDAY)).reports
    assert (told.site, told.side, told.rating, told.moment) == ("wrist", "right", 2, moment)


def test_the_morning_of_a_day_far_off_is_no_report_of_this_one(lexicon):
    assert read_pain("matin du 13 : poignet D 2/10", lexicon, Said(day=THURSDAY)).reports == []


@pytest.mark.parametrize(
    ("text", "severity"),
    [
        ("a bit of discomfort in the elbow", None),
        ("un peu de gêne au coude, à surveiller", None),
        ("un po' di fastidio al gomito", None),
        ("un poco de molestia en el codo", None),
        ("a bit of pain in the elbow", "mild"),
        ("matige pijn elleboog li na afloop", "moderate"),
        ("mäßige Schmerzen im Ellbogen", "moderate"),
        ("umiarkowany ból łokcia", "moderate"),
    ],
)
def test_a_bit_of_discomfort_says_not_how_much_it_hurts(lexicon, text, severity):
    told = read_pain(text, lexicon).reports
    assert [(one.site, one.severity) for one in told] == ([("elbow", severity)] if severity else [])


def test_a_remark_that_is_called_one_is_read_like_any_other(read):
    logs = read({"log.txt": "Ada Berg\n\n2026-09-03\nsquat 3x5 100\nnote: elbow good, no pain today\n"})
    assert [(one.site, one.rating) for one in logs.pain] == [("elbow", 0)]
