"""Lines in which logs explain themselves. What each means was told by hand, by someone who reads the language.

Signs and sentences are invented after common ways to write them (common practice, no published source).
"""

import re

import pytest
from openpyxl import Workbook

from preflare.reading.legend import read_legend
from preflare.reading.legend_lines import Line
from preflare.reading.rosters import people_by_letter
from preflare.reading.words import WordReader


def legend_of(lexicon, *lines, is_sure=True):
    return read_legend([Line(line, is_sure) for line in lines], WordReader(lexicon), people_by_letter(lines, lexicon))


def terms(legend):
    return {term.written: term.value for term in legend.terms}


SIGNS = [
    # an exercise
    ("KZG = Klimmzüge", {"KZG": "pull-up"}),
    ("KZG: Klimmzüge; SD: Schulterdrücken", {"KZG": "pull-up", "SD": "overhead press"}),
    ("BDR = Bankdrücken, KHB = Kreuzheben", {"BDR": "bench press", "KHB": "deadlift"}),
    ("DVX développé couché, SVT soulevé de terre", {"DVX": "bench press", "SVT": "deadlift"}),
    ("TRX = tractions / DVC = développé couché", {"TRX": "pull-up", "DVC": "bench press"}),
    ("SNT: sentadilla | PMU: peso muerto", {"SNT": "back squat", "PMU": "deadlift"}),
    ("PRB significa press de banca", {"PRB": "bench press"}),
    ("STC = stacco; TRZ = trazioni", {"STC": "deadlift", "TRZ": "pull-up"}),
    ("AGF = agachamento frontal", {"AGF": "front squat"}),
    ("SPN - supino / LVT - levantamento terra", {"SPN": "bench press", "LVT": "deadlift"}),
    ("BDK = bankdrukken, OPT = optrekken", {"BDK": "bench press", "OPT": "pull-up"}),
    ("MCG = martwy ciąg; WLZ = wyciskanie leżąc", {"MCG": "deadlift", "WLZ": "bench press"}),
    ("KNB = knebøy, MLF = markløft", {"KNB": "back squat", "MLF": "deadlift"}),
    ("BPS = bænkpres; DLF = dødløft", {"BPS": "bench press", "DLF": "deadlift"}),
    ("KNB betyder knäböj, MKL betyder marklyft", {"KNB": "back squat", "MKL": "deadlift"}),
    ("P/U is pull-ups", {"P/U": "pull-up"}),
    ("close-grip bench press = CGX", {"CGX": "close-grip bench press"}),
    ("Rumänisches Kreuzheben = RKX", {"RKX": "romanian deadlift"}),
    # a bar
    ("Q-Stange = Sicherheitsstange", {"Q-Stange": "safety"}),
    ("Stange: G = gerade, S = Sicherheitsstange, B = gebogen", {"G": "straight", "S": "safety", "B": "cambered"}),
    ("Bar: S straight / Y safety bar / C cambered", {"S": "straight", "Y": "safety", "C": "cambered"}),
    ("barre : D droite, S sécurité, C cambrée", {"D": "straight", "S": "safety", "C": "cambered"}),
    ("Barra: R recta, S de seguridad, C curva", {"R": "straight", "S": "safety", "C": "cambered"}),
    ("bilanciere: D dritto / S safety / C curvo", {"D": "straight", "S": "safety", "C": "cambered"}),
    ("barra: BR = barra reta, BSG = barra de segurança", {"BR": "straight", "BSG": "safety"}),
    ("stang: R = recht, V = veiligheidsstang", {"R": "straight", "V": "safety"}),
    ("gryf: P = prosty, B = bezpieczny, G = wygięty", {"P": "straight", "B": "safety", "G": "cambered"}),
    ("stang: RS = rett stang, SS = sikkerhetsstang", {"RS": "straight", "SS": "safety"}),
    ("skk. = sikkerhedsstang med håndtag (så intet greb)", {"skk.": "safety"}),
    ("stång: R = rak, S = säkerhetsstång", {"R": "straight", "S": "safety"}),
    ("SSX stands for safety squat bar", {"SSX": "safety"}),
    # a grip, a place of the bar
    ("Grip: N narrow / M medium / W wide", {"N": "narrow", "M": "medium", "W": "wide"}),
    ("Grip = hands on the squat bar, N narrow / M medium / W wide.", {"N": "narrow", "M": "medium", "W": "wide"}),
    ("Grip N/M/W = narrow/medium/wide", {"N": "narrow", "M": "medium", "W": "wide"}),
    ("Griff: e = eng, m = mittel, w = weit", {"e": "narrow", "m": "medium", "w": "wide"}),
    ("Prise : S serrée, M moyenne, L large", {"S": "narrow", "M": "medium", "L": "wide"}),
    ("Agarre: crr / mdo / abt (cerrado, medio, abierto)", {"crr": "narrow", "mdo": "medium", "abt": "wide"}),
    ("presa: S = stretta, M = media, L = larga", {"S": "narrow", "M": "medium", "L": "wide"}),
    ("pegada: F = fechada; M = média; A = aberta", {"F": "narrow", "M": "medium", "A": "wide"}),
    ("greep: s = smal, m = middel, b = breed", {"s": "narrow", "m": "medium", "b": "wide"}),
    ("chwyt w przysiadzie: w = wąski, ś = średni, sz = szeroki", {"w": "narrow", "ś": "medium", "sz": "wide"}),
    ("grep: S smalt, M middels, B bredt", {"S": "narrow", "M": "medium", "B": "wide"}),
    ("greb: s = smalt | m = mellem | b = bredt", {"s": "narrow", "m": "medium", "b": "wide"}),
    ("grepp: S = smalt, M = mellan, B = brett", {"S": "narrow", "M": "medium", "B": "wide"}),
    ("Ablage: O = hoch, U = tief", {"O": "high", "U": "low"}),
    ("Apoyo: A barra alta, B barra baja", {"A": "high", "B": "low"}),
    ("Position: H haute, B basse", {"H": "high", "B": "low"}),
    # warm-ups, misses, body weight
    ("wrm. = warm-up", {"wrm.": "warm_up"}),
    ("gm = gamme montante", {"gm": "warm_up"}),
    ("apx = series de aproximación", {"apx": "warm_up"}),
    ("rsc = riscaldamento, tutto quello prima della sbarretta", {"rsc": "warm_up"}),
    ("aqc = aquecimento, flh = falha", {"aqc": "warm_up", "flh": "failed"}),
    ("rzg = rozgrzewka; spl = spalone", {"rzg": "warm_up", "spl": "failed"}),
    ("nlf. = no lift", {"nlf.": "failed"}),
    ("FV = Fehlversuch", {"FV": "failed"}),
    ("cx = corpo libero", {"cx": "bodyweight"}),
    ("pc. = poids du corps, ec = échec", {"ec": "failed"}),
    ("Klimmzüge KG = Körpergewicht", {"KG": "bodyweight"}),
    # the same, not there, as planned
    ("nb = nieobecna; jp = jak w planie", {"nb": "rest", "jp": "as_planned"}),
    ("abw = abwesend, wp = wie geplant", {"abw": "rest", "wp": "as_planned"}),
    ("id. = idem, cp = comme prévu", {"cp": "as_planned"}),
    ("AA = as above", {"AA": "same"}),
    # effort
    ("b2 = buffer 2, ne avevo ancora 2", {"b2": "rir"}),
    ("r = Wiederholungen in Reserve", {"r": "rir"}),
    ("@ = RIR", {"@": "rir"}),
    ("z2 = 2 w zapasie", {"z2": "rir"}),
    # sides and places
    ("P = prawy, LW = lewy", {"P": "right", "LW": "left"}),
    ("CODO D / CODO I = dolor del codo derecho / izquierdo al terminar, de 0 a 10", {"I": "left"}),
    ("EL = elbow; FA = forearm", {"EL": "elbow", "FA": "forearm"}),
    ("OBX = Oberarm, UTX = Unterarm", {"OBX": "upper arm", "UTX": "forearm"}),
    # lists without signs, small letters behind full stops, brackets that explain within an item
    ("BD Bankdrücken, eBD Bankdrücken eng, LRu Langhantelrudern vorgebeugt", {"eBD": "close-grip bench press"}),
    ("DM développé militaire, RB rowing barre buste penché", {"DM": "overhead press", "RB": "row"}),
    ("SQ squat, nB close-grip bench press, BR barbell row bent over", {"nB": "close-grip bench press", "BR": "row"}),
    ("smalbänk = bänk med smalt grepp. chins är räckhäv, kv = bara kroppsvikten", {"chins": "pull-up"}),
    ("wb = wide grip. nb = narrow grip", {"wb": "wide", "nb": "narrow"}),
    ("chins are pull-ups", {"chins": "pull-up"}),
    ("Friday is bench press, Monday is squat", {}),
    ("KLZ Klimmzug (ohne = ohne Zusatz, +5 = 5 kg), BDR Bankdrücken", {"KLZ": "pull-up", "BDR": "bench press"}),
    # letters for moments
    ("v = vorher, w = währenddessen", {"v": "before", "w": "during"}),
    ("A = after, M = next morning", {"A": "after", "M": "next morning"}),
    # nothing new, or nothing that is known
    ("RDL = Romanian deadlift", {}),
    ("lige = lige stang", {}),
    ("squat = almindelig squat med stangen bagpå", {}),
    ("L = left, R = right", {}),
    ("yellow = PR", {}),
    ("5/5/5/4 = powtórzenia w kolejnych seriach", {}),
    ("Empty box = set not done", {}),
    ("Tomt navn = samme spiller som linjen over", {}),
    ("number after @ = RPE", {}),
    ("normal = normal", {}),
    ("Boxes are kg x reps.   \" = same again as the box above.", {}),
    ("Gruppo: Greta Malaspica, Ruggero Fontebasso", {}),
]  # fmt: skip


