"""Set shorthand cut into tokens: one letter for what each piece is, by signs, numbers and words of all languages."""

import re
from dataclasses import dataclass, replace

from preflare.reading.item import LEAST_LOAD, MOST_REPS
from preflare.reading.lexicon import Lexicon
from preflare.reading.numbers import unit_of
from preflare.reading.signs import plain_signs
from preflare.reading.text import fold

_TOKEN = re.compile(
    r"[^\S\n]*(?:(?P<number>\d+(?:[.,]\d+)?)|(?P<x>[xX×*](?![a-z])|[xX](?=max\b|maks\b|amrap\b|fail|bw\b|kv\b|cl\b|pc\b|pdc\b|mc\b|lg\b|kg\b))|(?P<at>@|[wmcb]/(?=\s*\d))|(?P<percent>%)|(?P<word>[^\W\d_]+(?:['’/\-][^\W\d_]+)*\.?)"
    r"|(?P<mark>[,;:/+()\-–~|#\n&=]|.))",
    re.S,
)


# "140kgx5", "KVx5": the unit or the body's weight, and the times sign
_GLUED = re.compile(r"(?<![^\W\d_])(kgs?|lbs?|bw|kv|cl|pc|pdc|mc|lg|kgw|eg)[x×](?=\s*\d)", re.I)
# Commas between repetitions, not decimal: three or more small numbers, or small numbers after "140x" and "100kg".
_LIST = re.compile(
    r"(?<![\d.,])(?P<long>\d{1,2}(?:,\d{1,2}){2,})(?![\d.,x])"
    r"|(?P<load>\d+(?:[.,]\d+)?)\s*(?:kgs?\s*x?|lbs?\s*x?|x)\s*(?P<reps>\d{1,2}(?:,\d{1,2})+)(?![\d.,x]|\s*(?:kg|lb))"
    r"|^(?P<first>\d{1,2},\d{1,2})(?=\s*@\s*\d\d)",
    re.I,
)


# "BW x5 x4 x4", "60x8, x7": the times sign before each number of repetitions.
_TIMES_EACH = re.compile(
    r"(?<=[\d\sw])[x×*]\s?(?P<first>\d{1,2})(?P<more>(?:\s+[x×*]\s?\d{1,2}){2,}|(?:\s*[,;/]\s*[x×*]\s?\d{1,2})+)"
    r"(?![\d.,]*\d|\s*(?:kgs?|lbs?|[x×*@%]))",
    re.I,
)


def _times_once(match: re.Match[str]) -> str:
    numbers = [match["first"], *re.findall(r"\d+", match["more"])]
    return f"x{', '.join(numbers)}" if max(map(int, numbers)) <= MOST_REPS else match[0]


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
    return _LIST.sub(_spaced_list, _TIMES_EACH.sub(_times_once, _GLUED.sub(r"\1 x ", plain_signs(text))))


@dataclass(frozen=True, slots=True)
class Token:
    """A piece of the text: its letter in the shape, its value, and where it stands."""

    letter: str
    value: str
    start: int
    end: int


def tokenise(text: str, lexicon: Lexicon) -> list[Token]:
    """Letters: N number, x times, @ at, % percent, k unit, R rpe, I rir, A as many as possible, F failed, W warm-up,
    s sets, r reps, B body weight, 1 2 3 single double triple, o "of", p part, C "no, rather", D "the same", E exercise,
    ? other word, and punctuation as itself."""
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
        letter = "k" if is_pounds else _MARKS.get(letter, letter)
        tokens.append(Token(letter, match[kind], match.start(kind), match.end()))
        index += 1
    return _in_their_place(tokens)


_MARKS = {"–": "-", "§": "t", '"': "D", "”": "D", "“": "D", "„": "D", "〃": "D", "″": "D"}
# Letters that hold only beside what their words speak of: what must stand before the token, and what behind it.
_PLACES = (
    ("C", re.compile(r"[^\n]*[NkFR),(\-]"), re.compile(r"[,:(]*x?N")),
    ("D", re.compile(r"|.*[,x;/DNkR)\n]", re.S), re.compile(r"$|[,;|/@RI(xD\n]")),
    ("I", re.compile(r".*N[-,r@o]*", re.S), re.compile(r"$|[^N?E]")),
    ("I", re.compile(r".*", re.S), re.compile(r"[@o:=]?N")),
)


def _in_their_place(tokens: list[Token]) -> list[Token]:
    """The tokens; a word that says something only beside a set ("no", "same", "left") is a plain word elsewhere."""
    if not any(token.letter in "CDI" for token in tokens):
        return tokens
    letters = "".join(token.letter for token in tokens)
    return [
        token
        if token.letter not in "CDI" or _holds(letters, at) or fold(token.value) == "rir"
        else replace(token, letter="?")
        for at, token in enumerate(tokens)
    ]


def _holds(letters: str, at: int) -> bool:
    """Whether one of the places where a letter holds is where it stands."""
    return any(
        letter == letters[at] and before.fullmatch(letters, 0, at) is not None and behind.match(letters, at + 1)
        for letter, before, behind in _PLACES
    )


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
    "reserve": "I",
    "most": "A",
    "instead": "C",
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
        if letter == "k" and not _follows_number(raw, index):
            letter = _unit_alone(phrase, raw, index)
        if letter:
            start, end = first.start("word"), pieces[-1].end()
            return Token(letter, "".join(p.group() for p in pieces).strip(), start, end), length
    return Token("?", first["word"], first.start("word"), first.end()), 1


def _follows_number(raw: list[re.Match[str]], index: int) -> bool:
    return index > 0 and raw[index - 1].lastgroup == "number"


def _unit_alone(phrase: str, raw: list[re.Match[str]], index: int) -> str | None:
    """A unit without a number: "8×KG" is German "Körpergewicht"; "LB" beside words is the low bar, no pounds."""
    if phrase == "kg":
        neighbours = raw[max(index - 1, 0) : index] + raw[index + 1 : index + 2]
        return "B" if any(piece.lastgroup == "x" for piece in neighbours) else "k"
    return None if phrase in {"lb", "hb"} else "k"


def _letter(phrase: str, lexicon: Lexicon, length: int) -> str | None:
    if phrase in {"rpe", "pse"}:
        return "R"
    if unit_of(phrase) and phrase != "":
        return "k"
    if phrase == "x":
        return "x"
    hit = lexicon.work.known.get(phrase)
    if hit and not (length == 1 and hit == "failed" and len(phrase) == 1 and phrase != "f"):
        return _LETTERS[hit]
    if lexicon.sheet_word(phrase, "same"):
        return "D"
    bar = lexicon.bar.known.get(phrase)
    is_squat_bar = bar in {"safety", "cambered"} and (
        len(phrase) > 5 or phrase in {"ssb"} or phrase in lexicon.bar.taught or phrase in lexicon.bar.from_legend
    )
    if lexicon.exercise.exact(phrase) or is_squat_bar or (bar and length > 1):
        return "E"
    return None
