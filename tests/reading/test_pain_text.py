"""What people write of pain, text by text: cells under a heading that asks for it, lines of a diary, and remarks.

The readings were made by hand, as a careful person would read them. Common practice, no published source.
"""

from datetime import date

import pytest

from preflare.reading.pain_said import Said
from preflare.reading.pain_text import read_pain, said_by_line

ELBOW = Said(is_asked=True, sites=("elbow",))


def told(text, lexicon, said=ELBOW):
    """(site, side, rating or word, moment) of each report."""
    return [
        (one.site, one.side, one.rating if one.rating is not None else one.severity, one.moment)
        for one in read_pain(text, lexicon, said).reports
    ]


def elbow(side, rating, moment=None):
    return ("elbow", side, rating, moment)


R, L, B, U = "right", "left", "both", "unknown"

# Sides before or behind the rating, in letters and words of eleven languages.
SIDES = [
    ("R 3", R), ("3 R", R), ("L3", L), ("3 left", L), ("left: 3", L), ("rt 3", R), ("3 (R)", R), ("both 3", B),
    ("re 3", R), ("3 li", L), ("links 3", L), ("bds. 3", B), ("beidseits 3", B), ("rechts: 3", R),
    ("D 3", R), ("3 G", L), ("droit 3", R), ("gauche 3", L), ("les deux 3", B),
    ("der 3", R), ("3 izq.", L), ("dcho 3", R), ("izdo 3", L), ("ambos 3", B), ("I 3", L),
    ("dx 3", R), ("3 sx", L), ("destro 3", R), ("entrambi 3", B),
    ("dir 3", R), ("3 esq", L), ("E 3", L), ("os dois 3", B),
    ("rechts 3", R), ("linker 3", L), ("allebei 3", B),
    ("P 3", R), ("3 P", R), ("prawy 3", R), ("lewy: 3", L), ("oba 3", B),
    ("hø. 3", R), ("ve 3", L), ("høyre 3", R), ("begge 3", B), ("h 3", R), ("v. 3", L),
    ("højre 3", R), ("3 venstre", L), ("hö 3", R), ("vä 3", L), ("båda 3", B),
    ("R and L 3", B), ("R/L 3", B), ("re + li 3", B), ("G et D 3", B), ("dx e sx 3", B), ("P i L 3", B),
]  # fmt: skip


@pytest.mark.parametrize(("text", "side"), SIDES)
def test_a_side_before_or_behind_its_rating(lexicon, text, side):
    assert told(text, lexicon) == [elbow(side, 3)]


@pytest.mark.parametrize(
    "text",
    [
        "R 3 L 1", "R3 L1", "R3/L1", "R: 3, L: 1", "3 R, 1 L", "3R 1L", "right 3 left 1", "right 3 and left 1",
        "R 3 + L 1",
        "R=3; L=1", "R 3\nL 1", "L 1 R 3", "re 3 / li 1", "re 3, li 1", "re. 3 li. 1", "rechts 3 und links 1",
        "D 3  G 1", "D: 3 / G: 1", "droit 3, gauche 1", "der 3, izq 1", "D 3 I 1", "derecho 3 y izquierdo 1",
        "dx 3, sx 1", "dx 3 sx 1", "dx 3 - sx 1", "3 dx e 1 sx", "D 3, E 1", "dir 3 esq 1", "direito 3 e esquerdo 1",
        "rechts 3 en links 1", "P 3, L 1", "P3 L1", "prawy 3 i lewy 1", "h 3 v 1", "H 3, V 1", "høyre 3 og venstre 1",
        "højre 3, venstre 1", "hö 3 vä 1", "höger 3 och vänster 1", "R elbow 3, L elbow 1", "elbow R 3 L 1",
        "R 3/10 L 1/10", "3R/1L", "3 R/1 L", "3/10 right, 1/10 left", "dx 3/10; sx 1/10",
    ],
)  # fmt: skip
def test_two_sides_in_one_cell_are_two_reports(lexicon, text):
    assert sorted(told(text, lexicon)) == [elbow(L, 1), elbow(R, 3)]


