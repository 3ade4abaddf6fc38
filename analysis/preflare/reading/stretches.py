"""Set shorthand cut into stretches: at its marks and line breaks, and where an exercise is named."""

from dataclasses import replace

from preflare.reading.lexicon import Lexicon
from preflare.reading.text import fold
from preflare.reading.tokens import Token


def segments(tokens: list[Token]) -> list[list[Token]]:
    """Tokens cut at ";" and line breaks; the mark leads the segment that it opens."""
    found: list[list[Token]] = [[]]
    for token in tokens:
        if token.letter in {";", "\n", "|"}:
            found.append([replace(token, letter=";")])
        else:
            found[-1].append(token)
    return [segment for segment in found if segment]


def by_exercise(tokens: list[Token], text: str, lexicon: Lexicon) -> list[tuple[list[Token], str | None]]:
    """Tokens cut where an exercise is named, with the words that name it; gear named right behind it included."""
    tokens = _without_brackets_around_names(tokens)
    pieces: list[tuple[list[Token], str | None]] = [([], None)]
    index = name_start = 0
    while index < len(tokens):
        if tokens[index].letter == "E":
            end = index
            while end + 1 < len(tokens) and (tokens[end + 1].letter in "E?" or _with_gear(tokens, end)):
                end += 2 if tokens[end + 1].letter == "@" else 1  # "Kniebeuge mit Sicherheitsstange"
            end = _end_of_name(tokens, end)
            start = index
            is_gear = lexicon.exercise.exact(tokens[index].value) is None
            if is_gear and pieces[-1][1] is not None and all(token.letter in ",?" for token in pieces[-1][0]):
                pieces[-1] = ([], text[tokens[name_start].start : tokens[end].end].strip(" :,/"))
                index = end + 1
                continue
            while (
                start > 0
                and tokens[start - 1].letter == "?"
                and not _ends_sentence(tokens[start - 1].value, lexicon)
                and pieces[-1][0]
                and pieces[-1][0][-1] is tokens[start - 1]
            ):
                start -= 1
                pieces[-1][0].pop()
            name_start = start
            pieces.append(([], text[tokens[start].start : tokens[end].end].strip(" :,/")))
            index = end + 1
            continue
        pieces[-1][0].append(tokens[index])
        index += 1
    if has_number(pieces[0][0]) and not has_number(pieces[-1][0]):  # "4x8 curls, 3x10 rows": the name follows its sets
        names = [name for _, name in pieces[1:]]
        pieces = [(piece, name) for (piece, _), name in zip(pieces, [*names, None], strict=True)]
    return [(trim(piece), name) for piece, name in pieces if piece or name]


def _without_brackets_around_names(tokens: list[Token]) -> list[Token]:
    """The tokens without brackets that begin them and hold a lift or bar alone: "(SSB) 175x5"."""
    if len(tokens) < 4 or tokens[0].letter not in "([" or tokens[1].letter != "E":
        return tokens
    end = next((i for i, token in enumerate(tokens) if token.letter != "E" and i > 0), len(tokens))
    is_closed = end < len(tokens) - 1 and tokens[end].letter == {"(": ")", "[": "]"}[tokens[0].letter]
    return [*tokens[1:end], *tokens[end + 1 :]] if is_closed else tokens


def _with_gear(tokens: list[Token], end: int) -> bool:
    return tokens[end + 1].letter == "@" and end + 2 < len(tokens) and tokens[end + 2].letter == "E"


def _end_of_name(tokens: list[Token], end: int) -> int:
    """The last token of an exercise's name, words behind it in brackets or after a comma included."""
    while True:
        if (close := _bracketed_words(tokens, end + 1)) is not None:  # "Squat (SSB)"
            end = close
            continue
        behind = end + 1
        while behind < len(tokens) and tokens[behind].letter in ",":
            behind += 1
        words = behind
        while words < len(tokens) and tokens[words].letter in "?E":
            words += 1
        is_more = behind > end + 1 and words > behind and words < len(tokens) and tokens[words].letter in "N:([WB,"
        if not is_more or any(token.letter == "E" for token in tokens[behind:words]):
            return end
        end = words - 1


def _bracketed_words(tokens: list[Token], start: int) -> int | None:
    """Where brackets that open at `start` and hold only words close; None when there are none."""
    end = start + 1
    while end < len(tokens) and tokens[end].letter in "E?pk,/&-+":
        end += 1
    is_closed = start < len(tokens) and tokens[start].letter == "(" and end < len(tokens) and tokens[end].letter == ")"
    return end if is_closed and end > start + 1 else None


def unknown_lead(piece: list[Token], lexicon: Lexicon) -> list[Token]:
    """Words before the first number of a piece that are no gear, part or remark: they name an exercise nobody knows."""
    number = next((i for i, token in enumerate(piece) if token.letter in "NWB(["), 0)
    lead = [token for token in piece[:number] if token.letter not in ".,:"]
    if not lead or any(token.letter != "?" for token in lead) or len(lead) > 4 or len(lead[0].value) < 3:
        return []
    gear = (lexicon.modifier, lexicon.position, lexicon.width, lexicon.style, lexicon.bar, lexicon.work)
    felt = (lexicon.kind, lexicon.side, lexicon.severity, lexicon.site, lexicon.moment, lexicon.negation)
    words = fold(" ".join(token.value for token in lead)).split()
    if any(word in phrases.known for word in words for phrases in (*gear, *felt)):
        return []
    return piece[:number]


def trim(tokens: list[Token]) -> list[Token]:
    """The tokens without the signs around them; a plus sign before a number at the front stays: a load hung on."""
    while tokens and tokens[0].letter in ",:/-+&.=|" and not _belongs(tokens):
        tokens = tokens[1:]
    while tokens and tokens[-1].letter in ",:/-+&.=|":
        tokens = tokens[:-1]
    return tokens


def _belongs(tokens: list[Token]) -> bool:
    """Whether the sign in front belongs to the number behind it: "+10x5", "-10%"."""
    is_less = tokens[0].letter == "-" and len(tokens) > 2 and tokens[2].letter == "%"
    return (tokens[0].letter == "+" or is_less) and is_number(tokens, 1)


def is_number(tokens: list[Token], at: int) -> bool:
    return at < len(tokens) and tokens[at].letter == "N"


def has_number(tokens: list[Token]) -> bool:
    return any(token.letter == "N" for token in tokens)


def _ends_sentence(word: str, lexicon: Lexicon) -> bool:
    """Whether the point behind a word ends a sentence: no word of an exercise is shortened so ("bulg. split squat")."""
    begun = fold(word)
    known = (
        part for phrases in (lexicon.exercise, lexicon.modifier) for name in phrases.known for part in name.split()
    )
    return word.endswith(".") and len(begun) > 1 and not any(part.startswith(begun) for part in known)