@pytest.mark.parametrize(("line", "meant"), SIGNS)
def test_signs(lexicon, line, meant):
    legend = legend_of(lexicon, line)
    assert terms(legend) == meant


@pytest.mark.parametrize(
    ("line", "sign"),
    [
        ("QX = quadrant lift", "QX"),
        ("ZB = zauber trank", "ZB"),
        ("MV = marche vers l'avant", "MV"),
        ("XY: brzydki", None),
    ],
)
def test_a_meaning_that_nobody_knows_is_said_and_not_used(lexicon, line, sign):
    legend = legend_of(lexicon, line)
    assert legend.terms == ()
    assert [one.written for one in legend.unclear] == ([sign] if sign else [])
    assert all("nothing was taken from it" in told for told in legend.sentences())


def test_a_sign_that_two_lines_explain_differently_is_not_used(lexicon):
    legend = legend_of(lexicon, "KX = Klimmzüge", "KX = Kreuzheben")
    assert legend.terms == ()
    assert legend.unclear[0].said == "Klimmzüge; Kreuzheben"


def test_a_common_word_that_a_legend_turns_is_said(lexicon):
    (told,) = legend_of(lexicon, "squat = front squat").sentences()
    assert "front squat" in told
    assert "usually means back squat" in told


def test_a_text_below_the_log_explains_with_a_sign_only(lexicon):
    assert terms(legend_of(lexicon, "KX = Klimmzüge", is_sure=False)) == {"KX": "pull-up"}
    assert terms(legend_of(lexicon, "N narrow / M medium / W wide", is_sure=False)) == {}


