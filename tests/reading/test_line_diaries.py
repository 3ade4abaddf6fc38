"""Diaries in plain text, each by the habits of another person: what they say, set by set and rating by rating.

The people and their loads are invented; the expected values were written by hand from the text.
"""

from datetime import date

import pytest

# A diary: name of the file, text, sets, pain. A set: person, month, day, exercise, bar, position, width, load in kg,
# repetitions, "w" for a warm-up. A rating: person, month, day, site, side, rating or word, moment; what is told of the
# next morning bears its date.

ENGLISH = """Hattie's barbell notes 2025
loads in kg, weight x reps

Mon 3 Nov - felt fresh
Back squat, low bar, wide grip
  w/u 40x5, 60x3
  80x5, 80x5, 82.5x4
Bench press: 40x8 / 45x8x2
Elbow: L 2, R 0

Thu 6 Nov: travel day, short one
Deadlift 70x5 w/u, 100x5, 105x5
next morning: L elbow 3/10
"""
ENGLISH_SETS = [
    *[("Hattie", 11, 3, "back squat", None, "low", "wide", kg, n, "w") for kg, n in ((40, 5), (60, 3))],
    *[("Hattie", 11, 3, "back squat", None, "low", "wide", kg, n, "") for kg, n in ((80, 5), (80, 5), (82.5, 4))],
    *[("Hattie", 11, 3, "bench press", None, None, None, kg, 8, "") for kg in (40, 45, 45)],
    ("Hattie", 11, 6, "deadlift", None, None, None, 70, 5, "w"),
    *[("Hattie", 11, 6, "deadlift", None, None, None, kg, 5, "") for kg in (100, 105)],
]
ENGLISH_PAIN = [
    ("Hattie", 11, 3, "elbow", "left", 2, "after"),
    ("Hattie", 11, 3, "elbow", "right", 0, "after"),
    ("Hattie", 11, 7, "elbow", "left", 3, "next morning"),
]

GERMAN = """Trainingstagebuch 2026 von Jördis und Wolfram
Jördis Hallbauer (J), Wolfram Zeisig (W)

Montag, 2. März
Kniebeuge (SSB)
J: 40x5, 50x5, 50x5
W: wie J, aber 60
Bankdrücken
J: 30x8, 30x8
W: 60x6x3
Ellbogen: J links 1 - W rechts 4

Donnerstag, 5. März (Jördis krank)
Kreuzheben
W: 80x5 | 120x3x2
am nächsten Morgen: W rechts 5

Korrektur: am Montag, 2. März hat W beim Bankdrücken 62,5 und nicht 60 gehabt
"""
GERMAN_SETS = [
    *[("Jördis Hallbauer", 3, 2, "back squat", "safety", None, None, kg, 5, "") for kg in (40, 50, 50)],
    *[("Jördis Hallbauer", 3, 2, "bench press", None, None, None, 30, 8, "")] * 2,
    *[("Wolfram Zeisig", 3, 2, "bench press", None, None, None, 62.5, 6, "")] * 3,
    ("Wolfram Zeisig", 3, 5, "deadlift", None, None, None, 80, 5, "w"),
    *[("Wolfram Zeisig", 3, 5, "deadlift", None, None, None, 120, 3, "")] * 2,
]
GERMAN_PAIN = [
    ("Jördis Hallbauer", 3, 2, "elbow", "left", 1, "after"),
    ("Wolfram Zeisig", 3, 2, "elbow", "right", 4, "after"),
    ("Wolfram Zeisig", 3, 6, "elbow", "right", 5, "next morning"),
]

FRENCH = """Cahier de Solène Kerbrat, hiver 2026

## Semaine 2
### mardi 6 janvier
- squat barre de sécurité : 50x5, 60x5x2
- tractions : pdc x6, pdc x5
- coude droit 2/10 pendant les tractions
- prévu : soulevé de terre 100x5x3, pas fait

### jeudi 8 janvier
- développé couché prise serrée 40x8x2
- aucune douleur au coude
Total semaine : 14 séries
"""
FRENCH_SETS = [
    *[("Solène Kerbrat", 1, 6, "back squat", "safety", None, None, kg, 5, "") for kg in (50, 60, 60)],
    *[("Solène Kerbrat", 1, 6, "pull-up", None, None, None, None, n, "") for n in (6, 5)],
    *[("Solène Kerbrat", 1, 8, "close-grip bench press", None, None, None, 40, 8, "")] * 2,
]
FRENCH_PAIN = [
    ("Solène Kerbrat", 1, 6, "elbow", "right", 2, "during"),
    ("Solène Kerbrat", 1, 8, "elbow", "unknown", 0, "after"),
]