@pytest.mark.parametrize(
    ("text", "rating"),
    [
        ("2-3", 3), ("2–3", 3), ("2 to 3", 3), ("2 bis 3", 3), ("2 à 3", 3), ("2 a 3", 3), ("2 do 3", 3),
        ("2 til 3", 3),
        ("2 till 3", 3), ("2 tot 3", 3), ("2 or 3", 3), ("2 oder 3", 3), ("2-3/10", 3), ("2/10-3/10", 3), ("R 2-3", 3),
        ("2-3 re", 3), ("2.5", 2.5), ("2,5 li", 2.5), ("2½", 2.5), ("L 2,5", 2.5),
    ],
)  # fmt: skip
def test_ranges_give_the_higher_and_halves_stay(lexicon, text, rating):
    assert [one[2] for one in told(text, lexicon)] == [rating]


@pytest.mark.parametrize(
    "text",
    ["4/10", "4 / 10", "4 out of 10", "4 von 10", "4 sur 10", "4 de 10", "4 su 10", "4 em 10", "4 op 10", "4 na 10",
     "4 av 10", "4 af 10", "ca. 4", "about 4", "etwa 4", "environ 4", "circa 4", "około 4", "~4", "max 4", "nivel 4"],
)  # fmt: skip
def test_scales_and_words_that_lead_to_a_rating(lexicon, text):
    assert told(text, lexicon) == [elbow(U, 4)]


@pytest.mark.parametrize(
    ("text", "side"),
    [
        ("3 anzi 4", U), ("3, anzi 4", U), ("3 no, 4", U), ("3, no 4 (sorry)", None), ("4 (not 5)", U), ("4, not 5", U),
        ("3 - actually 4", U), ("3 eher 4", U), ("3, nein, 4", U), ("4 nicht 5", U), ("3 non, 4", U), ("3 plutôt 4", U),
        ("4 pas 5", U), ("3, mejor dicho 4", U), ("3, digo 4", U), ("3 aliás 4", U), ("3, nee, 4", U), ("4 niet 5", U),
        ("3 raczej 4", U), ("3, nie, 4", U), ("3 nei, 4", U), ("ups, 4 ikke 5", U), ("3, nej 4", U), ("3 snarare 4", U),
        ("dx 3 anzi 4", R), ("R 3, sorry, 4", R), ("re 3, korr. 4", R), ("(korr.) 4", U),
    ],
)  # fmt: skip
def test_a_correction_counts_and_what_it_corrects_does_not(lexicon, text, side):
    reports = told(text, lexicon)
    assert reports == ([elbow(side, 4)] if side else [])


ZERO = [
    "none", "no", "no pain", "pain free", "zero", "0", "0/10", "nothing", "nil", "fine", "ok", "all good",
    "no elbow pain",
    "keine", "keine Schmerzen", "kein Schmerz", "schmerzfrei", "nichts", "alles gut", "keine Schmerzen mehr",
    "aucune", "aucune douleur", "pas de douleur", "rien", "rien à signaler", "RAS", "nada", "sin dolor", "ningún dolor",
    "no tengo dolor", "no duele", "niente", "niente dolore", "nessun dolore", "a posto", "tutto ok", "nada", "sem dor",
    "nenhuma dor", "tudo bem", "não dói", "geen", "geen pijn", "pijnvrij", "niets", "brak", "bez bólu", "nie boli",
    "nic nie boli", "w porządku", "ingen", "ingen smerter", "smertefri", "ikke vondt", "ingen", "ingen smerte",
    "ikke ondt", "ingen", "ingen smärta", "inget ont", "inte ont", "smärtfri",
]  # fmt: skip


@pytest.mark.parametrize("text", list(dict.fromkeys(ZERO)))
def test_words_for_none_are_a_rating_of_0(lexicon, text):
    assert told(text, lexicon) == [elbow(U, 0)]


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("mild", "mild"), ("moderate", "moderate"), ("severe", "severe"), ("leicht", "mild"), ("mittel", "moderate"),
        ("stark", "severe"), ("légère", "mild"), ("modérée", "moderate"), ("forte", "severe"), ("leve", "mild"),
        ("moderado", "moderate"), ("fuerte", "severe"), ("lieve", "mild"), ("moderato", "moderate"),
        ("ligeira", "mild"),
        ("licht", "mild"), ("matig", "moderate"), ("hevig", "severe"), ("lekki", "mild"), ("umiarkowany", "moderate"),
        ("silny", "severe"), ("lett", "mild"), ("sterk", "severe"), ("let", "mild"), ("stærk", "severe"),
        ("lätt", "mild"),
        ("måttlig", "moderate"), ("leichte Schmerzen", "mild"), ("dolor leve", "mild"), ("douleur légère", "mild"),
        ("lekki ból", "mild"), ("lett smerte", "mild"), ("mild pain", "mild"),
    ],
)  # fmt: skip
def test_words_for_how_much_stay_words(lexicon, text, word):
    assert told(text, lexicon) == [elbow(U, word)]