@pytest.mark.parametrize(
    ("line", "people"),
    [
        ("BW = Beth Wakeling", {"BW": "Beth Wakeling"}),
        ("Renzo Albarelli (R, che sono io) e Dario Tosetto (D)", {"R": "Renzo Albarelli", "D": "Dario Tosetto"}),
        ("T = Torbjörn, E = Elsa", {"T": "Torbjörn", "E": "Elsa"}),
        ("Safety Bar (SSB)", {}),
    ],
)
def test_letters_of_people(lexicon, line, people):
    legend = legend_of(lexicon, line)
    assert dict(legend.people) == people
    assert legend.terms == ()


DEFAULTS = [
    ("blank bar = straight", {"bar": "straight"}),
    ("bar blank = straight bar", {"bar": "straight"}),
    ("Back squat is straight bar, high bar, unless the Bar line says SSB", {"bar": "straight", "position": "high"}),
    ("Squats are high bar unless LB is written.", {"position": "high"}),
    ("Squats always low bar, wide grip", {"position": "low", "width": "wide"}),
    ("Kniebeugen (hinten und vorne): nichts notiert = gerade Stange", {"bar": "straight"}),
    (
        "Kniebeuge immer mit gerader Stange, hoch, außer es steht was anderes da",
        {"bar": "straight", "position": "high"},
    ),
    ("Przysiad zawsze prostym gryfem, nisko, chyba że piszę inaczej", {"bar": "straight", "position": "low"}),
    ("Griff: leer = mittel", {"width": "medium"}),
    ("squat : BD barre droite / BS barre de sécurité. Rien d'écrit = BD.", {"bar": "straight"}),
    ("squat toujours barre haute, prise moyenne, sauf si je l'écris", {"position": "high", "width": "medium"}),
    ("barra: en blanco = recta", {"bar": "straight"}),
    ("Sentadilla siempre con barra recta, salvo que diga otra", {"bar": "straight"}),
    ("Agarre y apoyo en blanco = igual que la última vez con esa barra", {"width": "last", "position": "last"}),
    (
        "squat sempre dietro col bilanciere dritto, appoggio basso (low bar), presa media, se non scrivo altro",
        {"bar": "straight", "position": "low", "width": "medium"},
    ),
    ("presa: vuoto = media", {"width": "medium"}),
    ("Agachamento sempre com barra reta, exceto quando escrevo", {"bar": "straight"}),
    ("pegada: em branco = média", {"width": "medium"}),
    ("Squat altijd rechte stang, tenzij anders vermeld", {"bar": "straight"}),
    ("stang: leeg = rechte stang", {"bar": "straight"}),
    ("gryf: puste = prosty, safety, wygięty", {"bar": "straight"}),
    ("Przysiad zawsze gryf prosty, chyba że napisane inaczej", {"bar": "straight"}),
    ("Knebøy alltid rett stang, med mindre det står noe annet", {"bar": "straight"}),
    ("stang: tomt = lige stang", {"bar": "straight"}),
    ("Knäböj alltid rak stång, om inte annat står", {"bar": "straight"}),
    # no default
    ("Bar: SSB / camb / straight + grip (narrow, med, wide) + LB or HB", {}),
    ("przysiad zawsze tylny, low bar albo high bar jak stoi przy nazwie", {}),
    ("Bench is always close grip unless noted", {}),
    ("Empty box = set not done", {}),
    ("leer = nicht gefragt", {}),
    ("safety = bilanciere safety (niente presa, niente low/high), cambrato = bilanciere cambrato", {}),
    ("Squat: straight or safety bar, unless sore", {}),
    ("Squats are always fun, high energy!", {}),
    ("Always squat with a wide stance", {}),
    ("All squat sets before 18:00, low light only", {}),
    ("Squat nie am Montag, immer hoch motiviert und weit weg vom Spiegel", {}),
    ("squat sempre il lunedì, bassa intensità e media durata", {}),
]


@pytest.mark.parametrize(("line", "meant"), DEFAULTS)
def test_defaults_of_squats(lexicon, line, meant):
    found = {
        one.part: "last" if one.value.startswith("as the last") else one.value
        for one in legend_of(lexicon, line).defaults
    }
    assert found == meant