SPANISH = """Diario de Amaranta 2026

lunes 4 de mayo
Sentadilla barra recta, barra baja, agarre estrecho
calentamiento 20x10, 40x5
60x5, 60x5, 62,5x5
Remo con barra
40x10x3
codo dcho 3 después

miercoles 6 de mayo
Press banca: 35x8x3
Muñeca izq: 2
viernes 8 de mayo
descanso, codo sin dolor
"""
SPANISH_SETS = [
    *[("Amaranta", 5, 4, "back squat", "straight", "low", "narrow", kg, n, "w") for kg, n in ((20, 10), (40, 5))],
    *[("Amaranta", 5, 4, "back squat", "straight", "low", "narrow", kg, 5, "") for kg in (60, 60, 62.5)],
    *[("Amaranta", 5, 4, "row", None, None, None, 40, 10, "")] * 3,
    *[("Amaranta", 5, 6, "bench press", None, None, None, 35, 8, "")] * 3,
]
SPANISH_PAIN = [
    ("Amaranta", 5, 4, "elbow", "right", 3, "after"),
    ("Amaranta", 5, 6, "wrist", "left", 2, "after"),
    ("Amaranta", 5, 8, "elbow", "unknown", 0, "after"),
]

ITALIAN = """Appunti palestra 2026 di Fiammetta

12.01. squat bilanciere dritto 40x5 50x5 55x5
       panca 30x8 30x8
       gomito dx 2/10 dopo
15.01. stacco 60x5 70x5
       spalla sx lieve prima
19.01. squat, presa larga: 40x5 52,5x5
"""
ITALIAN_SETS = [
    *[("Fiammetta", 1, 12, "back squat", "straight", None, None, kg, 5, "") for kg in (40, 50, 55)],
    *[("Fiammetta", 1, 12, "bench press", None, None, None, 30, 8, "")] * 2,
    *[("Fiammetta", 1, 15, "deadlift", None, None, None, kg, 5, "") for kg in (60, 70)],
    *[("Fiammetta", 1, 19, "back squat", None, None, "wide", kg, 5, "") for kg in (40, 52.5)],
]
ITALIAN_PAIN = [
    ("Fiammetta", 1, 12, "elbow", "right", 2, "after"),
    ("Fiammetta", 1, 15, "shoulder", "left", "mild", "before"),
]

PORTUGUESE = """Caderno de treino - Benedita Falcoeira - 2026

Semana 10
segunda, 2/3
Agachamento: aq 30x5 | 50x5x3
Supino: 30x8x2
Cotovelo esq 1
quarta, 4/3
Levantamento terra: 60x5, 70x5 (falhou)
amanhã logo se vê

Semana 11
segunda, 9/3
Agachamento, barra alta: 50x5, 55x5
cotovelo esq 0
"""
PORTUGUESE_SETS = [
    ("Benedita Falcoeira", 3, 2, "back squat", None, None, None, 30, 5, "w"),
    *[("Benedita Falcoeira", 3, 2, "back squat", None, None, None, 50, 5, "")] * 3,
    *[("Benedita Falcoeira", 3, 2, "bench press", None, None, None, 30, 8, "")] * 2,
    *[("Benedita Falcoeira", 3, 4, "deadlift", None, None, None, kg, 5, "") for kg in (60, 70)],
    *[("Benedita Falcoeira", 3, 9, "back squat", None, "high", None, kg, 5, "") for kg in (50, 55)],
]
PORTUGUESE_PAIN = [
    ("Benedita Falcoeira", 3, 2, "elbow", "left", 1, "after"),
    ("Benedita Falcoeira", 3, 9, "elbow", "left", 0, "after"),
]