@pytest.mark.parametrize(
    ("text", "side", "word"),
    [("bds. leicht", B, "mild"), ("L mild", L, "mild"), ("licht li", L, "mild"), ("sx moderato", L, "moderate"),
     ("D légère", R, "mild"), ("P lekki", R, "mild"), ("izq leve", L, "mild"), ("hö lätt", R, "mild")],
)  # fmt: skip
def test_words_for_how_much_with_their_side(lexicon, text, side, word):
    assert told(text, lexicon) == [elbow(side, word)]


@pytest.mark.parametrize(
    ("text", "report"),
    [("3, li", elbow(L, 3)), ("3, R", elbow(R, 3)), ("mild, left", elbow(L, "mild")),
     ("3, after", elbow(U, 3, "after")), ("R 3, nachher", elbow(R, 3, "after"))],
)  # fmt: skip
def test_a_side_or_moment_behind_a_comma_is_that_of_the_rating_before(lexicon, text, report):
    assert told(text, lexicon) == [report]


def test_words_and_ratings_for_two_sides(lexicon):
    assert told("R 3, L none", lexicon) == [elbow(R, 3), elbow(L, 0)]
    assert told("re leicht / li 0", lexicon) == [elbow(R, "mild"), elbow(L, 0)]
    assert told("dx lieve, sx niente", lexicon) == [elbow(R, "mild"), elbow(L, 0)]


@pytest.mark.parametrize(
    ("text", "reports"),
    [
        ("elbow 3, wrist 1", [("elbow", U, 3, None), ("wrist", U, 1, None)]),
        ("elbow 3 wrist 1", [("elbow", U, 3, None), ("wrist", U, 1, None)]),
        ("wrist 2", [("wrist", U, 2, None)]),
        ("spalla 3", [("shoulder", U, 3, None)]),
        ("Handgelenk li 2", [("wrist", L, 2, None)]),
        ("3, wrist R 1", [("elbow", U, 3, None), ("wrist", R, 1, None)]),
        ("codo D 3, muñeca I 1", [("elbow", R, 3, None), ("wrist", L, 1, None)]),
        ("coude 3 et poignet 1", [("elbow", U, 3, None), ("wrist", U, 1, None)]),
        ("łokieć P 3; bark L 2", [("elbow", R, 3, None), ("shoulder", L, 2, None)]),
        ("albue h 3 underarm h 2", [("elbow", R, 3, None), ("forearm", R, 2, None)]),
        ("armbåge 3, handled 1", [("elbow", U, 3, None), ("wrist", U, 1, None)]),
        ("cotovelo E 3 / ombro E 1", [("elbow", L, 3, None), ("shoulder", L, 1, None)]),
    ],
)
def test_sites_that_a_cell_names_go_before_its_heading(lexicon, text, reports):
    assert told(text, lexicon) == reports


@pytest.mark.parametrize(
    "text",
    [
        "before 2 after 4", "2 before, 4 after", "2 before 4 after", "before: 2, after: 4", "pre 2 post 4",
        "vorher 2 nachher 4", "vorher 2, nachher 4", "vor 2 / nach 4", "avant 2, après 4", "avant 2 après 4",
        "antes 2, después 4", "prima 2 dopo 4", "prima 2, dopo 4", "antes 2 depois 4", "vooraf 2, erna 4",
        "przed 2, po 4",
        "før 2, etter 4", "før 2 efter 4", "före 2, efter 4", "innan 2 efter 4",
    ],
)  # fmt: skip
def test_two_moments_in_one_cell(lexicon, text):
    assert told(text, lexicon) == [elbow(U, 2, "before"), elbow(U, 4, "after")]