@pytest.mark.parametrize(
    ("line", "unit"),
    [
        ("all loads in lb", "lb"),
        ("everything in POUNDS unless it says kg", "lb"),
        ("lbs unless i write kg. weight x reps (x sets)", "lb"),
        ("Charges en livres, barre comprise", "lb"),
        ("Fuerza (todo en kilos, con barra)", "kg"),
        ("todos los pesos en libras", "lb"),
        ("tutti i carichi in libbre", "lb"),
        ("todas as cargas em libras", "lb"),
        ("alle gewichten in ponden", "lb"),
        ("wszystkie ciężary w funtach", "lb"),
        ("kg unless lb is written", "kg"),
        ("boxes are kg x reps", "kg"),
        ("Satz: Wiederholungen × kg @RPE", "kg"),
        ("chili x ripetizioni", "kg"),
        ("répétitions x charge", None),
        ("reps x peso", None),
        ("carga x reps", None),
        ("herh x kg", "kg"),
        ("powt x kg", "kg"),
        ("vekt x reps", None),
        ("vægt x gentagelser", None),
        ("reps x vikt", None),
        ("plan = serie x powtórzenia x kg", "kg"),
        ("3x8 with 20 kg for the warm-up", None),
        ("Treino com pesos livres", None),
        ("agachamento livre: todas as cargas em kg", "kg"),
        ("Our coach likes pounds more than the rest of us do", None),
    ],
)
def test_unit(lexicon, line, unit):
    assert legend_of(lexicon, line).unit == unit


@pytest.mark.parametrize(
    ("line", "site", "moment"),
    [
        ("Elbow = I ask at the end when they put the plates away, 0 to 10", "elbow", "after"),
        ("Ellbogen: Schmerz 0–10, re = rechts, li = links", "elbow", None),
        ("coude ap. = douleur du coude 0 à 10 tout de suite après la séance", "elbow", "after"),
        ("CODO D / CODO I = dolor del codo derecho / izquierdo al terminar, de 0 a 10", "elbow", "after"),
        ("Gomiti: ce lo chiediamo a fine seduta, 0-10, dx/sx. La mattina dopo scrivo anche quella", "elbow", "after"),
        ("Ból 0-10, pytam po treningu", None, "after"),
        ("pijn = pijn elleboog na afloop 0-10", "elbow", "after"),
        ("smerte = smerte i albuen før træning, 0-10", "elbow", "before"),
        ("Smärta 0-10 i armbågen efter passet", "elbow", "after"),
        ("Dor no cotovelo depois do treino, 0 a 10", "elbow", "after"),
        ("smerte i skulder 0-10 etter trening", "shoulder", "after"),
        ("pijn: elbow, after training", "elbow", "after"),
    ],
)
def test_how_pain_is_asked(lexicon, line, site, moment):
    habit = legend_of(lexicon, line).pain
    assert habit is not None
    assert (habit.site, habit.moment) == (site, moment)


@pytest.mark.parametrize(
    "line", ["elbow = tricky joint", "RPE (out of 10) is for the last work set only", "no pain no gain"]
)
def test_other_sentences_say_nothing_of_pain(lexicon, line):
    assert legend_of(lexicon, line).pain is None


# Read through: what a legend says is used wherever words are read ---------------------------------------------------


def brief(logs):
    return [(one.exercise, one.bar, one.grip_width, one.bar_position, one.load_kg, one.reps) for one in logs.sets]


BENCH = [("bench press", None, None, None, 60.0, 5)]


@pytest.mark.parametrize(
    ("legend", "label"),
    [
        ("BDX = Bankdrücken", "BDX"), ("BDX: bench press", "BDX"), ("PBX significa press de banca", "PBX"),
        ("DVX développé couché, SVT soulevé de terre", "DVX"), ("WLX - wyciskanie leżąc / MX - martwy ciąg", "WLX"),
    ],
)  # fmt: skip
def test_an_abbreviation_names_an_exercise_in_a_column(read, legend, label):
    logs = read({"Ada Berg.csv": f"{legend}\n\nDate;Exercise;kg;Reps\n2026-03-02;{label};60;5\n"})
    assert brief(logs) == BENCH
    assert any(told.startswith("From the legend: ") and label in told for told in logs.files[0].sheets[0].assumptions)


def test_an_abbreviation_names_an_exercise_in_shorthand_and_in_a_diary(read):
    head = "Ada Berg 2026\nBDX = Bankdrücken\n"
    logs = read({"Ada Berg.csv": f"{head}Datum;Training\n2026-03-02;BDX 60x5\n"})
    assert brief(logs) == BENCH
    logs = read({"Ada Berg.txt": f"{head}\n2026-03-02\nBDX 60x5\n"})
    assert brief(logs) == BENCH


def test_letters_for_bars_grips_and_places_hold_in_their_columns(read):
    head = (
        "Bar: S straight / Y safety bar / C cambered\nGrip: N narrow, M medium, W wide\nPosition: O high, U low bar\n"
    )
    table = (
        "Date;Exercise;Bar;Grip;Position;kg;Reps\n2026-03-02;Squat;S;W;U;100;5\n;Squat;Y;;;80;5\n;Squat;C;N;O;90;5\n"
    )
    logs = read({"Ada Berg.csv": head + table})
    assert brief(logs) == [
        ("back squat", "straight", "wide", "low", 100.0, 5),
        ("back squat", "safety", None, None, 80.0, 5),
        ("back squat", "cambered", "narrow", "high", 90.0, 5),
    ]