DUTCH = """Schrift van Lotte en Teun, 2026
L = Lotte Windhaver, T = Teun Rietdekker

== za 10 jan ==
squat
L 30x8, 45x5, 45x5
T 60x5, 90x5, 90x5
bankdrukken
L 25x8x2
T idem met 60
elleboog L 0, T 3 re

== wo 14 jan ==
(Teun ziek)
deadlift
L 50x5, 60x5
dag erna: L 2
"""
DUTCH_SETS = [
    *[("Lotte Windhaver", 1, 10, "back squat", None, None, None, kg, n, "") for kg, n in ((30, 8), (45, 5), (45, 5))],
    *[("Teun Rietdekker", 1, 10, "back squat", None, None, None, kg, 5, "") for kg in (60, 90, 90)],
    *[("Lotte Windhaver", 1, 10, "bench press", None, None, None, 25, 8, "")] * 2,
    *[("Teun Rietdekker", 1, 10, "bench press", None, None, None, 60, 8, "")] * 2,
    *[("Lotte Windhaver", 1, 14, "deadlift", None, None, None, kg, 5, "") for kg in (50, 60)],
]
DUTCH_PAIN = [
    ("Lotte Windhaver", 1, 10, "elbow", "unknown", 0, "after"),
    ("Teun Rietdekker", 1, 10, "elbow", "right", 3, "after"),
    ("Lotte Windhaver", 1, 15, "elbow", "unknown", 2, "next morning"),
]

POLISH = """Zeszyt treningowy - Jagna, 2026

3.03.2026 wtorek
przysiad ze sztangą: rozgrz 40x5, 60x3 | 75x5, 75x5
wyciskanie leżąc: 40x6x3
łokieć prawy 4

5.03.2026 czwartek
martwy ciąg: 80x5, 90x3
rano po treningu łokieć prawy 2/10
"""
POLISH_SETS = [
    *[("Jagna", 3, 3, "back squat", None, None, None, kg, n, "w") for kg, n in ((40, 5), (60, 3))],
    *[("Jagna", 3, 3, "back squat", None, None, None, 75, 5, "")] * 2,
    *[("Jagna", 3, 3, "bench press", None, None, None, 40, 6, "")] * 3,
    *[("Jagna", 3, 5, "deadlift", None, None, None, kg, n, "") for kg, n in ((80, 5), (90, 3))],
]
POLISH_PAIN = [
    ("Jagna", 3, 3, "elbow", "right", 4, "after"),
    ("Jagna", 3, 6, "elbow", "right", 2, "next morning"),
]

NORWEGIAN = """Treningsdagbok Ragnfrid Skogly 2026

Man 12. jan: Knebøy 60x5, 80x5, 80x5. Benk 40x8x2
Albue: høyre 2
Ons 14. jan: Markløft 90x5, 100x3
Planlagt: benk 42,5x8x3
Fre 16. jan: hvile, ingen smerte i albuen
"""
NORWEGIAN_SETS = [
    *[("Ragnfrid Skogly", 1, 12, "back squat", None, None, None, kg, 5, "") for kg in (60, 80, 80)],
    *[("Ragnfrid Skogly", 1, 12, "bench press", None, None, None, 40, 8, "")] * 2,
    *[("Ragnfrid Skogly", 1, 14, "deadlift", None, None, None, kg, n, "") for kg, n in ((90, 5), (100, 3))],
]
NORWEGIAN_PAIN = [
    ("Ragnfrid Skogly", 1, 12, "elbow", "right", 2, "after"),
    ("Ragnfrid Skogly", 1, 16, "elbow", "unknown", 0, "after"),
]

DANISH = """Logbog for Torkild, foråret 2026

Uge 14
mandag d. 30. marts
Squat
1) 40 kg x 5 (opvarmning)
2) 60 kg x 5
3) 60 kg x 5
Bænkpres
40 kg x 8
albue venstre 3/10 under bænk
onsdag d. 1. april
Dødløft
70 kg x 5
80 kg x 3
"""
DANISH_SETS = [
    ("Torkild", 3, 30, "back squat", None, None, None, 40, 5, "w"),
    *[("Torkild", 3, 30, "back squat", None, None, None, 60, 5, "")] * 2,
    ("Torkild", 3, 30, "bench press", None, None, None, 40, 8, ""),
    *[("Torkild", 4, 1, "deadlift", None, None, None, kg, n, "") for kg, n in ((70, 5), (80, 3))],
]
DANISH_PAIN = [("Torkild", 3, 30, "elbow", "left", 3, "during")]