@pytest.mark.parametrize(
    "text",
    [
        "no idea", "no change", "keine Änderung", "keine Ahnung", "not bad", "nicht schlimm", "better", "besser",
        "weniger",
        "4?", "less than 3", "weniger als 3", "moins de 3", "3 -> 4", "3/5", "5-2", "0-10", "R", "yes", "ja", "sí",
        "weird",
        "komisch", "bizarre", "raro", "strano", "estranho", "raar", "dziwny", "rar", "konstig", "3 days", "3 Tage",
        "2 semaines", "10 min", "3 sets", "see notes", "siehe unten", "gone", "weg", "same", "no worse", "3 no 4",
        "yesterday 3", "gestern 3", "hier 4", "wenn 3", "if 3 stop", "since 3", "5 3", "R R 3 2", "100 kg", "5x3", "@8",
        "RPE 8", "19:30", "3.10.", "week 3", "Satz 3", "set 2", "partner 3", "my mate's elbow 4",
        "3, 5", "R 2, 5", "3+", "re>li 3", "vorh. 3", "gestern, 3", "n/a", "less, 3", "3 / 1", "sx 2, 5",
    ],
)  # fmt: skip
def test_what_is_no_certain_rating_is_asked_about(lexicon, text):
    read = read_pain(text, lexicon, ELBOW)
    assert read.reports == []
    assert read.doubts


@pytest.mark.parametrize(("text", "kept"), [("D 12  G 0", [elbow(L, 0)]), ("re 13", []), ("R 2, L 11", [elbow(R, 2)])])
def test_a_rating_above_10_is_set_aside_alone(lexicon, text, kept):
    read = read_pain(text, lexicon, ELBOW)
    assert told(text, lexicon) == kept
    assert ["outside" in one.reason for one in read.doubts] == [True]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("R dx 2, sx 0 - D 0", [("Renzo", R, 2), ("Renzo", L, 0), ("Dario", U, 0)]),
        ("R dx 3 anzi 4 - D sx 1", [("Renzo", R, 4), ("Dario", L, 1)]),
        ("R 0 - D sx moderato", [("Renzo", U, 0), ("Dario", L, "moderate")]),
        ("R dx 2, D sx 2", [("Renzo", R, 2), ("Dario", L, 2)]),
        ("R: 3, D: 1", [("Renzo", U, 3), ("Dario", U, 1)]),
        ("R 3 D 1", [("Renzo", U, 3), ("Dario", U, 1)]),
        ("Renzo 3 / Dario niente", [("Renzo", U, 3), ("Dario", U, 0)]),
        ("D a posto. R dx 2", [("Dario", U, 0), ("Renzo", R, 2)]),
    ],
)
def test_several_people_in_one_line(lexicon, text, expected):
    people = {"R": "Renzo", "D": "Dario", "Renzo": "Renzo", "Dario": "Dario"}
    read = read_pain(text, lexicon, Said(is_asked=True, sites=("elbow",), people=people))
    assert [
        (one.person, one.side, one.severity if one.rating is None else one.rating) for one in read.reports
    ] == expected


@pytest.mark.parametrize("text", ["R dx 2", "D sx 3", "Gomiti: R dx 2 - D sx 1"])
def test_a_letter_beside_a_side_in_words_may_be_a_person_and_is_asked_about(lexicon, text):
    read = read_pain(text, lexicon, ELBOW)
    assert (read.reports, len(read.doubts) > 0) == ([], True)


@pytest.mark.parametrize(
    ("text", "pairs", "expected"),
    [
        ("3/1", (R, L), [elbow(R, 3), elbow(L, 1)]), ("3 / 1", (L, R), [elbow(L, 3), elbow(R, 1)]),
        ("2|4", ("before", "after"), [elbow(U, 2, "before"), elbow(U, 4, "after")]), ("4/10", (R, L), []),
        ("R 3", (R, L), [elbow(R, 3)]),
    ],
)  # fmt: skip
def test_two_ratings_under_a_heading_that_names_two(lexicon, text, pairs, expected):
    assert told(text, lexicon, Said(is_asked=True, sites=("elbow",), pairs=pairs)) == expected