def test_a_legend_holds_in_its_own_file_alone(read):
    table = "Date;Exercise;kg;Reps\n2026-03-02;BDX;60;5\n"
    logs = read({"Ada Berg.csv": f"BDX = Bankdrücken\n{table}", "Ida Holm.csv": table})
    assert [one.exercise for one in logs.sets] == ["bench press", "unknown"]


@pytest.mark.parametrize("name", ["READ ME.txt", "Legende.txt", "leggimi.txt", "forklaring.csv", "legenda.txt"])
def test_a_file_that_only_explains_holds_for_its_folder(read, name):
    table = "Date;Exercise;kg;Reps\n2026-03-02;BDX;60;5\n"
    logs = read({f"a/{name}": "BDX = Bankdrücken\nAlles in kg\n", "a/Ada Berg.csv": table, "b/Ida Holm.csv": table})
    assert [one.exercise for one in logs.sets] == ["bench press", "unknown"]
    assert not [one for one in logs.rejected if one.place.file.endswith(name)]


def test_a_sheet_that_only_explains_holds_for_the_workbook_and_is_no_data(read):
    book = Workbook()
    book.active.title = "Legende"
    for row in (["Kürzel", "Bedeutung"], ["BDX", "Bankdrücken"], ["S", "0-10 oder leicht / mittel / stark"]):
        book.active.append(row)
    log = book.create_sheet("Ada Berg")
    for row in (["Datum", "Übung", "kg", "Wdh"], ["2026-03-02", "BDX", 60, 5]):
        log.append(row)
    logs = read({"log.xlsx": book})
    assert brief(logs) == BENCH
    assert not [one for one in logs.rejected if one.place.sheet == "Legende"]


def test_a_default_fills_what_is_open_and_nothing_else(read):
    head = "Back squat is straight bar, high bar, medium grip, unless I write something else\n"
    rows = "2026-03-02;Squat;;100;5\n;Squat;safety bar;90;5\n;Squat;cambered;90;5\n;Squat low bar;;90;5\n;Bench;;60;5\n"
    logs = read({"Ada Berg.csv": f"{head}Date;Exercise;Bar;kg;Reps\n{rows};Front squat;;70;5\n;Squat;moose;85;5\n"})
    assert brief(logs) == [
        ("back squat", "straight", "medium", "high", 100.0, 5),
        ("back squat", "safety", None, None, 90.0, 5),
        ("back squat", "cambered", "medium", "high", 90.0, 5),
        ("back squat", "straight", "medium", "low", 90.0, 5),
        ("bench press", None, None, None, 60.0, 5),
        ("front squat", None, None, None, 70.0, 5),
        ("back squat", None, None, None, 85.0, 5),
    ]
    told = [one for one in logs.files[0].sheets[0].assumptions if "Back squat is straight bar" in one]
    assert len(told) == 3


def test_a_default_of_all_squats_gives_front_squats_their_bar_alone(read):
    head = "Kniebeugen (hinten und vorne): nichts notiert = gerade Stange\n"
    rows = "2026-03-02;Kniebeuge;100;5\n;Frontkniebeuge;70;5\n;Kreuzheben;120;5\n"
    logs = read({"Ada Berg.csv": f"{head}Datum;Übung;kg;Wdh\n{rows}"})
    assert [one.bar for one in logs.sets] == ["straight", "straight", None]


def test_what_is_open_may_be_as_the_last_time_with_that_bar(read):
    head = "Agarre y apoyo en blanco = igual que la última vez con esa barra\n"
    rows = (
        "2026-03-02;Ada Berg;Sentadilla;recta;ancho;alta;100;5\n2026-03-02;Ida Holm;Sentadilla;recta;;;60;5\n"
        "2026-03-04;Ada Berg;Sentadilla;curva;;;80;5\n2026-03-06;Ada Berg;Sentadilla;recta;;;102;5\n"
    )
    logs = read({"log.csv": f"{head}Fecha;Nombre;Ejercicio;Barra;Agarre;Apoyo;kg;Reps\n{rows}"})
    found = {(one.athlete, one.date.day): (one.grip_width, one.bar_position) for one in logs.sets}
    assert found == {
        ("Ada Berg", 2): ("wide", "high"), ("Ida Holm", 2): (None, None), ("Ada Berg", 4): (None, None),
        ("Ada Berg", 6): ("wide", "high"),
    }  # fmt: skip


def test_a_default_of_a_long_list_is_the_same(read):
    head = "Date;Name;Exercise;Bar;Grip (blank = medium);kg;Reps\n"
    rows = [
        f"2026-03-{1 + i % 28:02d};Ada Berg;{'Squat' if i % 2 else 'Bench'};;;{60 + i % 40};5\n" for i in range(2500)
    ]
    logs = read({"log.csv": "blank bar = straight\n" + head + "".join(rows)})
    few = read({"log.csv": "blank bar = straight\n" + head + "".join(rows[:20])})
    assert {(one.exercise, one.bar) for one in logs.sets} == {(one.exercise, one.bar) for one in few.sets}
    assert {(one.exercise, one.bar) for one in few.sets} == {("back squat", "straight"), ("bench press", None)}