SWEDISH = """Styrkeboken 2026
Alva Tallmo och Sixten Brodd

2026-02-03
Alva
Knäböj: uppv 30x5 | 45x5x2
Armbåge: höger 1
Sixten
Knäböj: uppv 50x5 | 80x5x2
Armbåge: 0

2026-02-05
Sixten
Bänkpress: 60x5, 65x5
Alva
Bänkpress: 30x8, 30x7
Armbåge: höger måttlig
"""
SWEDISH_SETS = [
    ("Alva Tallmo", 2, 3, "back squat", None, None, None, 30, 5, "w"),
    *[("Alva Tallmo", 2, 3, "back squat", None, None, None, 45, 5, "")] * 2,
    ("Sixten Brodd", 2, 3, "back squat", None, None, None, 50, 5, "w"),
    *[("Sixten Brodd", 2, 3, "back squat", None, None, None, 80, 5, "")] * 2,
    *[("Sixten Brodd", 2, 5, "bench press", None, None, None, kg, 5, "") for kg in (60, 65)],
    *[("Alva Tallmo", 2, 5, "bench press", None, None, None, 30, n, "") for n in (8, 7)],
]
SWEDISH_PAIN = [
    ("Alva Tallmo", 2, 3, "elbow", "right", 1, "after"),
    ("Sixten Brodd", 2, 3, "elbow", "unknown", 0, "after"),
    ("Alva Tallmo", 2, 5, "elbow", "right", "moderate", "after"),
]

POUNDS = """Garage journal - Wendell Proudfoot - 2026
everything in pounds

1/5 squat 135x5, 185x5, 225x5
bench 135x8x2
r elbow 2 after
1/8 deadlift 225x5, 275x3
hotel gym on 1/12, kilos only
1/12 (kg plates) squat 60x5, 80x5
1/19 squat 135x5, 205x5
"""
LB = 0.45359237
POUNDS_SETS = [
    *[("Wendell Proudfoot", 1, 5, "back squat", None, None, None, lb * LB, 5, "") for lb in (135, 185, 225)],
    *[("Wendell Proudfoot", 1, 5, "bench press", None, None, None, 135 * LB, 8, "")] * 2,
    *[("Wendell Proudfoot", 1, 8, "deadlift", None, None, None, lb * LB, n, "") for lb, n in ((225, 5), (275, 3))],
    *[("Wendell Proudfoot", 1, 12, "back squat", None, None, None, kg, 5, "") for kg in (60, 80)],
    *[("Wendell Proudfoot", 1, 19, "back squat", None, None, None, lb * LB, 5, "") for lb in (135, 205)],
]
POUNDS_PAIN = [("Wendell Proudfoot", 1, 5, "elbow", "right", 2, "after")]

WEEKDAYS = """Log of Petronella, block 2
Week of 2 February 2026

Monday
- squat 5x3 @80
- bench 3x5 @50
Wednesday
- deadlift 3x3 @110
- left forearm 2/10
Friday: off
"""
WEEKDAYS_SETS = [
    *[("Petronella", 2, 2, "back squat", None, None, None, 80, 3, "")] * 5,
    *[("Petronella", 2, 2, "bench press", None, None, None, 50, 5, "")] * 3,
    *[("Petronella", 2, 4, "deadlift", None, None, None, 110, 3, "")] * 3,
]
WEEKDAYS_PAIN = [("Petronella", 2, 4, "forearm", "left", 2, "after")]

SLIPS = """Training log Casimir 2026

Monday 5 Janaury
Squat 5x3 @100
Thrusday 8 January
Bench 3x5 @70
elbow right 14
"""
SLIPS_SETS = [
    *[("Casimir", 1, 5, "back squat", None, None, None, 100, 3, "")] * 5,
    *[("Casimir", 1, 8, "bench press", None, None, None, 70, 5, "")] * 3,
]

MARKED = """# Ilse's training, spring 2026

**Tue 3/3** 18:30-19:45, BW 71.4
- Squat (high bar, medium grip)
    - 20x10, 40x5 (wu)
    - 60x5 @7, 62.5x5 @8
- Notes: R elbow 3/10 during bench, slept badly

**Thu 5/3**
- Deadlift: 60x5, 80x3
- Pull-ups: BW x 5, 5, 4

**Sat 7/3** - rest day
"""
MARKED_SETS = [
    *[("Ilse", 3, 3, "back squat", None, "high", "medium", kg, n, "w") for kg, n in ((20, 10), (40, 5))],
    *[("Ilse", 3, 3, "back squat", None, "high", "medium", kg, 5, "") for kg in (60, 62.5)],
    *[("Ilse", 3, 5, "deadlift", None, None, None, kg, n, "") for kg, n in ((60, 5), (80, 3))],
    *[("Ilse", 3, 5, "pull-up", None, None, None, None, n, "") for n in (5, 5, 4)],
]
MARKED_PAIN = [("Ilse", 3, 3, "elbow", "right", 3, "during")]