# Lines of a diary that are kept for pain ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("Gomiti: dx 2, sx 0", [elbow(R, 2), elbow(L, 0)]),
        ("coude ap. D 3-4  G 1", [elbow(R, 4, "after"), elbow(L, 1, "after")]),
        ("Elbow: R 3 L 1", [elbow(R, 3), elbow(L, 1)]),
        ("elbows after: 2", [elbow(U, 2, "after")]),
        ("Ellbogen nachher: re 3 / li 0", [elbow(R, 3, "after"), elbow(L, 0, "after")]),
        ("Ból łokcia: P 3, L 0", [elbow(R, 3), elbow(L, 0)]),
        ("armbåge h 3 v 1", [elbow(R, 3), elbow(L, 1)]),
        ("albue før: h 1 / v 0", [elbow(R, 1, "before"), elbow(L, 0, "before")]),
        ("codo: der 3, izq nada", [elbow(R, 3), elbow(L, 0)]),
        ("Dor cotovelo (0-10): D 2 E 0", [elbow(R, 2), elbow(L, 0)]),
        ("elleboog: re 2, li geen", [elbow(R, 2), elbow(L, 0)]),
        ("Elbow pain 0-10: none", [elbow(U, 0)]),
    ],
)
def test_a_line_that_begins_with_a_site_asks_for_pain(lexicon, line, expected):
    found = said_by_line(line, lexicon)
    assert found is not None
    assert told(found[1], lexicon, found[0]) == expected


def test_a_line_that_begins_with_a_moment_goes_on_with_the_line_above(lexicon):
    assert said_by_line("next morning: R 4", lexicon) is None
    found = said_by_line("next morning: R 4", lexicon, ELBOW)
    assert found is not None
    assert told(found[1], lexicon, found[0]) == [elbow(R, 4, "next morning")]


@pytest.mark.parametrize(
    "line",
    ["Squat 5x3 @140", "biceps 3x10", "back squat 100", "Bench: 60x8", "note: elbow 3", "press: 3x5", "curls 3x12",
     "shoulder press 3x8", "Panca", "elbow", "legs: 5", "Beine: 7"],
)  # fmt: skip
def test_other_lines_do_not(lexicon, line):
    found = said_by_line(line, lexicon)
    assert found is None or read_pain(found[1], lexicon, found[0]).reports == []


# Remarks -----------------------------------------------------------------------------------------------------------

