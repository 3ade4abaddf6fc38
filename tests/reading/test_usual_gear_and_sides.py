"""What a legend says of a lift, or of a place that hurts, where nothing else is written.

What each line means was told by hand, by someone who reads the language; the lines are invented after common ways to
write them (common practice, no published source).
"""

import pytest

from preflare.reading.legend import read_legend
from preflare.reading.legend_lines import Line
from preflare.reading.words import WordReader


def legend_of(lexicon, line):
    return read_legend([Line(line, True)], WordReader(lexicon), {})


LIFTS = [  # the lift, and what it has
    ("bench = medium grip", "bench press", {"width": "medium"}),
    ("bench with nothing = medium grip", "bench press", {"width": "medium"}),
    ("Bankdrücken = mittlerer Griff", "bench press", {"width": "medium"}),
    ("développé couché = prise moyenne", "bench press", {"width": "medium"}),
    ("press banca = agarre medio", "bench press", {"width": "medium"}),
    ("panca = presa media", "bench press", {"width": "medium"}),
    ("supino = pegada média", "bench press", {"width": "medium"}),
    ("bankdrukken = brede greep", "bench press", {"width": "wide"}),
    ("wyciskanie leżąc = szeroki chwyt", "bench press", {"width": "wide"}),
    ("benk = middels grep", "bench press", {"width": "medium"}),
    ("bænk = medium greb.", "bench press", {"width": "medium"}),
    ("bänkpress = smalt grepp", "bench press", {"width": "narrow"}),
    ("smal bænk = smalt greb", "close-grip bench press", {"width": "narrow"}),
    ("row = wide grip", "row", {"width": "wide"}),
    ("frontsquat altid lige stang", "front squat", {"bar": "straight"}),
    ("Frontkniebeuge immer gerade Stange", "front squat", {"bar": "straight"}),
]


@pytest.mark.parametrize(("line", "lift", "meant"), LIFTS)
def test_a_lift_with_gear_behind_a_sign_is_no_word_for_that_gear(lexicon, line, lift, meant):
    legend = legend_of(lexicon, line)
    assert legend.terms == ()
    assert {one.part: one.value for one in legend.defaults} == meant
    assert {one.lift for one in legend.defaults} == {lift}


@pytest.mark.parametrize(
    "line",
    [
        "squat with nothing behind it = straight bar, low",
        "Kniebeuge ohne alles = gerade Stange, tief",
        "squat sans rien = barre droite, basse",
        "sentadilla sin nada = barra recta, baja",
        "squat senza niente = bilanciere dritto, basso",
        "agachamento sem nada = barra reta, baixa",
        "squat zonder iets = rechte stang, laag",
        "przysiad bez niczego = prosty gryf, niski",
        "knebøy uten noe = rett stang, lav",
        "squat uden noget = lige stang, lav (low bar)",
        "knäböj utan något = rak stång, låg",
    ],
)
def test_a_squat_with_nothing_beside_it(lexicon, line):
    found = {one.part: (one.value, one.bar) for one in legend_of(lexicon, line).defaults}
    assert found == {"bar": ("straight", None), "position": ("low", "straight")}


def test_a_place_told_of_squats_with_nothing_is_not_of_another_bar(read):
    legend = "squat uden noget = lige stang, lav.  kr = krum stang"
    text = f"Bo Ek 2026\n{legend}\n\nMan 2/3\nsquat: 60x5\nTor 5/3\nsquat kr: 60x5\n"
    found = [(one.bar, one.bar_position) for one in read({"noter.txt": text}).sets]
    assert found == [("straight", "low"), ("cambered", None)]


SIDES = [
    ("elbow = RIGHT elbow unless I say otherwise", "right"),
    ("elbow is always the right one", "right"),
    ("elbow = pain in the left elbow at the end, 0-10", "left"),
    ("Ellbogen = rechter Ellbogen, wenn nichts anderes steht", "right"),
    ("Ellbogen immer links, wenn nichts dabei steht", "left"),
    ("coude = coude droit sauf mention contraire", "right"),
    ("codo = codo derecho", "right"),
    ("gomito = destro se non scrivo altro", "right"),
    ("cotovelo = o direito salvo se disser outro", "right"),
    ("elleboog = rechts tenzij anders vermeld", "right"),
    ("łokieć = prawy, chyba że napiszę inaczej", "right"),
    ("albue = høyre albue når jeg ikke skriver annet", "right"),
    ("albue = HØJRE albue når jeg ikke skriver andet. 0-10, 0 er ingenting", "right"),
    ("armbåge = höger om inget annat står", "right"),
]


@pytest.mark.parametrize(("line", "side"), SIDES)
def test_the_usual_side_of_a_site(lexicon, line, side):
    assert [(one.site, one.side) for one in legend_of(lexicon, line).sides] == [("elbow", side)]


@pytest.mark.parametrize(
    "line",
    [
        "elbow = how sore the right and left were",
        "elbow: right 3",
        "elbow = right, left wrist the same",
        "wrist = the left one never hurts",
        "elbow hurts on the right when I squat",
        "R = right elbow",
    ],
)
def test_what_tells_no_usual_side(lexicon, line):
    assert legend_of(lexicon, line).sides == ()


@pytest.mark.parametrize("n_rows", [3, 2500])  # row by row, and by columns
def test_a_usual_side_goes_into_pain_that_names_none_and_is_said(read, n_rows):
    head = "elbow = right elbow unless I say otherwise\n\nDate;Name;Exercise;Kg;Reps;Elbow;Left elbow;Wrist\n"
    days = [f"2025-{1 + i % 12:02}-{1 + i % 28:02};Ada Berg;squat;{100 + i % 7};5;3;2;1\n" for i in range(n_rows)]
    logs = read({"log.csv": head + "".join(days)})
    found = {(one.site, one.side, one.rating) for one in logs.pain}
    assert found == {("elbow", "right", 3), ("elbow", "left", 2), ("wrist", "unknown", 1)}
    assert any(
        "side of the elbow" in told for file in logs.files for sheet in file.sheets for told in sheet.assumptions
    )