THREE = """Sobota 2026
Kasia, Marek, Ola

14.03.2026
przysiad
Kasia 40x5, 50x5
Marek 60x5, 90x5 (łokieć lewy 3)
Ola nieobecna

21.03.2026
martwy ciąg
Kasia 60x5x2
Ola 50x5, nadgarstek prawy 2 po
Marek: bez bólu dzisiaj
"""
THREE_SETS = [
    *[("Kasia", 3, 14, "back squat", None, None, None, kg, 5, "") for kg in (40, 50)],
    *[("Marek", 3, 14, "back squat", None, None, None, kg, 5, "") for kg in (60, 90)],
    *[("Kasia", 3, 21, "deadlift", None, None, None, 60, 5, "")] * 2,
    ("Ola", 3, 21, "deadlift", None, None, None, 50, 5, ""),
]
THREE_PAIN = [("Marek", 3, 14, "elbow", "left", 3, "after"), ("Ola", 3, 21, "wrist", "right", 2, "after")]

SHORT = """carnet Lucienne 2026
5/1 squat 40x5 50x5x2, dc 30x8, coude g 2
7/1 sdt 60x5 70x5
9/1 squat 40x5 52,5x5, tractions 5 5 4
12/1 repos, coude g 0
"""
SHORT_SETS = [
    *[("Lucienne", 1, 5, "back squat", None, None, None, kg, 5, "") for kg in (40, 50, 50)],
    ("Lucienne", 1, 5, "bench press", None, None, None, 30, 8, ""),
    *[("Lucienne", 1, 7, "deadlift", None, None, None, kg, 5, "") for kg in (60, 70)],
    *[("Lucienne", 1, 9, "back squat", None, None, None, kg, 5, "") for kg in (40, 52.5)],
    *[("Lucienne", 1, 9, "pull-up", None, None, None, None, n, "") for n in (5, 5, 4)],
]
SHORT_PAIN = [("Lucienne", 1, 5, "elbow", "left", 2, "after"), ("Lucienne", 1, 12, "elbow", "left", 0, "after")]

PAIR = """Diario Ginevra e Tobia 2026

lun 2 marzo
Ginevra: squat 40x5 50x5, panca 25x8
Tobia: squat 60x5 90x5, gomito sx 2

mer 4 marzo
Ginevra: stacco 60x5
Tobia: assente
"""
PAIR_SETS = [
    *[("Ginevra", 3, 2, "back squat", None, None, None, kg, 5, "") for kg in (40, 50)],
    ("Ginevra", 3, 2, "bench press", None, None, None, 25, 8, ""),
    *[("Tobia", 3, 2, "back squat", None, None, None, kg, 5, "") for kg in (60, 90)],
    ("Ginevra", 3, 4, "deadlift", None, None, None, 60, 5, ""),
]
PAIR_PAIN = [("Tobia", 3, 2, "elbow", "left", 2, "after")]

DIARIES = {
    "English, marks of headings and lists": ("ilse.txt", MARKED, MARKED_SETS, MARKED_PAIN),
    "Polish, three names without colons": ("sobota.txt", THREE, THREE_SETS, THREE_PAIN),
    "French, a day in a short line": ("carnet.txt", SHORT, SHORT_SETS, SHORT_PAIN),
    "Italian, two people named in the title": ("diario.txt", PAIR, PAIR_SETS, PAIR_PAIN),
    "English, lifts in lines of their own": ("notes.txt", ENGLISH, ENGLISH_SETS, ENGLISH_PAIN),
    "German, two people by letters": ("tagebuch.txt", GERMAN, GERMAN_SETS, GERMAN_PAIN),
    "French, headings and bullets": ("cahier.txt", FRENCH, FRENCH_SETS, FRENCH_PAIN),
    "Spanish, lift above its sets": ("diario.txt", SPANISH, SPANISH_SETS, SPANISH_PAIN),
    "Italian, date before the work": ("appunti.txt", ITALIAN, ITALIAN_SETS, ITALIAN_PAIN),
    "Portuguese, by weeks": ("caderno.txt", PORTUGUESE, PORTUGUESE_SETS, PORTUGUESE_PAIN),
    "Dutch, letters without colons": ("schrift.txt", DUTCH, DUTCH_SETS, DUTCH_PAIN),
    "Polish, date before weekday": ("zeszyt.txt", POLISH, POLISH_SETS, POLISH_PAIN),
    "Norwegian, a day in a line": ("dagbok.txt", NORWEGIAN, NORWEGIAN_SETS, NORWEGIAN_PAIN),
    "Danish, a line a set": ("logbog.txt", DANISH, DANISH_SETS, DANISH_PAIN),
    "Swedish, a name above the work": ("styrkeboken.txt", SWEDISH, SWEDISH_SETS, SWEDISH_PAIN),
    "English, pounds and a day in kilograms": ("garage.txt", POUNDS, POUNDS_SETS, POUNDS_PAIN),
    "English, weekdays under a week": ("block.txt", WEEKDAYS, WEEKDAYS_SETS, WEEKDAYS_PAIN),
    "English, slips in dates": ("log.txt", SLIPS, SLIPS_SETS, []),
}