REMARKS = [
    ("L wrist 3 before she started, strapped it", [("wrist", L, 3, "before")]),
    ("R shoulder mild during the pulls", [("shoulder", R, "mild", "during")]),
    ("right elbow 4 during squats, 3 after. think its the low bar", [elbow(R, 4, "during"), elbow(R, 3, "after")]),
    ("R elbow 3-4 after, R upper arm 2 too", [elbow(R, 4, "after"), ("upper arm", R, 2, "after")]),
    ("R elbow 1 before, 2 after", [elbow(R, 1, "before"), elbow(R, 2, "after")]),
    ("R elbow 2/10 next am", [elbow(R, 2, "next morning")]),
    ("Next a.m. R elbow 6, L elbow 1.", [elbow(R, 6, "next morning"), elbow(L, 1, "next morning")]),
    ("elbow (R) moderate after chins", [elbow(R, "moderate", "after")]),
    ("no pain in either elbow", [elbow(B, 0)]),
    ("elbow fine, no pain", [elbow(U, 0)]),
    ("mild pain left shoulder before we started", [("shoulder", L, "mild", "before")]),
    ("Lower back 3 during the good mornings.", [("back", U, 3, "during")]),
    ("left elbow 3, right elbow 1", [elbow(L, 3), elbow(R, 1)]),
    ("elbow and wrist 3/10 after", [elbow(U, 3, "after"), ("wrist", U, 3, "after")]),
    ("Schulter re 3 vor dem Training, nachher weg", [("shoulder", R, 3, "before")]),
    ("leichter Schmerz Oberarm re beim Bankdrücken", [("upper arm", R, "mild", "during")]),
    ("keine Ellbogenschmerzen mehr", [elbow(U, 0)]),
    ("Knie li leicht, währenddessen", [("knee", L, "mild", "during")]),
    ("Ellenbogen re 4 beim letzten Satz", [elbow(R, 4, "during")]),
    ("der Ellenbogen schmerzt, 3/10", [elbow(U, 3)]),
    ("Ellenbogen tut nicht weh", [elbow(U, 0)]),
    ("Handgelenk li 4/10 nach den Frontkniebeugen", [("wrist", L, 4, "after")]),
    ("mardi matin, coude D encore 3/10", [elbow(R, 3, "next morning")]),
    ("jeudi matin : coude D 1/10, avant-bras D 2/10", [elbow(R, 1, "next morning"), ("forearm", R, 2, "next morning")]),
    ("douleur légère au biceps G pendant les curls", [("upper arm", L, "mild", "during")]),
    ("poignet D douleur modérée après le squat avant", [("wrist", R, "moderate", "after")]),
    ("coude correct, aucune douleur", [elbow(U, 0)]),
    ("épaule G 3/10 avant de commencer, partie après l'échauffement", [("shoulder", L, 3, "before")]),
    ("mal à l'épaule droite 4/10", [("shoulder", R, 4, None)]),
    ("dolor leve en el antebrazo der. después del press", [("forearm", R, "mild", "after")]),
    ("hombro izq 3/10 durante el press", [("shoulder", L, 3, "during")]),
    ("sin dolor de codo antes de empezar", [elbow(U, 0, "before")]),
    ("a la mañana siguiente codo dcho 3", [elbow(R, 3, "next morning")]),
    ("bicipite dx lieve durante le trazioni", [("upper arm", R, "mild", "during")]),
    ("la mattina dopo spalla dx 4/10", [("shoulder", R, 4, "next morning")]),
    ("gomiti a posto, nessun dolore", [elbow(U, 0)]),
    ("fastidio all'avambraccio dx 2", [("forearm", R, 2, None)]),
    ("lombar 3 durante o terra", [("back", U, 3, "during")]),
    ("dor no cotovelo direito 4 depois", [elbow(R, 4, "after")]),
    ("antebraço D leve depois da rosca", [("forearm", R, "mild", "after")]),
    ("re elleboog matig tijdens", [elbow(R, "moderate", "during")]),
    ("li onderarm 3 erna", [("forearm", L, 3, "after")]),
    ("geen pijn elleboog", [elbow(U, 0)]),
    ("nadgarstek L 3 jeszcze przed treningiem", [("wrist", L, 3, "before")]),
    ("bark P 2 w trakcie przysiadów", [("shoulder", R, 2, "during")]),
    ("rano następnego dnia łokieć L 4", [elbow(L, 4, "next morning")]),
    ("łokcie w porządku, nic nie boli", [elbow(U, 0)]),
    ("høyre skulder 3 etterpå", [("shoulder", R, 3, "after")]),
    ("venstre kne mild smerte underveis", [("knee", L, "mild", "during")]),
    ("hø. skulder 3 under bænken", [("shoulder", R, 3, "during")]),
    ("ve. underarm let smerte før opvarmning", [("forearm", L, "mild", "before")]),
    ("ingen smerter i albuen mere :)", [elbow(U, 0)]),
    ("vänster armbåge 2/10 efteråt", [elbow(L, 2, "after")]),
    ("inget ont i armbågen", [elbow(U, 0)]),
    ("forearm pain L 2 R 3 after rows", [("forearm", L, 2, "after"), ("forearm", R, 3, "after")]),
    ("codo derecho molesta 3", [elbow(R, 3)]),
    ("cotovelo direito incomodou 3", [elbow(R, 3)]),
    ("elleboog re zeurt, 3/10", [elbow(R, 3)]),
    ("gomito ok spalla sx 3", [("shoulder", L, 3, None)]),
    ("no elbow pain, wrist 3/10", [elbow(U, 0), ("wrist", U, 3, None)]),
    ("bench 3x5 elbow 3/10", [elbow(U, 3)]),
    ("RPE 9, elbow 3", [elbow(U, 3)]),
    ("> genou G 4/10 dans les escaliers", [("knee", L, 4, None)]),
    ("nästa morgon h armbåge 1/10", [elbow(R, 1, "next morning")]),
]


@pytest.mark.parametrize(("text", "reports"), REMARKS)
def test_remarks(lexicon, text, reports):
    assert told(text, lexicon, Said()) == reports


