"""Set shorthand to sets: "5x3 @140 RPE8", "140x3, 150x2", "3x5@82,5", "top single 180 @8.5, back-offs 3x4@150".

A text is cut into tokens, each token becomes one letter, and a table of shapes (regular expressions over those letters,
in shapes.py) says what the numbers mean. What no shape explains is a Problem with its text; no number is dropped.
"""

from dataclasses import replace
from typing import Any

from preflare.reading.body_counts import body_counts
from preflare.reading.item import Habits, How
from preflare.reading.lexicon import Lexicon
from preflare.reading.loads_led import with_sets_written_out
from preflare.reading.pieces import read_piece
from preflare.reading.planned_work import without_planned
from preflare.reading.same_gear import with_same_bar
from preflare.reading.shapes import match_item
from preflare.reading.signs import PER_HAND
from preflare.reading.stretches import by_exercise, has_number, segments, unknown_lead
from preflare.reading.text import fold
from preflare.reading.tokens import Token, normalised, tokenise
from preflare.reading.vocabulary import barbell_lifts, families
from preflare.reading.work import Problem as Problem
from preflare.reading.work import Work as Work
from preflare.reading.work import WorkSet as WorkSet
from preflare.reading.work_units import UnitsOfWork, unit_apart, without_unit


def parse_work(text: str, lexicon: Lexicon, allow_small_loads: bool = False, habits: Habits | None = None) -> Work:
    """The sets in `text`. allow_small_loads: a small number may be a load (curls). habits: how the log writes its sets,
    for what a text alone leaves open. Never raises.

    Where no load is written ("3x5"), the sets come without one: another column may hold it.
    """
    key: Any = (text, allow_small_loads)
    if habits is not None:
        key = (*key, habits.pair, habits.triple, habits.has_schemes, habits.is_effort_of_last, habits.is_of_planned)
        key = (*key, habits.is_load_apart)
    return lexicon.remembered("work", key, lambda: _parse(text, lexicon, How(allow_small_loads, habits or Habits())))


def _parse(text: str, lexicon: Lexicon, how: How) -> Work:
    sets: list[WorkSet] = []
    parted = without_planned(with_sets_written_out(text), lexicon)
    text = parted.done
    problems = [Problem(said, "it is called planned or not done, and was not stored") for said in parted.left_out]
    remarks: list[str] = []
    exercise: str | None = None
    is_warm_up = False
    units = UnitsOfWork()
    bars: list[int] = []  # how many sets stand before each bar
    is_per_hand = PER_HAND.search(text) is not None
    text = normalised(with_same_bar(lexicon.rewritten(text), lexicon))
    for tokens in segments(tokenise(text, lexicon)):
        is_warm_up = is_warm_up and tokens[0].letter not in {";", "\n"}
        bars += [len(sets)] * (tokens[0].value == "|")
        tokens = [token for token in tokens if token.letter not in {";", "\n"}]
        for piece, named in by_exercise(tokens, text, lexicon):
            unit, piece = unit_apart(piece)
            if named is None and exercise is not None and len(lead := unknown_lead(piece, lexicon)) > 0:
                named, piece = text[lead[0].start : lead[-1].end], piece[len(lead) :]
            if named is not None:
                (exercise, own_unit), is_warm_up = without_unit(named, lexicon), False
                units.exercise(own_unit)
            if unit is not None:
                units.told(unit, is_for_all=exercise is None or not has_number(piece))
            if (warm := _warm_up_word(piece)) is not None:  # "w/u 60x5, 80x3": all that follows, to the next mark
                is_warm_up = True
                piece = [*piece[:warm], *piece[warm + 1 :]]
            elif any(token.letter == "p" for token in piece):
                is_warm_up = False
            if exercise is not None and (counts := body_counts(piece, exercise, lexicon)):
                sets += [WorkSet(None, None, None, n, None, None, is_warm_up, False, True, exercise) for n in counts]
                continue
            own = how if exercise is None else replace(how, small=_takes_small_loads(exercise, lexicon))
            for part, in_brackets in _by_brackets(_without_marks(piece), own):
                found = read_piece(part, text, own)
                marked = is_warm_up or in_brackets
                for one in found.sets:
                    unit = units.of(one.unit) if one.load is not None else one.unit
                    warm = marked or one.is_warm_up
                    sets.append(replace(one, exercise=exercise, unit=unit, is_warm_up=warm))
                problems += found.problems
                remarks += found.remarks
    if is_per_hand and sets:
        problems.append(Problem(text, "the load was read as that of one hand", is_doubt=True))
    is_told = "before_stroke" in lexicon.own_words  # by the log's legend
    if len(bars) == 1 and (is_told or _rises_over(sets, bars[0])):
        if not is_told:
            problems.append(Problem(text, "the sets before the bar were read as warm-ups", is_doubt=True))
        sets = [replace(one, is_warm_up=one.is_warm_up or i < bars[0]) for i, one in enumerate(sets)]
    return Work(tuple(_without_last_warm_up(_ramp_marked(sets))), tuple(problems), tuple(remarks))


