"""Remarks that correct a load written elsewhere ("third set was 82.5, not 92.5"): the set is pointed to, never changed.

Which set a remark means is for its writer to say; the load stays as its cell has it, with the question beside it.
"""

import re
from collections import defaultdict
from collections.abc import Iterable
from datetime import date

from preflare.reading.context import Yield
from preflare.reading.numbers import KG_PER_LB
from preflare.reading.repeats import written_at
from preflare.reading.rows import Place, RejectedRow, SetRow
from preflare.reading.text import fold, words_of

_WORD = re.compile(r"([^\W\d_]+)")
_NUMBER = re.compile(r"(?<![\d.,/])\d{2,4}(?:[.,]\d{1,2})?(?![\d/])(?!\s*%)")
_SAYS_OTHERWISE = frozenset(
    {
        "wrote", "mistyped", "misread", "verschrieben", "vertippt", "geschrieben", "ecrit", "trompe", "trompee",
        "escribi", "apunte", "equivoque", "scritto", "sbagliato", "escrevi", "enganei", "apontei", "registei",
        "geschreven", "verschreven", "vergist", "zapisalem", "zapisalam", "wpisalem", "wpisalam", "pomylka", "skrev",
        "not", "instead", "actually", "oops", "sorry", "wrong", "correction", "corrected", "typo", "meant", "should",
        "nicht", "statt", "korrigiert", "berichtigt", "stimmt", "korrektur", "korr", "falsch", "eigentlich", "sondern",
        "pas", "plutot", "corrige", "erreur", "lieu",
        "no", "sino", "corregido", "error", "correccion", "realidad",
        "non", "anzi", "corretto", "errore", "invece",
        "nao", "erro", "correcao", "corrigido", "afinal",
        "niet", "fout", "correctie", "eigenlijk",
        "nie", "blad", "poprawka", "powinno", "zamiast",
        "ikke", "feil", "rettelse", "fejl", "egentlig", "rettet", "skulle", "stemmer",
        "inte", "fel", "egentligen", "rattelse", "rattat", "rattad",
    }
)  # fmt: skip
_OF_SLIPS = frozenset(  # those of these words that speak of nothing but a slip: no "not" or "instead"
    {
        "wrong", "typo", "mistyped", "correction", "corrected", "oops", "falsch", "vertippt", "verschrieben",
        "korrektur", "korrigiert", "berichtigt", "erreur", "corrige", "trompe", "error", "corregido", "correccion",
        "equivoque", "errore", "corretto", "sbagliato", "erro", "corrigido", "correcao", "enganei", "fout", "correctie",
        "vergist", "blad", "poprawka", "pomylka", "feil", "fejl", "fel", "rettelse", "rettet", "rattelse", "rattat",
    }
)  # fmt: skip
_NEAR = 0.06  # kg
_LEAST, _MOST = 0.5, 2.0  # a corrected load as a share of the one written


def point_to_corrections(out: Yield) -> None:
    """Set the load of every set aside, in part, whose day has a remark that seems to correct it."""
    by_day: dict[tuple[str, date], list[SetRow]] = defaultdict(list)
    for one in out.sets:
        by_day[one.athlete, one.date].append(one)
    told: set[tuple[str, str]] = set()
    for one in out.sets:
        if one.note and (meant := _other_load(one)) is not None and (str(one.place), one.note) not in told:
            told.add((str(one.place), one.note))
            reason = f'the remark beside this load may correct it to {meant:g}: "{one.note}"; the load was kept'
            shown = format(one.load_kg or 0, "g")
            out.rejected.append(
                RejectedRow(one.place, shown, reason, "correct the cell, if the remark means it", False)
            )
    _point_to_cells(out, told)
    for who, day, remark in _remarks(out):
        numbers = _corrected_numbers(remark)
        for one in by_day.get((who, day), ()) if len(numbers) >= 2 else ():
            if one.load_kg is None or (str(one.place), remark) in told or not _is_among(one.load_kg, numbers):
                continue
            told.add((str(one.place), remark))
            reason = f'a remark of the day may correct this load: "{remark}"; the set was stored as its cell has it'
            shown = format(one.load_kg, "g")
            out.rejected.append(
                RejectedRow(one.place, shown, reason, "correct the cell, if the remark means it", False)
            )


def _point_to_cells(out: Yield, told: set[tuple[str, str]]) -> None:
    """The same for words behind the sets in a cell itself ("87.5x6 wrong! was 82.5"), which no remark has kept."""
    by_cell: dict[Place, list[SetRow]] = defaultdict(list)
    for one in out.sets:
        by_cell[one.place].append(one)
    for place, sets in by_cell.items():
        text = written_at(out, place)
        numbers = _numbers_behind_slip(text)
        meant = [number for number in numbers if not any(_is_among(one.load_kg or 0, [number]) for one in sets)]
        loads = [one.load_kg for one in sets if one.load_kg]
        if len(meant) != 1 or not any(_LEAST <= meant[0] / load <= _MOST for load in loads):
            continue
        if any(mark == str(place) for mark, _ in told) or any(row.place == place for row in out.rejected):
            continue
        told.add((str(place), text))
        reason = f'words in this cell may correct the load to {meant[0]:g}: "{text}"; the load was kept'
        out.rejected.append(RejectedRow(place, text, reason, "correct the cell, if the words mean it", False))


def _numbers_behind_slip(text: str) -> list[float]:
    """The numbers behind the first word that speaks of a slip; none where no word does."""
    pieces = _WORD.split(text)
    at = next((i for i, piece in enumerate(pieces) if piece.isalpha() and fold(piece) in _OF_SLIPS), None)
    behind = "" if at is None else "".join(pieces[at + 1 :])
    return [float(number.replace(",", ".")) for number in _NUMBER.findall(behind)]


def _other_load(one: SetRow) -> float | None:
    """The one number of a set's own remark that says the load is wrong, when it may be the load that was meant."""
    numbers = _corrected_numbers(one.note or "")
    if one.load_kg is None or len(numbers) != 1 or _is_among(one.load_kg, numbers):
        return None
    fits = any(_LEAST <= numbers[0] * unit / one.load_kg <= _MOST for unit in (1.0, KG_PER_LB) if one.load_kg)
    return numbers[0] if fits else None


def _remarks(out: Yield) -> Iterable[tuple[str, date, str]]:
    """(athlete, day, remark) of sessions and sets, each once."""
    found = [(one.athlete, one.date, one.note) for one in out.sessions]
    found += [(one.athlete, one.date, one.note) for one in out.sets]
    return dict.fromkeys((who, day, note) for who, day, note in found if note)


def _corrected_numbers(remark: str) -> list[float]:
    """The numbers of a remark that says that one of them was wrong; none of any other remark."""
    if not _SAYS_OTHERWISE & set(words_of(remark)):
        return []
    return [float(number.replace(",", ".")) for number in _NUMBER.findall(remark)]


def _is_among(load_kg: float, numbers: Iterable[float]) -> bool:
    return any(abs(load_kg - number * unit) <= _NEAR for number in numbers for unit in (1.0, KG_PER_LB))