@pytest.mark.parametrize(
    "text",
    [
        "dos ok, courbatures jambes 5/10", "quads sore 6/10", "Muskelkater Beine 6", "spierpijn benen 7",
        "zakwasy czwórki 6",
        "ømme lår efter kampen, 5", "lower back tight, 3", "schiena rigida 4", "hamstrings sore 5/10",
        "pernas doloridas",
        "elbow a bit funny again", "albuen lidt underlig igen", "coude un peu bizarre", "gomito un po' strano",
        "łokieć trochę dziwny", "codo raro otra vez", "Ellbogen irgendwie komisch", "forearms bit pumped",
        "elbow hated it",
        "elbow better than last week 3", "elbow less than 3/10", "if the elbow gets to 4 we stop",
        "si ça aide le coude",
        "elbow sleeves 3 weeks old", "elbow pain for 3 days", "1 hour of elbow rehab", "elbow rehab 3x15",
        "RPE 8 elbow ok",
        "elbow ok", "codo bien", "coude correct", "bras aussi un peu", "elbow 3 to 5 weeks", "back 2 back 5s",
        "back squat 4/10",
        "arm day 3", "shoulder press 3", "on 3/10 the elbow was taped", "elbow 12", "not more than elbow 4",
        "legs 7/10 tired",
        "her partner's elbow 5/10", "elbow taped, 100 kg", "curls 3, elbow taped", "Ellenbogen getaped, 3 Sätze",
        "physio for the elbow on Friday", "no more elbow sleeves", "elbow 3?",
        "no worse elbow pain", "narrow grip, elbow angle 90", "top set 8/10", "slept 4/10", "mood 3/10, elbow taped",
        "yesterday, elbow 3/10", "gestern: Ellbogen 3/10", "hier, coude D 3/10", "ayer, codo 3", "ieri, gomito 3/10",
        "Douleur coude D /10", "elbow pain /10", "Gomiti: R 0 - D sx 3",
        "#3 elbow", "elbow hurts more than wrist, 4", "elbow 45 degrees",
        "elbow 6/10 yesterday, 3/10 today", "elbow 2→4",
    ],
)  # fmt: skip
def test_no_report_from_these(lexicon, text):
    assert told(text, lexicon, Said()) == []


MONDAY = date(2026, 9, 14)


@pytest.mark.parametrize(
    ("text", "moment"),
    [
        ("mardi matin, coude D 3/10", "next morning"), ("Tuesday morning R elbow 3", "next morning"),
        ("Tue am R elbow 3", "next morning"), ("wtorek rano łokieć P 3", "next morning"),
        ("dinsdag ochtend elleboog re 3", "next morning"), ("martes por la mañana codo der 3", "next morning"),
        ("lundi matin coude D 3/10", "before"), ("Monday morning R elbow 3/10", "before"),
        ("genou G 2/10 le matin", "unknown"), ("elbow 3/10 in the morning", "unknown"),
    ],
)  # fmt: skip
def test_a_morning_goes_by_its_weekday(lexicon, text, moment):
    assert [one[3] for one in told(text, lexicon, Said(day=MONDAY))] == [moment]


@pytest.mark.parametrize(
    "text",
    [
        "Friday R elbow 3/10",
        "vendredi matin, coude D 3/10",
        "Friday, R elbow 3/10",
        "am Samstag Ellenbogen re 3/10",
        "vendredi matin coude D 3/10",
    ],
)
def test_another_day_is_none_of_this(lexicon, text):
    assert told(text, lexicon, Said(day=MONDAY)) == []


def test_names_in_a_remark_say_whose_it_is(lexicon):
    said = Said(people={"Theo": "Theo Ashby"})
    read = read_pain("R elbow 5 during, 5 after, ugh. Theo both elbows 2 after", lexicon, said)
    assert [(one.person, one.side, one.rating) for one in read.reports] == [
        (None, R, 5), (None, R, 5), ("Theo Ashby", B, 2)
    ]  # fmt: skip


# In a log ------------------------------------------------------------------------------------------------------------

LOG = "Date,Name,Exercise,Load,Reps,{}\n2026-01-05,Ada Berg,squat,100,5,{}\n"


def brief(logs):
    return [
        (one.site, one.side, one.severity_word if one.rating is None else one.rating, one.moment) for one in logs.pain
    ]


@pytest.mark.parametrize(
    ("heading", "cell", "expected"),
    [
        ("Elbow pain", "R 3 L 1", [elbow(R, 3, "after"), elbow(L, 1, "after")]),
        ("Ellenbogen Schmerz", "re 3-4 / li 0", [elbow(R, 4, "after"), elbow(L, 0, "after")]),
        ("Elbow pain R/L", "3/1", [elbow(R, 3, "after"), elbow(L, 1, "after")]),
        ("Łokieć L/P (0-10)", "2/3", [elbow(L, 2, "after"), elbow(R, 3, "after")]),
        ("Elbow pain left/right", "3/1", [elbow(L, 3, "after"), elbow(R, 1, "after")]),
        ("Elbow pain before/after", "1/3", [elbow(U, 1, "before"), elbow(U, 3, "after")]),
        ("Elbow pain right", "3", [elbow(R, 3, "after")]),
        ("Elbow pain right", "3-4", [elbow(R, 4, "after")]),
        ("Elbow pain right", "none", [elbow(R, 0, "after")]),
        ("Elbow pain right", "wrist 2", [("wrist", R, 2, "after")]),
        ("Dolore gomito", "dx 3 anzi 4", [elbow(R, 4, "after")]),
        ("Elbow pain", "2.5", [elbow(U, 2.5, "after")]),
        ("Pain", "3 R", [("unknown", R, 3, "after")]),
        ("Pain", "elbow R 3, wrist R 1", [elbow(R, 3, "after"), ("wrist", R, 1, "after")]),
    ],
)
def test_cells_of_a_log(read, heading, cell, expected):
    assert brief(read({"log.csv": LOG.format(heading, f'"{cell}"')})) == expected