def test_loads_in_pounds_as_a_legend_says(read):
    logs = read(
        {"Ada Berg.csv": "Charges en livres, barre comprise\nDate;Exercice;Charge;Reps\n2026-03-02;Squat;225;5\n"}
    )
    assert [round(one.load_kg, 2) for one in logs.sets] == [102.06]


@pytest.mark.parametrize(
    ("legend", "work"),
    [("b2 = buffer 2", "100x5 b2"), ("r = Wiederholungen in Reserve", "100x5 r2"), ("@ = RIR", "100x5 @2")],
)
def test_a_sign_for_repetitions_in_reserve(read, legend, work):
    logs = read({"Ada Berg.csv": f"{legend}\nDate;Exercise;Sets\n2026-03-02;Squat;{work}\n"})
    assert [(one.load_kg, one.reps, one.rir, one.rpe) for one in logs.sets] == [(100.0, 5, 2.0, None)]


def test_site_and_moment_of_ratings_as_a_legend_says(read):
    head = "pijn = pijn elleboog voor de training, 0-10\n"
    logs = read({"Ada Berg.csv": f"{head}Datum;Oefening;kg;Reps;Pijn\n2026-03-02;Squat;100;5;3\n"})
    assert [(one.site, one.moment, one.rating) for one in logs.pain] == [("elbow", "before", 3.0)]


MOMENTS = {
    "Ell = Ellbogen: v = vorher, w = währenddessen, n = nachher, m = am Morgen danach": "Ell re: {v}1 {w}2 {n}3 {m}4",
    "b = before, d = during, a = after, m = next morning": "Right elbow: {b}1 {d}2 {a}3 {m}4",
    "f = före, u = under, e = efter, m = morgonen efter": "Höger armbåge: {f}1 {u}2 {e}3 {m}4",
    "V = voor, T = tijdens, N = na, O = de volgende ochtend": "Elleboog re: {V}1 {T}2 {N}3 {O}4",
    "P = prima, D = durante, F = dopo, M = la mattina dopo": "Gomito dx: {P}1, {D}2, {F}3, {M}4",
}


@pytest.mark.parametrize("form", ["{}{}", "{} {}", "{}: {}", "behind"])
@pytest.mark.parametrize(("legend", "line"), MOMENTS.items())
def test_letters_for_moments_beside_ratings(read, legend, line, form):
    label, _, ratings = line.partition(": ")
    found = re.findall(r"\{(\w)\}(\d)", ratings)
    shown = ", ".join(f"{n}{letter}" if form == "behind" else form.format(letter, n) for letter, n in found)
    logs = read({"Ada Berg 2026.txt": f"{legend}\n\n2026-03-02\nSquat 3x5x80\n{label}: {shown}\n"})
    told = [(one.side, one.rating, one.moment) for one in logs.pain]
    moments = ("before", "during", "after", "next morning")
    assert told == [("right", float(i), moment) for i, moment in enumerate(moments, start=1)]


def test_a_sign_of_a_lift_in_a_list_is_nobody(read):
    legend = "Ada Berg\n\nBD Bankdrücken, SD Schulterdrücken, ZQ Zauberlift"
    text = f"{legend}\n\n2026-03-02\nBD 3x5x60\nZQ 3x5x80\n\n2026-03-04\nBD 3x5x62,5\nZQ 3x5x82,5\n"
    logs = read({"Ada Berg 2026.txt": text})
    assert {one.athlete for one in logs.sets} == {"Ada Berg"}
    assert [one.load_kg for one in logs.sets] == [60.0] * 3 + [62.5] * 3
    assert [one.value for one in logs.rejected] == ["ZQ 3x5x80", "ZQ 3x5x82,5"]


def test_initials_that_are_also_a_word_for_body_weight(read):
    head = "BW = Beth Wakeling\nCO = Cora Ockley\n"
    logs = read({"log.csv": f"{head}Date;Name;Exercise;kg;Reps\n2026-03-02;BW;Squat;100;5\n;CO;Squat;80;5\n"})
    assert [one.athlete for one in logs.sets] == ["Beth Wakeling", "Cora Ockley"]


def test_a_legend_changes_nothing_for_the_next_import(read, lexicon):
    before = dict(lexicon.exercise.known), dict(lexicon.work.known), dict(lexicon.bar.letters)
    read({"Ada Berg.csv": "BDX = Bankdrücken, S = Sicherheitsstange, cx = corpo libero\nDate;Exercise;kg;Reps\n"
          "2026-03-02;BDX;60;5\n"})  # fmt: skip
    assert (lexicon.exercise.known, lexicon.work.known, lexicon.bar.letters) == before


@pytest.mark.parametrize(
    "sentence",
    [
        "With the safety bar no grip and no high/low", "Bei der Sicherheitsstange keine Ablage, kein Griff",
        "barre de sécurité : pas de position ni prise", "Con la barra de seguridad no hay agarre ni apoyo.",
        "safety = bilanciere safety (niente presa, niente low/high)", "barra de segurança: sem pegada e sem posição",
        "veiligheidsstang: geen greep, geen positie", "Przy safety nie ma low/high ani chwytu",
        "sikkerhetsstang: ingen grep, ingen posisjon", "sikkerhedsstang: intet greb, ingen placering",
        "säkerhetsstång: inget grepp, ingen placering",
    ],
)  # fmt: skip
def test_a_bar_that_has_no_place_takes_none_from_the_name_of_its_lift(read, sentence):
    rows = "2026-03-02;Squat low bar;;100;5\n;Squat low bar;safety bar;90;5\n;SSB squat low bar;;80;5\n"
    logs = read({"Ada Berg.csv": f"{sentence}\nDate;Exercise;Bar;kg;Reps\n{rows}"})
    assert [one.bar_position for one in logs.sets] == ["low", None, "low"]
    assert any("was left out where the safety bar was used" in told for told in logs.files[0].sheets[0].assumptions)


