"""Tables and forms of pain of any shape: what their columns hold tells what they are. Counted by hand.

Common practice, no published source.
"""

import pytest

from preflare.reading.text import words_of


def pains(logs):
    return [
        (one.athlete, one.date.day, one.site, one.side, one.rating, one.severity_word, one.moment) for one in logs.pain
    ]


SITES = [
    ("Körperstelle", "Ellenbogen", "re", "danach"),
    ("Body bit", "elbow", "R", "after"),
    ("Endroit du corps", "coude", "D", "après"),
    ("Sitio exacto", "codo", "Derecho", "Después"),
    ("Dolente", "gomito", "dx", "dopo"),
    ("Articulação", "cotovelo", "direito", "depois"),
    ("Welk gewricht", "elleboog", "rechts", "erna"),
    ("Staw", "łokieć", "prawy", "po"),
    ("Ledd", "albue", "høyre", "etter"),
    ("Led", "albue", "højre", "efter"),
    ("Ledmärke", "armbåge", "höger", "efter"),
]


@pytest.mark.parametrize(("heading", "site", "side", "moment"), SITES)
def test_columns_are_told_by_what_they_hold(read, heading, site, side, moment):
    text = f"Date,Name,{heading},Sd,0-10,Mm\n2026-01-05,Ada Berg,{site},{side},2,{moment}\n"
    text += f",Bo Lind,{site},{side},3,{moment}\n2026-01-06,,{site},{side},4,{moment}\n"
    assert pains(read({"pain.csv": text})) == [
        ("Ada Berg", 5, "elbow", "right", 2, None, "after"),
        ("Bo Lind", 5, "elbow", "right", 3, None, "after"),
        ("Bo Lind", 6, "elbow", "right", 4, None, "after"),
    ]


@pytest.mark.parametrize(
    "heading", ["¿Qué día entrenaste?", "Für welchen Tag?", "Training of", "Pour la séance du", "Which day"]
)
def test_a_day_in_a_form_goes_before_its_time_stamp(read, heading):
    text = f"Timestamp,Name,{heading},Where,Side,Rating,When\n"
    text += "2026-01-13 08:05:12,Ada Berg,2026-01-12,elbow,right,5,next morning\n"
    text += "2026-01-15 19:05:12,Ada Berg,,elbow,right,2,after\n"
    assert [(one[1], one[4], one[6]) for one in pains(read({"form.csv": text}))] == [
        (12, 5, "next morning"),
        (15, 2, "after"),
    ]


def test_a_day_years_from_the_time_stamp_is_set_aside(read):
    text = "Timestamp,Name,Which day,Where,Side,Rating,When\n"
    for hour, day in (("2026-01-13 19:05", "2008-09-05"), ("2026-01-14 19:05", "2026-01-14"), ("2026-01-15 19:05", "")):
        text += f"{hour},Ada Berg,{day},elbow,right,2,after\n"
    logs = read({"form.csv": text})
    assert [one[1] for one in pains(logs)] == [14, 15]
    assert [one.place.row for one in logs.rejected] == [2]


@pytest.mark.parametrize(
    "words",
    [
        "No me duele nada",
        "nothing hurts",
        "nichts tut weh",
        "rien ne fait mal",
        "niente fa male",
        "nada dói",
        "niets doet pijn",
        "nic nie boli",
        "ingenting gjør vondt",
        "inget gör ont",
        "none",
        "no pain",
        "schmerzfrei",
        "nowhere",
        "nirgends",
        "nulle part",
    ],
)
@pytest.mark.parametrize("rating", ["0", ""])
def test_nothing_hurts_in_the_column_of_sites_is_no_pain_at_no_certain_site(read, words, rating):
    text = "Date,Name,Where,Side,Rating,When\n2026-01-05,Ada Berg,elbow,left,2,after\n"
    text += f"2026-01-06,Ada Berg,{words},,{rating},after\n"
    logs = read({"form.csv": text})
    assert pains(logs)[1:] == [("Ada Berg", 6, "unknown", "unknown", 0, None, "after")]
    assert not logs.rejected


def test_two_sites_and_one_rating_are_set_aside_unless_each_has_its_side_or_all_is_well(read):
    text = 'Date,Name,Where,Side,Rating,When\n2026-01-05,Ada Berg,"elbow, shoulder",left,3,after\n'
    text += '2026-01-06,Ada Berg,"elbow, shoulder",left,0,after\n'
    text += '2026-01-07,Ada Berg,"left elbow, right wrist",,2,after\n'
    logs = read({"form.csv": text})
    assert [(one[1], one[2], one[4]) for one in pains(logs)] == [
        (6, "elbow", 0),
        (6, "shoulder", 0),
        (7, "elbow", 2),
        (7, "wrist", 2),
    ]
    assert [one.place.row for one in logs.rejected] == [2]


