"""Set shorthand to sets: "5x3 @140 RPE8", "140x3, 150x2", "3x5@82,5", "top single 180 @8.5, back-offs 3x4@150".

A text is cut into tokens, each token becomes one letter, and a table of shapes (regular expressions over those letters,
in shapes.py) says what the numbers mean. What no shape explains is a Problem with its text; no number is dropped.
"""

from dataclasses import dataclass, replace

from preflare.reading.item import Item
from preflare.reading.lexicon import Lexicon
from preflare.reading.same_gear import with_same_bar
from preflare.reading.shapes import match_item
from preflare.reading.signs import PER_HAND
from preflare.reading.text import fold
from preflare.reading.tokens import Token, normalised, tokenise
from preflare.reading.vocabulary import families
from preflare.reading.work_units import UnitsOfWork, unit_apart, without_unit

MAX_SETS = 20  # of one item; more is a misreading


@dataclass(frozen=True, slots=True)
class WorkSet:
    """One set read from shorthand. percent: of 1RM, where that stands instead of a load."""

    load: float | None
    unit: str | None  # "kg", "lb", None where the text does not say
    percent: float | None
    reps: int | None
    rpe: float | None
    rir: float | None
    is_warm_up: bool = False
    is_failed: bool = False
    is_added: bool = False  # the load hangs on the body ("BW+20")
    exercise: str | None = None  # written in the text itself, as written


@dataclass(frozen=True, slots=True)
class Problem:
    """A piece of the text that was not understood, or was read with a doubt (is_doubt: it was stored all the same)."""

    text: str
    reason: str
    is_doubt: bool = False


@dataclass(frozen=True, slots=True)
class Work:
    """All of one text: its sets, what was not understood, and remarks found between the sets."""

    sets: tuple[WorkSet, ...]
    problems: tuple[Problem, ...] = ()
    remarks: tuple[str, ...] = ()


def parse_work(text: str, lexicon: Lexicon, allow_small_loads: bool = False) -> Work:
    """The sets in `text`. allow_small_loads: a small number may be a load (curls). Never raises.

    Where no load is written ("3x5"), the sets come without one: another column may hold it.
    """
    key = (text, allow_small_loads)
    if key not in lexicon.work_read:
        if len(lexicon.work_read) > 100_000:
            lexicon.work_read.clear()
        lexicon.work_read[key] = _parse(text, lexicon, allow_small_loads)
    return lexicon.work_read[key]  # type: ignore[no-any-return]


def _parse(text: str, lexicon: Lexicon, small: bool) -> Work:
    sets: list[WorkSet] = []
    problems: list[Problem] = []
    remarks: list[str] = []
    exercise: str | None = None
    is_warm_up = False
    units = UnitsOfWork()
    is_per_hand = PER_HAND.search(text) is not None
    text = normalised(with_same_bar(lexicon.rewritten(text), lexicon))
    for tokens in _segments(tokenise(text, lexicon)):
        is_warm_up = is_warm_up and tokens[0].letter not in {";", "\n"}
        tokens = [token for token in tokens if token.letter not in {";", "\n"}]
        for piece, named in _by_exercise(tokens, text, lexicon):
            unit, piece = unit_apart(piece)
            if named is None and exercise is not None and len(lead := _unknown_lead(piece, lexicon)) > 0:
                named, piece = text[lead[0].start : lead[-1].end], piece[len(lead) :]
            if named is not None:
                (exercise, own_unit), is_warm_up = without_unit(named, lexicon), False
                units.exercise(own_unit)
            if unit is not None:
                units.told(unit, is_for_all=exercise is None or not _has_number(piece))
            if (warm := _warm_up_word(piece)) is not None:  # "w/u 60x5, 80x3": all that follows, to the next mark
                is_warm_up = True
                piece = [*piece[:warm], *piece[warm + 1 :]]
            elif any(token.letter == "p" for token in piece):
                is_warm_up = False
            is_small = small if exercise is None else _takes_small_loads(exercise, lexicon)
            for part, in_brackets in _by_brackets(_without_marks(piece), is_small):
                found = _read_piece(part, text, is_small)
                marked = is_warm_up or in_brackets
                for one in found.sets:
                    unit = units.of(one.unit) if one.load is not None else one.unit
                    warm = marked or one.is_warm_up
                    sets.append(replace(one, exercise=exercise, unit=unit, is_warm_up=warm))
                problems += found.problems
                remarks += found.remarks
    if is_per_hand and sets:
        problems.append(Problem(text, "the load was read as that of one hand", is_doubt=True))
    return Work(tuple(_without_last_warm_up(_ramp_marked(sets))), tuple(problems), tuple(remarks))