@pytest.mark.parametrize(
    ("written", "exercise"),
    [
        ("P. muerto rumano", "romanian deadlift"), ("Rum. Kreuzheben", "romanian deadlift"),
        ("F. squat", "front squat"),
        ("M. ciąg", "deadlift"), ("L. p.", "unknown"),
    ],
)  # fmt: skip
def test_a_word_cut_to_a_letter_and_a_dot(lexicon, written, exercise):
    assert WordReader(lexicon).exercise(written).exercise == exercise


@pytest.mark.parametrize(
    "written",
    ["squat, pos. basse, prise moyenne", "Kniebeuge (Griff mittel, Ablage tief)", "squat appoggio basso, presa media",
     "Sentadilla, agarre medio, apoyo bajo", "przysiad, pozycja niska, chwyt średni"],
)  # fmt: skip
def test_the_names_of_bar_grip_and_place_beside_a_lift_change_nothing(lexicon, written):
    named = WordReader(lexicon).exercise(written)
    assert (named.exercise, named.gear.width) == ("back squat", "medium")


SHEET = [["Datum", "Übung", "kg", "Wdh"], ["2026-03-02", "BDX", 60, 5]]


def workbook(**sheets):
    book = Workbook()
    book.remove(book.active)
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(row)
    return book


@pytest.mark.parametrize(
    "word", ["Legende", "Legend:", "Abbreviazioni", "Skróty", "Förkortningar", "Abréviations", "Key"]
)
def test_a_box_beside_or_below_the_log_explains(read, word):
    beside = [[*SHEET[0], None, word], [*SHEET[1], None, "BDX", "Bankdrücken"], [None] * 5 + ["SBX: Sicherheitsstange"]]
    assert brief(read({"log.xlsx": workbook(**{"Ada Berg": beside})}))[:1] == BENCH
    below = [*SHEET, [], [word], ["BDX: Bankdrücken"]]
    assert brief(read({"log.xlsx": workbook(**{"Ada Berg": below})}))[:1] == BENCH


def test_a_sheet_that_lists_signs_explains_whatever_its_name(read):
    signs = [["BDX", "Bankdrücken"], ["KBX", "Kniebeuge"], ["ZZX", "irgendwas"]]
    logs = read({"log.xlsx": workbook(**{"Ada Berg": SHEET, "Übungen": signs})})
    assert brief(logs) == BENCH
    assert logs.rejected == []


def test_a_remark_beside_the_work_turns_no_word(read):
    rows = "2026-03-02;Squat;100;5;squat = front squat\n2026-03-04;Squat;100;5;\n"
    logs = read({"Ada Berg.csv": f"Date;Exercise;kg;Reps;Notes\n{rows}"})
    assert [one.exercise for one in logs.sets] == ["back squat"] * 2


@pytest.mark.parametrize(
    "line",
    ["kg without the bar", "Gewichte ohne Stange", "charges sans la barre", "kilos sin contar la barra",
     "chili senza bilanciere", "cargas sem a barra", "gewichten zonder stang", "ciężary bez gryfu", "vekter uten stang",
     "vægt uden stangen", "vikter utan stången", "plates per side"],
)  # fmt: skip
def test_loads_without_the_bar_are_said(read, line):
    logs = read({"Ada Berg.csv": f"{line}\nDate;Exercise;kg;Reps\n2026-03-02;Squat;80;5\n"})
    assert [one.load_kg for one in logs.sets] == [80.0]
    assert [one.reason.split(" or ")[0] for one in logs.rejected] == ["the legend says that loads leave the bar out"]


@pytest.mark.parametrize("line", ["kg inkl. Stange", "bar weight counted", "dumbbells: 20 per side", "kg with bar"])
def test_loads_with_the_bar_are_plain(read, line):
    logs = read({"Ada Berg.csv": f"{line}\nDate;Exercise;kg;Reps\n2026-03-02;Squat;80;5\n"})
    assert logs.rejected == []


def test_the_unit_in_a_sheets_own_title_goes_before_that_of_another_sheet(read):
    rows = [["Exercise", "Date", "Weight", "Reps"], ["Squat", "2026-03-02", 200, 5]]
    own = {"Ada Berg": [["boxes are kg x reps"], *rows], "Ida Holm": [["my own log, a pounds book"], *rows]}
    book = workbook(**own)
    logs = read({"log.xlsx": book})
    assert {one.athlete: round(one.load_kg, 1) for one in logs.sets} == {"Ada Berg": 200.0, "Ida Holm": 90.7}


@pytest.mark.parametrize(
    ("written", "place", "width"),
    [
        ("hi/narrow", "high", "narrow"),
        ("lo / wide", "low", "wide"),
        ("lo", "low", None),
        ("narrow, hi", "high", "narrow"),
    ],
)
def test_places_cut_short_beside_grips(lexicon, written, place, width):
    gear, unknown = WordReader(lexicon).gear(written, "grip")
    assert (gear.position, gear.width, unknown) == (place, width, "")


