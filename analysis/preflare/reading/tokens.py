"""Set shorthand cut into tokens: one letter for what each piece is, by signs, numbers and words of all languages."""

import re
from dataclasses import dataclass

from preflare.reading.item import LEAST_LOAD, MOST_REPS
from preflare.reading.lexicon import Lexicon
from preflare.reading.numbers import unit_of
from preflare.reading.signs import plain_signs
from preflare.reading.text import fold

_TOKEN = re.compile(
    r"[^\S\n]*(?:(?P<number>\d+(?:[.,]\d+)?)|(?P<x>[xX×*✕](?![a-z])|[xX](?=max\b|amrap\b|fail))|(?P<at>@|[wmcb]/(?=\s*\d))|(?P<percent>%)|(?P<word>[^\W\d_]+(?:['’/\-][^\W\d_]+)*\.?)"
    r"|(?P<mark>[,;:/+()\-–~|#\n&=]|.))",
    re.S,
)


_GLUED = re.compile(r"(?<![^\W\d_])(kgs?|lbs?|bw)x(?=\s*\d)", re.I)  # "140kgx5": the unit and the times sign
# Commas between repetitions, not decimal: three or more small numbers, or small numbers after "140x" and "100kg".
_LIST = re.compile(
    r"(?<![\d.,])(?P<long>\d{1,2}(?:,\d{1,2}){2,})(?![\d.,x])"
    r"|(?P<load>\d+(?:[.,]\d+)?)\s*(?:kgs?\s*x?|lbs?\s*x?|x)\s*(?P<reps>\d{1,2}(?:,\d{1,2})+)(?![\d.,x]|\s*(?:kg|lb))"
    r"|^(?P<first>\d{1,2},\d{1,2})(?=\s*@\s*\d\d)",
    re.I,
)


def _spaced_list(match: re.Match[str]) -> str:
    """The match with its list of repetitions spaced ("3, 3, 2"), unless its numbers cannot be repetitions."""
    name = next(name for name in ("long", "reps", "first") if match[name])
    numbers = [int(part) for part in match[name].split(",")]
    if max(numbers) > MOST_REPS or (name == "reps" and not _may_be_load(match)):
        return match[0]
    return match[0].replace(match[name], match[name].replace(",", ", "))


def _may_be_load(match: re.Match[str]) -> bool:
    """A load behind a plus sign hangs on the body and may be small ("BW+2,5 x5,5,4")."""
    is_added = match.string[: match.start()].rstrip().endswith("+")
    return is_added or float(match["load"].replace(",", ".")) >= LEAST_LOAD


def normalised(text: str) -> str:
    """The text with one sign for each meaning, and lists of repetitions spaced; tokens are cut from this."""
    return _LIST.sub(_spaced_list, _GLUED.sub(r"\1 x ", plain_signs(text)))


@dataclass(frozen=True, slots=True)
class Token:
    """A piece of the text: its letter in the shape, its value, and where it stands."""

    letter: str
    value: str
    start: int
    end: int


def tokenise(text: str, lexicon: Lexicon) -> list[Token]:
    """Letters: N number, x times, @ at, % percent, k unit, R rpe, I rir, F failed, W warm-up, s sets, r reps, B body
    weight, 1 2 3 single double triple, o "of", p part, E exercise, ? other word, and punctuation as itself."""
    raw = [match for match in _TOKEN.finditer(text) if match.group().strip(" \t\r\xa0") or "\n" in match.group()]
    tokens: list[Token] = []
    index = 0
    while index < len(raw):
        match = raw[index]
        kind = str(match.lastgroup)
        if kind == "word":
            token, used = _word(raw, index, lexicon)
            tokens.append(token)
            index += used
            continue
        letter = {"number": "N", "x": "x", "at": "@", "percent": "%"}.get(kind) or match["mark"]
        is_pounds = letter == "#" and bool(tokens) and tokens[-1].letter == "N" and match.start() == tokens[-1].end
        letter = "k" if is_pounds else {"–": "-", "§": "t"}.get(letter, letter)
        tokens.append(Token(letter, match[kind], match.start(kind), match.end()))
        index += 1
    return tokens


_LETTERS = {
    "sets": "s",
    "reps": "r",
    "warm_up": "W",
    "failed": "F",
    "single": "1",
    "double": "2",
    "triple": "3",
    "bodyweight": "B",
    "at": "@",
    "of": "o",
    "part": "p",
}


def _word(raw: list[re.Match[str]], index: int, lexicon: Lexicon) -> tuple[Token, int]:
    """The token for the word(s) at `index`, and how many pieces it took: the longest known phrase wins."""
    first = raw[index]
    for length in range(min(5, len(raw) - index), 0, -1):
        pieces = raw[index : index + length]
        if any(
            piece.lastgroup in {"number", "at", "percent", "x"} or piece.group().strip() in {",", ";", "\n"}
            for piece in pieces
        ):
            continue
        if pieces[-1].lastgroup != "word":
            continue
        phrase = fold(" ".join(piece.group() for piece in pieces))
        letter = _letter(phrase, lexicon, length)
        if letter == "k" and fold(first["word"]) in {"lb", "hb"} and not _follows_number(raw, index):
            letter = None  # "LB" beside words is the low bar, no pounds
        if letter:
            start, end = first.start("word"), pieces[-1].end()
            return Token(letter, "".join(p.group() for p in pieces).strip(), start, end), length
    return Token("?", first["word"], first.start("word"), first.end()), 1


def _follows_number(raw: list[re.Match[str]], index: int) -> bool:
    return index > 0 and raw[index - 1].lastgroup == "number"


def _letter(phrase: str, lexicon: Lexicon, length: int) -> str | None:
    if phrase in {"rpe", "pse"}:
        return "R"
    if phrase in {
        "rir",
        "reps in reserve",
        "in reserve",
        "in the tank",
        "in tank",
        "left",
        "left in the tank",
        "in riserva",
        "em reserva",
        "en reserva",
        "i reserv",
        "reps left",
        "reps i reserve",
        "wdh reserve",
        "buffer",
        "en reserve",
        "i reserve",
        "w zapasie",
    }:
        return "I"
    if unit_of(phrase) and phrase != "":
        return "k"
    if phrase == "x":
        return "x"
    if phrase in {"amrap", "amap", "max reps", "max"}:
        return "A"
    hit = lexicon.work.known.get(phrase)
    if hit and not (length == 1 and hit == "failed" and len(phrase) == 1 and phrase != "f"):
        return _LETTERS[hit]
    bar = lexicon.bar.known.get(phrase)
    is_squat_bar = bar in {"safety", "cambered"} and (
        len(phrase) > 5 or phrase in {"ssb"} or phrase in lexicon.bar.taught or phrase in lexicon.bar.from_legend
    )
    if lexicon.exercise.exact(phrase) or is_squat_bar or (bar and length > 1):
        return "E"
    return None