@pytest.mark.parametrize("cell", ["no change", "4?", "5-2", "3 -> 4", "R", "not bad", "R dx 2"])
def test_a_doubtful_cell_is_set_aside_with_what_to_do(read, cell):
    logs = read({"log.csv": LOG.format("Elbow pain", cell)})
    assert logs.pain == []
    assert [(one.value, one.place.column, bool(one.remedy)) for one in logs.rejected] == [(cell, "F", True)]


def test_a_rating_above_10_beside_a_good_one_is_set_aside_alone(read):
    logs = read({"log.csv": LOG.format("Elbow pain", "R 12 L 1")})
    assert brief(logs) == [elbow(L, 1, "after")]
    assert [one.value for one in logs.rejected] == ["R 12"]


def test_a_rating_of_0_without_a_site_is_about_no_site_unless_season_toml_names_one(read):
    form = "Date,Name,Where,Rating,When\n2026-01-05,Ada Berg,elbow,3,after\n2026-01-06,Ada Berg,,0,after\n"
    assert [one.site for one in read({"form.csv": form}).pain] == ["elbow", "unknown"]
    season = '[season]\ndefault_site = "elbow"'
    assert [one.site for one in read({"form.csv": form}, season).pain] == ["elbow", "elbow"]


def test_a_doubtful_remark_is_asked_about(read):
    logs = read({"log.csv": LOG.format("Notes", "left elbow 3/5 after")})
    assert logs.pain == []
    assert [one.place.column for one in logs.rejected] == ["F"]


DIARY = "2026\n\nMo 5.1.\nSquat: 3x5 @100\n{}\n"


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        ("Ellbogen: re 3, li 0", [elbow(R, 3, "after"), elbow(L, 0, "after")]),
        ("Elbow: R 3 L 1\nnext morning: L 4", [elbow(R, 3, "after"), elbow(L, 1, "after"),
                                               elbow(L, 4, "next morning")]),
        ("coude après: D 3-4  G 1", [elbow(R, 4, "after"), elbow(L, 1, "after")]),
        ("Gomiti: dx 3 anzi 4, sx 0\nmattina dopo: dx 2", [elbow(R, 4, "after"), elbow(L, 0, "after"),
                                                           elbow(R, 2, "next morning")]),
        ("elbow: see physio", []),
        ("shoes: new", []),
    ],
)  # fmt: skip
def test_lines_of_a_diary_that_are_kept_for_pain(read, lines, expected):
    logs = read({"Ada Berg.txt": DIARY.format(lines)})
    assert brief(logs) == expected
    assert len(logs.sets) == 3


@pytest.mark.parametrize(
    "line", ["Right elbow: l2", "Ell re: v1", "Left elbow: R 3", "Gomito dx: sx 2", "Coude d: g2", "Höger armbåge: v 2"]
)
def test_a_rating_of_the_other_side_than_its_line_is_set_aside(lexicon, line):
    found = said_by_line(line, lexicon)
    assert found is not None
    told = read_pain(found[1], lexicon, found[0])
    assert told.reports == []
    assert len(told.doubts) == 1


@pytest.mark.parametrize("line", ["Right elbow: 2, left 3", "Elbows: r2 l3", "Right elbow: r 2"])
def test_sides_that_agree_or_follow_a_rating_are_read(lexicon, line):
    found = said_by_line(line, lexicon)
    assert found is not None
    told = read_pain(found[1], lexicon, found[0])
    assert [(one.side, one.rating) for one in told.reports][:1] == [("right", 2.0)]