def _rises_over(sets: list[WorkSet], n: int) -> bool:
    """Whether the first `n` sets are lighter by a tenth and more than all others: "60x5 | 100x5"."""
    before, behind = sets[:n], sets[n:]
    if not before or not behind or any(one.is_warm_up or one.load is None for one in sets):
        return False
    is_one_lift = len({(one.exercise, one.unit, one.is_added) for one in sets}) == 1
    return is_one_lift and max(one.load or 0.0 for one in before) <= 0.9 * min(one.load or 0.0 for one in behind)


def _ramp_marked(sets: list[WorkSet]) -> list[WorkSet]:
    """ "60x5, 80x3 (w/u), 3x5@100": a mark behind a set holds for the lighter ones of its lift before it as well."""
    marked = list(sets)
    for i, one in enumerate(sets):
        before = [k for k in range(i) if sets[k].exercise == one.exercise]
        if one.is_warm_up and one.load and all(0 < (sets[k].load or 0.0) < one.load for k in before):
            for k in before:
                marked[k] = replace(marked[k], is_warm_up=True)
    return marked


def _warm_up_word(piece: list[Token]) -> int | None:
    """Where a word for warm-ups stands before the first number of a piece."""
    for index, token in enumerate(piece):
        if token.letter in "N([":
            return None
        if token.letter == "W":
            return index
    return None


def _by_brackets(tokens: list[Token], how: How) -> list[tuple[list[Token], bool]]:
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
    item, _ = match_item(inside, how) if inside else (None, 0)
    if item is None or not item.loads:
        return [(tokens, False)]
    return [(tokens[:start], False), (inside, True), *_by_brackets(tokens[close + 1 :], how)]


def _without_marks(piece: list[Token]) -> list[Token]:
    """The piece without words that name a part, and without colons but those between a load and its repetitions."""
    kept = [token for token in piece if token.letter not in "pE"]
    return [
        token
        for i, token in enumerate(kept)
        if token.letter != ":" or (0 < i < len(kept) - 1 and kept[i - 1].letter in "NkB" and kept[i + 1].letter == "N")
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
    words = fold(exercise).split()
    names = [whole] if whole else [hit for _, _, hit in lexicon.exercise.find(words)]
    if not names:
        return False
    is_in_hands = any(hit == "other" for _, _, hit in lexicon.bar.find(words)) or _begins_with_dumbbell(words, lexicon)
    is_in_hands = is_in_hands and names[-1] not in barbell_lifts()
    return is_in_hands or names[-1].startswith("dumbbell") or families()[names[-1]] in {"elbow flexion", "other"}


def _begins_with_dumbbell(words: list[str], lexicon: Lexicon) -> bool:
    """Whether a word is made of one for dumbbells, cables or machines and more: "Kurzhantelrudern"."""
    others = [name for name, hit in lexicon.bar.known.items() if hit == "other" and len(name) > 4]
    return any(word.startswith(name) for word in words for name in others)