def _ramp_marked(sets: list[WorkSet]) -> list[WorkSet]:
    """ "60x5, 80x3 (w/u), 3x5@100": a mark behind a set holds for the lighter ones of its lift before it as well."""
    marked = list(sets)
    for i, one in enumerate(sets):
        before = [k for k in range(i) if sets[k].exercise == one.exercise]
        if one.is_warm_up and one.load and all(0 < (sets[k].load or 0.0) < one.load for k in before):
            for k in before:
                marked[k] = replace(marked[k], is_warm_up=True)
    return marked


def _unknown_lead(piece: list[Token], lexicon: Lexicon) -> list[Token]:
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


def _warm_up_word(piece: list[Token]) -> int | None:
    """Where a word for warm-ups stands before the first number of a piece."""
    for index, token in enumerate(piece):
        if token.letter in "N([":
            return None
        if token.letter == "W":
            return index
    return None


def _by_brackets(tokens: list[Token], small: bool) -> list[tuple[list[Token], bool]]:
    """The tokens cut at brackets that begin them and hold whole sets, which are warm-ups: "[40x8 60x5] 3x5@80"."""
    start = next((i for i, token in enumerate(tokens) if token.letter in "N(["), None)
    if start is None or tokens[start].letter == "N":
        return [(tokens, False)]
    close = next(
        (i for i, t in enumerate(tokens) if i > start and t.letter == {"(": ")", "[": "]"}[tokens[start].letter]), None
    )
    if close is None:
        return [(tokens, False)]
    inside = tokens[start + 1 : close]
    item, _ = match_item(inside, small) if inside else (None, 0)
    if item is None or not item.loads:
        return [(tokens, False)]
    return [(tokens[:start], False), (inside, True), *_by_brackets(tokens[close + 1 :], small)]


def _without_marks(piece: list[Token]) -> list[Token]:
    """The piece without words that name a part, and without colons but those between a load and its repetitions."""
    kept = [token for token in piece if token.letter not in "pE"]
    return [
        token
        for i, token in enumerate(kept)
        if token.letter != ":" or (0 < i < len(kept) - 1 and kept[i - 1].letter in "Nk" and kept[i + 1].letter == "N")
    ]


def _without_last_warm_up(sets: list[WorkSet]) -> list[WorkSet]:
    """ "w/u 60x5, 80x3, 3x5 @100": where all is called warm-up, the last block at a load above all others is work."""
    if len(sets) < 3 or not all(one.is_warm_up and one.load for one in sets):
        return sets
    top = max(one.load or 0.0 for one in sets)
    n = sum(one.load == top for one in sets)
    is_block = 1 < n < len(sets) and all(one.load == top for one in sets[-n:])
    return [replace(one, is_warm_up=False) if is_block and i >= len(sets) - n else one for i, one in enumerate(sets)]


def _takes_small_loads(exercise: str, lexicon: Lexicon) -> bool:
    whole = lexicon.exercise.exact(exercise)
    names = [whole] if whole else [hit for _, _, hit in lexicon.exercise.find(fold(exercise).split())]
    return bool(names) and families()[names[-1]] in {"elbow flexion", "other"}


def _segments(tokens: list[Token]) -> list[list[Token]]:
    """Tokens cut at ";" and line breaks; the mark leads the segment that it opens."""
    segments: list[list[Token]] = [[]]
    for token in tokens:
        if token.letter in {";", "\n", "|"}:
            segments.append([replace(token, letter=";")])
        else:
            segments[-1].append(token)
    return [segment for segment in segments if segment]


def _by_exercise(tokens: list[Token], text: str, lexicon: Lexicon) -> list[tuple[list[Token], str | None]]:
    """Tokens cut where an exercise is named, with the words that name it; gear named right behind it included."""
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
    if _has_number(pieces[0][0]) and not _has_number(
        pieces[-1][0]
    ):  # "4x8 curls, 3x10 rows": the name follows its sets
        names = [name for _, name in pieces[1:]]
        pieces = [(piece, name) for (piece, _), name in zip(pieces, [*names, None], strict=True)]
    return [(_trim(piece, is_first=True), name) for piece, name in pieces if piece or name]


def _ends_sentence(word: str, lexicon: Lexicon) -> bool:
    """Whether the point behind a word ends a sentence: no word of an exercise is shortened so ("bulg. split squat")."""
    begun = fold(word)
    known = (
        part for phrases in (lexicon.exercise, lexicon.modifier) for name in phrases.known for part in name.split()
    )
    return word.endswith(".") and len(begun) > 1 and not any(part.startswith(begun) for part in known)


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