def sets_of(logs):
    return sorted(
        (
            one.athlete, one.date.month, one.date.day, one.exercise, one.bar or "", one.bar_position or "",
            one.grip_width or "", -1.0 if one.load_kg is None else round(one.load_kg, 1), one.reps,
            "w" if one.is_warm_up else "",
        )
        for one in logs.sets
    )  # fmt: skip


def as_expected(sets):
    return sorted(
        (who, month, day, lift, bar or "", place or "", width or "", -1.0 if kg is None else round(float(kg), 1), n, w)
        for who, month, day, lift, bar, place, width, kg, n, w in sets
    )


def pain_of(logs):
    return sorted(
        (
            one.athlete,
            one.date.month,
            one.date.day,
            one.site,
            one.side,
            str(one.rating or one.severity_word or 0),
            one.moment,
        )
        for one in logs.pain
    )


@pytest.mark.parametrize("title", DIARIES)
def test_a_diary_is_read_as_its_writer_means_it(read, title):
    name, text, sets, pain = DIARIES[title]
    logs = read({name: text})
    assert sets_of(logs) == as_expected(sets)
    told = [
        (*one[:5], str(float(one[5])) if isinstance(one[5], int) and one[5] else str(one[5]), one[6]) for one in pain
    ]
    assert pain_of(logs) == sorted(told)


HEAD = "Lifting diary - Ottilie Brandvold - 2026\n\nMon 2 March\nSquat\n60x5, 80x5\n"
SQUATS = [(60, 5), (80, 5)]


def squats(logs):
    return [(one.load_kg, one.reps) for one in logs.sets if one.exercise == "back squat"]


@pytest.mark.parametrize(
    "line",
    [
        "Wobble press: 30x5, 30x5",
        "Wackelheben: 40x8",
        "Ben spotted me, he did 140x5",
        "felt like 140x5 was there",
        "Kettlebell juggling 16x20",
    ],
)
def test_sets_behind_words_that_nobody_knows_are_never_of_the_lift_above(read, line):
    logs = read({"diary.txt": HEAD + line + "\n"})
    assert squats(logs) == SQUATS
    kept = [one.exercise_written for one in logs.sets if one.exercise == "unknown"]
    assert kept or [one.value for one in logs.rejected] == [line]


@pytest.mark.parametrize(
    "line",
    [
        "then 85x3",
        "top set: 85x3",
        "dann 85x3",
        "puis 85x3",
        "luego 85x3",
        "poi 85x3",
        "depois 85x3",
        "daarna 85x3",
        "potem 85x3",
        "deretter 85x3",
        "derefter 85x3",
        "sedan 85x3",
        "- 85 kg x 3",
        "3) 85x3",
    ],
)
def test_sets_that_go_on_are_of_the_lift_above(read, line):
    assert squats(read({"diary.txt": HEAD + line + "\n"})) == [*SQUATS, (85, 3)]


@pytest.mark.parametrize(
    "line",
    [
        "planned: 100x3x3",
        "geplant 100x3x3",
        "prévu 100x3x3",
        "previsto 100x3x3",
        "in programma 100x3x3",
        "gepland 100x3x3",
        "w planie 100x3x3",
        "planlagt 100x3x3",
        "planerat 100x3x3",
        "bench 100x3x3, not done",
        "Bankdrücken 100x3x3 - nicht gemacht",
        "développé couché 100x3x3, pas fait",
        "next week 100x3x3",
    ],
)
def test_what_was_only_planned_is_no_set(read, line):
    logs = read({"diary.txt": HEAD + line + "\n"})
    assert [(one.load_kg, one.reps) for one in logs.sets] == SQUATS
    assert any(one.note == line for one in logs.sessions)