def test_a_column_a_site_with_its_side(read):
    text = "Date,Name,Elbow L,Elbow R,Upper arm,Wrist (left)\n2026-01-05,Ada Berg,1,2,,4\n"
    assert [one[2:5] for one in pains(read({"pain.csv": text}))] == [
        ("elbow", "left", 1),
        ("elbow", "right", 2),
        ("wrist", "left", 4),
    ]


@pytest.mark.parametrize(
    "cells",
    [
        "right elbow,4",
        "elbow R,4",
        "Ellenbogen re,4",
        "coude D,4",
        "codo dcho,4",
        "gomito dx,4",
        "łokieć P,4",
        "elbow (right),4",
    ],
)
def test_the_side_within_the_cell_of_the_site(read, cells):
    text = f"Date,Name,Where,Rating\n2026-01-05,Ada Berg,{cells}\n"
    assert [one[2:5] for one in pains(read({"pain.csv": text}))] == [("elbow", "right", 4)]


@pytest.mark.parametrize(
    ("word", "known"),
    [
        ("leicht", "mild"),
        ("mittel", "moderate"),
        ("stark", "severe"),
        ("légère", "mild"),
        ("moderada", "moderate"),
        ("forte", "severe"),
        ("licht", "mild"),
        ("łagodny", "mild"),
        ("sterk", "severe"),
        ("svag", "mild"),
        ("strong", "severe"),
    ],
)
def test_ratings_in_words(read, word, known):
    text = f"Date,Name,Where,Side,How bad\n2026-01-05,Ada Berg,elbow,left,{word}\n2026-01-06,Ada Berg,elbow,left,3\n"
    assert [one[4:6] for one in pains(read({"pain.csv": text}))] == [(None, known), (3, None)]


@pytest.mark.parametrize(
    ("note", "side", "moment"),
    [
        ("Knie li leicht, währenddessen", "left", "during"),
        ("knee left mild, during", "left", "during"),
        ("genou g léger, pendant", "left", "during"),
        ("L knee mild", "left", "after"),
        ("ginocchio sx lieve", "left", "after"),
    ],
)
def test_site_side_and_a_severity_word_are_a_report(read, note, side, moment):
    text = f'Date,Name,Exercise,kg,Reps,Note\n2026-01-05,Ada Berg,squat,60,5,"{note}"\n'
    assert [one[2:] for one in pains(read({"log.csv": text}))] == [("knee", side, None, "mild", moment)]


def test_a_yes_or_no_question_beside_its_rating(read):
    text = "Date,Name,Any elbow pain?,How bad,Side,Comment\n"
    text += "2026-01-05,Ada Berg,yes,4,left,\n2026-01-06,Ada Berg,no,,,\n"
    logs = read({"pain.csv": text})
    assert [one[1:5] for one in pains(logs)] == [(5, "elbow", "left", 4), (6, "elbow", "unknown", 0)]


def test_a_sheet_of_pain_with_a_comment_that_names_what_is_in_its_columns_already(read):
    text = "Date,Name,Where,Side,Rating,Comment\n2026-01-05,Ada Berg,elbow,left,4,elbow again\n"
    assert len(read({"pain.csv": text}).pain) == 1


ARM_BY_THE_ELBOW = [
    ("arm above the elbow", "arm below the elbow"),
    ("Arm oberhalb des Ellbogens", "Arm unter dem Ellbogen"),
    ("bras au-dessus du coude", "bras sous le coude"),
    ("brazo por encima del codo", "brazo por debajo del codo"),
    ("braccio sopra il gomito", "braccio sotto il gomito"),
    ("braço acima do cotovelo", "braço abaixo do cotovelo"),
    ("arm boven de elleboog", "arm onder de elleboog"),
    ("ręka powyżej łokcia", "ręka poniżej łokcia"),
    ("arm over albuen", "arm under albuen"),
    ("arm oven for albuen", "arm neden for albuen"),
    ("arm ovanför armbågen", "arm nedanför armbågen"),
]


@pytest.mark.parametrize(("above", "below"), ARM_BY_THE_ELBOW)
def test_the_arm_on_one_side_of_the_elbow_is_one_place(lexicon, above, below):
    assert {hit for _, _, hit in lexicon.site.find(words_of(above))} == {"upper arm"}
    assert {hit for _, _, hit in lexicon.site.find(words_of(below))} == {"forearm"}