@pytest.mark.parametrize(
    "line",
    [
        "Mo: Kniebeuge, Mi: Bankdrücken, Fr: Kreuzheben", "Tue: squat / Thu: bench press",
        "lun: sentadilla; mié: banca", "it is failed",
        "A1: squat, B1: bench press", "A1 = squat, B1 = bench press", "A: Squat / B: Bench / C: Row", "D1 = squat",
        "Ada: narrow, Ida: wide", "Max: absent", "Bo: Kniebeuge", "WU: row 500 m", "Squat: 140 / Bench: 90",
        "1RM Squat = 150", "SSB = 25 kg", "Coach: Ulf Berg", "A = Montag-Gruppe, B = Donnerstag-Gruppe", "W1 = Woche 1",
        "L = leicht, S = schwer", "Block 3: Kraft - Woche 1-4", "Bar = 20 kg", "Halle: Nord - Zeit: 18 Uhr",
        "this is a squat", "Ada is left", "Jan: Kreuzheben, Mai: Kniebeuge", "Elbow: 3 / shoulder: 2",
    ],
)  # fmt: skip
def test_lines_above_a_log_that_explain_no_sign(lexicon, line):
    assert legend_of(lexicon, line).terms == ()


def test_a_plan_of_the_week_above_a_log_makes_no_lift_of_a_weekday(read):
    head = "Mo: Kniebeuge, Mi: Bankdrücken\nDatum;Tag;Übung;kg;Wdh\n"
    logs = read({"Ada Berg.csv": f"{head}2026-03-02;Mo;Kniebeuge;100;5\n2026-03-04;Mi;Bankdrücken;60;5\n"})
    assert [one.exercise for one in logs.sets] == ["back squat", "bench press"]


@pytest.mark.parametrize(
    "line",
    [
        "xy = like the last squat",
        "xy = same as the set before",
        "xy = wie bei der letzten Kniebeuge",
        "xy = comme la séance précédente",
        "xy = como en la sesión anterior",
        "xy = come nella seduta precedente",
        "xy = como no treino anterior",
        "xy = zoals de vorige squat",
        "xy = jak na poprzednim treningu",
        "xy = som forrige knebøy",
        "xy = som ved forrige squat",
        "xy = som förra knäböjen",
    ],
)
def test_a_sign_for_the_same_as_before(lexicon, line):
    assert terms(legend_of(lexicon, line)) == {"xy": "same"}


def test_a_lift_done_with_body_weight_stays_a_lift(lexicon):
    legend = legend_of(lexicon, "KZG = Klimmzüge, BDR = Bankdrücken", "KZG ist Körpergewicht, + ist Zusatzgewicht")
    assert {term.value for term in legend.terms if term.written == "KZG"} == {"pull-up"}


@pytest.mark.parametrize(
    "line",
    [
        "Bench is always straight bar.",
        "Bench = straight bar",
        "Bank immer mit gerader Stange",
        "Développé couché toujours barre droite",
        "Press banca siempre con barra recta",
        "Panca sempre bilanciere dritto",
        "Supino sempre barra reta",
        "Bankdrukken altijd rechte stang",
        "Wyciskanie zawsze prosty gryf",
        "Benkpress alltid rett stang",
        "Bænkpres altid lige stang",
        "Bänkpress alltid rak stång",
    ],
)
def test_the_usual_bar_of_another_lift(lexicon, line):
    assert [(one.lift, one.part, one.value) for one in legend_of(lexicon, line).defaults] == [
        ("bench press", "bar", "straight")
    ]


@pytest.mark.parametrize("line", ["Deadlift with the trap bar all week", "Bench 60x5 straight bar"])
def test_a_remark_on_a_bar_is_no_habit(lexicon, line):
    assert legend_of(lexicon, line).defaults == ()


def test_the_usual_bar_of_another_lift_is_stored_for_it_alone(read):
    table = "Date;Exercise;kg;Reps\n2026-03-02;Bench;60;5\n2026-03-02;Squat;90;5\n"
    logs = read({"Ada Berg.csv": f"Bench is always straight bar.\n{table}"})
    assert [(one.exercise, one.bar) for one in logs.sets] == [("bench press", "straight"), ("back squat", None)]


def test_two_bars_of_one_sentence_have_no_place(lexicon):
    line = "SSB or CB in front = safety bar / cambered bar instead (no high/low there)."
    assert {(one.bar, one.parts) for one in legend_of(lexicon, line).bare} == {
        ("safety", frozenset({"position"})),
        ("cambered", frozenset({"position"})),
    }


@pytest.mark.parametrize(
    "line",
    ["All squats are with the straight bar unless it says SB = safety bar.",
     "All böj (knäböj, frontböj) är med rak stång om det inte står SB = säkerhetsstång.",
     "Squat toujours barre droite sauf si SB = barre de sécurité."],
)  # fmt: skip
def test_a_default_whose_exception_explains_its_sign(read, line):
    text = f"{line}\nName;Date;Exercise;Load;Reps\nAda Berg;2026-03-02;squat;100;5\nAda Berg;2026-03-04;squat SB;90;5\n"
    assert [one.bar for one in read({"log.csv": text}).sets] == ["straight", "safety"]