@pytest.mark.parametrize(
    "line",
    [
        "planned 100x3x3, did 100x3x2",
        "geplant 100x3x3, gemacht 90x3x3",
        "prévu 100x3x3, fait 90x3x3",
    ],
)
def test_plan_and_work_in_one_line_are_set_aside(read, line):
    logs = read({"diary.txt": HEAD + line + "\n"})
    assert squats(logs) == SQUATS
    assert [one.value for one in logs.rejected] == [line]


@pytest.mark.parametrize(
    "line",
    [
        "Tonnage: 1240 kg",
        "Total volume week 1: 12 340 kg",
        "Wochentonnage 12 340",
        "Tonnage sem. 1 : 19 870 kg",
        "Tonelaje 3400",
        "Tonnellaggio: 3400",
        "Tonelagem 3400",
        "Weekvolume 3400 kg",
        "Tonaż 3400",
        "Tonnasje 3400",
        "Veckovolym 3400",
        "Total: 7 sets",
    ],
)
def test_sums_are_no_data(read, line):
    logs = read({"diary.txt": HEAD + line + "\n"})
    assert squats(logs) == SQUATS
    assert not logs.rejected
    assert not logs.sessions


@pytest.mark.parametrize("line", ["bodyweight 83.2", "slept 5 h", "45 minutes", "row 2000 m in 8:10", "12 of 17"])
def test_figures_that_nobody_knows_are_set_aside_with_their_text(read, line):
    logs = read({"diary.txt": HEAD + line + "\n"})
    assert squats(logs) == SQUATS
    assert [one.value for one in logs.rejected] == [line]


TWO = """Notebook 2026
Ada Berg (A), Bo Dahl (B)

Mon 2 March
Bench
A: 40x8, 60x5x2
B: {}
"""


@pytest.mark.parametrize(
    ("line", "sets"),
    [
        ("same as A", [(40, 8), (60, 5), (60, 5)]),
        ("like A", [(40, 8), (60, 5), (60, 5)]),
        ("wie A", [(40, 8), (60, 5), (60, 5)]),
        ("comme A", [(40, 8), (60, 5), (60, 5)]),
        ("como A", [(40, 8), (60, 5), (60, 5)]),
        ("come A", [(40, 8), (60, 5), (60, 5)]),
        ("zoals A", [(40, 8), (60, 5), (60, 5)]),
        ("tak jak A", [(40, 8), (60, 5), (60, 5)]),
        ("som A", [(40, 8), (60, 5), (60, 5)]),
        ("same as A but 70", []),  # two loads: which is meant?
        ("same as A, one set less", []),
        ("same as A +20", []),
        ("wie A -10", []),
    ],
)
def test_the_same_as_another_person(read, line, sets):
    logs = read({"notebook.txt": TWO.format(line)})
    assert [(one.load_kg, one.reps) for one in logs.sets if one.athlete == "Bo Dahl"] == sets
    assert [one.value for one in logs.rejected] == ([] if sets else [f"B: {line}"])


@pytest.mark.parametrize(
    "line",
    [
        "Correction: on 2 March bench was 62.5, not 60",
        "Korrektur: am 2. März war Bankdrücken 62,5 und nicht 60",
        "correction : le 2 mars le développé couché était 62,5 et pas 60",
        "corrección: el 2 de marzo press banca 62,5 y no 60",
        "correzione: il 2 marzo la panca era 62,5 e non 60",
        "correção: no dia 2 de março supino 62,5 e não 60",
        "correctie: op 2 maart bankdrukken 62,5 en niet 60",
        "poprawka: 2 marca wyciskanie leżąc 62,5 a nie 60",
        "rettelse: 2. mars benkpress 62,5, ikke 60",
        "rettelse: d. 2. marts bænkpres 62,5 og ikke 60",
        "rättelse: 2 mars bänkpress 62,5 och inte 60",
    ],
)
def test_a_later_line_puts_a_load_right_and_both_places_say_so(read, line):
    text = "Diary 2026 - Ada Berg\n\nMon 2 March\nBench: 40x8, 60x5, 60x5\n\nThu 5 March\nDeadlift 100x5\n"
    logs = read({"diary.txt": f"{text}{line}\n"})
    assert [(one.load_kg, one.reps) for one in logs.sets] == [(40, 8), (62.5, 5), (62.5, 5), (100, 5)]
    assert [(one.place.row, one.is_whole_row) for one in logs.rejected] == [(4, False)]
    assert line in logs.rejected[0].reason


