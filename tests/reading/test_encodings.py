"""Old text encodings: a Western text is never taken for another, however few letters tell.

The bytes come from Python's own codecs, which follow the tables of the Unicode Consortium.
"""

import pytest

from preflare.reading.delimited import decode

SAMPLES = {
    "nl": "RIR = reps over (géén RPE), pijn re elleboog één keer",
    "de": "Müller, Kniebeuge schwer, Rücken müde, außen größer",
    "fr": "Théo: coude gêné après la séance, échauffement léger, ça va",
    "es": "Íñigo: después del entrenamiento, muñeca, ¿dolor? mañana peor",
    "it": "più dolore perché è stanco, così così",
    "pt": "não há dor no cotovelo, manhã seguinte, série de exercícios",
    "no": "Åse Ødegård: knebøy på gulvet, før økta",
    "da": "Søren: knæbøj, før træning, højre albue øm",
    "sv": "Åsa: knäböj, höger armbåge, före passet",
}
ONE = ["naïve", "café", "Zoë", "año", "für", "così è", "já", "på"]


@pytest.mark.parametrize("encoding", ["cp1252", "iso-8859-15", "mac_roman", "cp850"])
@pytest.mark.parametrize("language", SAMPLES)
def test_a_western_text_comes_back_as_it_was(language, encoding):
    text = SAMPLES[language] * 3
    assert decode(text.encode(encoding))[0] == text


@pytest.mark.parametrize("encoding", ["cp1250", "cp852"])
def test_a_polish_text_comes_back_as_it_was(encoding):
    text = "Łukasz: przysiad, łokieć prawy boli po treningu, ciężko, źle się śpi, ćwiczę już trzeci dzień" * 2
    assert decode(text.encode(encoding))[0] == text


@pytest.mark.parametrize("word", ONE)
def test_one_accented_letter_is_enough_for_the_commonest_encoding(word):
    text = f"date;note\n2026-03-05;{word}\n" + "2026-03-06;plain words only\n" * 20
    assert decode(text.encode("cp1252"))[0] == text


def test_typographic_quotes_and_dashes_are_western_too():
    text = "“squat” – felt good… it’s 5 × 100 €"
    assert decode(text.encode("cp1252"))[0] == text


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be"])
def test_utf_16_without_its_mark(encoding):
    text = "Date;Name\n2026-03-05;Åse Ødegård\n"
    assert decode(text.encode(encoding))[0] == text