def _with_gear(tokens: list[Token], end: int) -> bool:
    return tokens[end + 1].letter == "@" and end + 2 < len(tokens) and tokens[end + 2].letter == "E"


def _bracketed_words(tokens: list[Token], start: int) -> int | None:
    """Where brackets that open at `start` and hold only words close; None when there are none."""
    end = start + 1
    while end < len(tokens) and tokens[end].letter in "E?pk,/&-+":
        end += 1
    is_closed = start < len(tokens) and tokens[start].letter == "(" and end < len(tokens) and tokens[end].letter == ")"
    return end if is_closed and end > start + 1 else None


def _has_number(tokens: list[Token]) -> bool:
    return any(token.letter == "N" for token in tokens)


def _is_added(tokens: list[Token]) -> bool:
    """Whether the tokens begin with a plus sign right before a load and its repetitions."""
    letters = "".join(token.letter for token in tokens[:4])
    return letters.startswith(("+Nx", "+Nkx")) and tokens[0].end == tokens[1].start


def _trim(tokens: list[Token], is_first: bool = False) -> list[Token]:
    """The tokens without marks at either end; a plus sign at a load hangs it on the body ("bw x8, +10x6")."""
    before = "," if is_first else ""
    while tokens and tokens[0].letter in ",:/-+&.=|":
        if before == "," and _is_added(tokens):
            break
        before, tokens = tokens[0].letter, tokens[1:]
    while tokens and tokens[-1].letter in ",:/-+&.=|":
        tokens = tokens[:-1]
    return tokens


def _read_piece(tokens: list[Token], text: str, small: bool) -> Work:
    """The sets of one stretch of tokens, item by item: the longest item that some shape explains comes first."""
    sets: list[WorkSet] = []
    problems: list[Problem] = []
    remarks: list[str] = []
    while tokens := _trim(tokens, is_first=not sets):
        item, used = match_item(tokens, small)
        if item is None:
            end = _comment_end(tokens)
            written = text[tokens[0].start : tokens[end - 1].end].strip(" ,")
            if _is_remark(tokens[:end]):
                remarks.append(written)
            else:
                problems.append(
                    Problem(written, "it is not written like sets, repetitions and load in a form that is known")
                )
            tokens = tokens[end:]
            continue
        made, doubts = _expand(item, text[tokens[0].start : tokens[used - 1].end])
        sets += made
        problems += doubts
        tokens = tokens[used:]
    return Work(tuple(sets), tuple(problems), tuple(remarks))


def _comment_end(tokens: list[Token]) -> int:
    """Where a stretch that is no item ends: at the next comma that is followed by a number, or at the end."""
    for index, token in enumerate(tokens[1:], start=1):
        if token.letter == "," and index + 1 < len(tokens) and tokens[index + 1].letter == "N":
            return index
        if (
            token.letter == "N"
            and index + 1 < len(tokens)
            and tokens[index + 1].letter == "x"
            and tokens[index - 1].letter == "?"
        ):
            return index
    return len(tokens)


def _is_remark(tokens: list[Token]) -> bool:
    """A stretch of words, whose only numbers are a rating ("elbow 4/10") or none, is a remark and no lost work."""
    letters = "".join(token.letter for token in tokens)
    if "N" not in letters:
        return True
    if set(letters) & {"s", "r", "F"}:
        return False  # "last set only 4": it changes what was done
    return letters.startswith(("?", "(")) and "x" not in letters and "@" not in letters and "k" not in letters


def _expand(item: Item, written: str) -> tuple[list[WorkSet], list[Problem]]:
    """An item as single sets, and the doubts that reading it left."""
    doubts = [Problem(written, reason, is_doubt=True) for reason in item.doubts]
    n = len(item.reps) if len(item.reps) > 1 else item.sets
    loads = item.loads if len(item.loads) > 1 else item.loads * max(n, 1)
    n = max(n, len(loads))
    if n > MAX_SETS:
        return [], [Problem(written, f"it would be {n} sets")]
    reps = item.reps if len(item.reps) > 1 else item.reps * n
    loads = loads or (None,) * n
    if len(loads) != n or len(reps) != n:
        return [], [Problem(written, f"it names {len(loads)} loads for {len(reps)} sets")]
    failed_at = n - 1 if item.is_failed else -1
    return [
        WorkSet(
            loads[i],
            item.unit,
            item.percent,
            reps[i],
            item.rpes[i] if item.rpes else item.rpe,
            item.rir,
            item.is_warm_up,
            i == failed_at,
            item.is_added,
        )
        for i in range(n)
    ], doubts