def test_a_correction_that_fits_nothing_is_set_aside_and_points_to_the_day(read):
    text = "Diary 2026 - Ada Berg\n\nMon 2 March\nBench: 40x8, 60x5\n"
    logs = read({"diary.txt": text + "Correction: 2 March bench was 72.5, not 70\n"})
    assert [(one.load_kg, one.reps) for one in logs.sets] == [(40, 8), (60, 5)]
    assert sorted((one.place.row, one.is_whole_row) for one in logs.rejected) == [(4, False), (5, True)]


@pytest.mark.parametrize(
    ("line", "day"),
    [
        ("Lundi 9 mras", 9),
        ("Montag 9 Mäzr", 9),
        ("Mnoday 9 March", 9),
        ("Tuesday 9 mrach", None),  # the ninth is a Monday
        ("Mon 9 Xyzzy", None),
    ],
)
def test_a_slip_in_a_date_is_put_right_only_where_the_day_fits_and_said(read, line, day):
    logs = read({"diary.txt": f"{HEAD}\n{line}\nBench 60x5\n"})
    assert [one.date for one in logs.sets if one.exercise == "bench press"] == ([date(2026, 3, 9)] if day else [])
    assert logs.rejected


def test_a_diary_in_one_column_of_a_workbook_keeps_its_rows(read):
    from openpyxl import Workbook

    book = Workbook()
    for line in ENGLISH.splitlines():
        book.active.append([line or None])
    logs = read({"notes.xlsx": book})
    assert sets_of(logs) == as_expected(ENGLISH_SETS)
    assert {one.place.row for one in logs.sets if one.exercise == "deadlift"} == {12}


@pytest.mark.parametrize("line", ["Tue 31/2", "Mon 9 Xyzzy", "32.13.2026", "2026-13-02", "Fri 40"])
def test_below_a_date_that_is_none_nothing_is_dated_by_the_day_before(read, line):
    logs = read({"diary.txt": f"{HEAD}\n{line}\nBench 60x5\n"})
    assert [one for one in logs.sets if one.exercise == "bench press"] == []
    assert [one.value for one in logs.rejected] == [line, "Bench 60x5"]


@pytest.mark.parametrize("line", ["Bench: same as Monday", "Bankdrücken wie letzte Woche", "Panca: come lunedì"])
def test_the_same_as_another_day_is_set_aside(read, line):
    logs = read({"diary.txt": HEAD + line + "\n"})
    assert squats(logs) == SQUATS
    assert [one.value for one in logs.rejected] == [line]


def test_sets_before_the_first_date_are_set_aside(read):
    text = "Diary of Ada Berg 2026\nSquat 5x3 @100\n\nMon 2 March\nBench 3x5 @60\n"
    logs = read({"diary.txt": text})
    assert {one.exercise for one in logs.sets} == {"bench press"}
    assert [one.value for one in logs.rejected] == ["Squat 5x3 @100"]


def test_an_indented_line_is_of_the_person_above_it_and_another_of_nobody(read):
    text = """Vår 2026
T: Tordis Ekeland
A: Aslak Myhre

02.03.2026
Knebøy
  T: 40x5
  A: 60x5
    albue venstre 3
albue venstre 5
"""
    logs = read({"vår.txt": text})
    assert [(one.athlete, one.load_kg) for one in logs.sets] == [("Tordis Ekeland", 40), ("Aslak Myhre", 60)]
    assert [(one.athlete, one.rating) for one in logs.pain] == [("Aslak Myhre", 3)]
    assert [(one.place.row, one.reason) for one in logs.rejected] == [(10, "it is not known whose pain this is")]


def test_a_sign_that_a_diary_explains_as_a_bar_is_no_lift_in_it(read):
    text = "Carnet 2026 - Lucienne Morvan\nBD = barre droite, BS = barre de sécurité\n\nlundi 5 janvier\n"
    logs = read({"carnet.txt": text + "squat BD, pos. basse : 60x5\n"})
    assert [(one.exercise, one.bar, one.bar_position) for one in logs.sets] == [("back squat", "straight", "low")]
