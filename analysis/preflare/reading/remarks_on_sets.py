"""What the remark of a row says of its sets: that they were left out, or the grip and bar of that day alone.

"No time, left out"; "bredt grep i dag". A remark that says more than this in the same clause says nothing here.
"""

import re
from collections.abc import Iterator

from preflare.reading.clauses import words_of_clause
from preflare.reading.context import SheetContext
from preflare.reading.legend_lines import legend_words
from preflare.reading.lexicon import Lexicon
from preflare.reading.lift_cells import Lift, SetColumns
from preflare.reading.lifts import lifts_of_row
from preflare.reading.tables import Column
from preflare.reading.text import fold, words_of
from preflare.reading.words import Gear

_CLAUSE = re.compile(r"[,;.:()!/–—]|\s-\s|\n")
_KINDS = ("position", "width", "bar")


def done_of_row(
    context: SheetContext, row: int, groups: list[SetColumns], exercise: str | None, column: Column | None
) -> list[Lift]:
    """The sets of a row; none, and the row told of, where its remark says that they were left out.

    column: of remarks. A remark that speaks of one set of several ("third set skipped") settles nothing of the row.
    """
    lifts = lifts_of_row(context, row, groups, exercise)
    note = context.cell(row, column.index) if column is not None and lifts else None
    if column is None or not isinstance(note, str) or not _says_left_out(note, context.lexicon):
        return lifts
    reason = f'the remark "{note}" says that this was not done; no set was stored'
    context.reject_cell(row, column.index, note, reason, "take the remark out, or write what was done of it")
    return []


def _says_left_out(note: str, lexicon: Lexicon) -> bool:
    """Whether a clause of a remark says "left out" and nothing else, and the remark names no set and no number."""
    if any(letter.isdecimal() for letter in note) or words_of_clause("sets") & set(words_of(note)):
        return False
    return any(lexicon.sheet_word(clause, "left_out") for clause in _CLAUSE.split(note) if clause.strip())


def gear_in_remark(context: SheetContext, note: str | None) -> Gear:
    """Bar, place and grip in a clause of a remark that names them, and at most the day besides ("wide grip today")."""
    if note is None or "?" in note or len(note) > 200:
        return Gear()
    found: dict[str, set[str]] = {kind: set() for kind in _KINDS}
    for clause in _CLAUSE.split(note):
        words = words_of(clause)
        named = list(gear_named(words, context.lexicon))
        known = {i for start, end, _, _ in named for i in range(start, end)}
        beside = (legend_words(kind) for kind in ("today", "used"))
        known |= {i for table in beside for start, end, _ in table.find(words) for i in range(start, end)}
        is_denied = bool(legend_words("none").known.keys() & set(words))
        if (
            named
            and not is_denied
            and all(i in known or _is_small(word, context.lexicon) for i, word in enumerate(words))
        ):
            for _, _, kind, hit in named:
                found[kind].add(hit)
    told = {kind: hits.pop() for kind, hits in found.items() if len(hits) == 1}
    if told:
        context.assume(f'A remark was read as the bar or grip of its set: "{note}" as {", ".join(told.values())}.')
    bar, position, width = told.get("bar"), told.get("position"), told.get("width")
    return Gear(bar=bar, bar_written=note if bar else None, position=position, width=width)  # type: ignore[arg-type]


def gear_named(words: list[str], lexicon: Lexicon) -> Iterator[tuple[int, int, str, str]]:
    """(start, end, kind, value) of each word for a bar, its place or a grip, of two words or beside one that heads it.

    "Wide" alone may be a stance, "high" a mood: a lone word counts only where a word for grip or bar stands beside it.
    """
    used: set[int] = set()
    for kind in _KINDS:
        for start, end, hit in getattr(lexicon, kind).find(words):
            near = words[max(0, start - 1) : start] + words[end : end + 1]
            is_headed = end - start > 1 or any(_heads_gear(word, lexicon) for word in near)
            if is_headed and not used & set(range(start, end)):
                used |= set(range(start, end))
                yield start, end, kind, hit


def _heads_gear(word: str, lexicon: Lexicon) -> bool:
    return bool({"bar", "grip", "bar_position"} & set(lexicon.headings_of.get(word, [])))


def _is_small(word: str, lexicon: Lexicon) -> bool:
    """An article, "with", or a word that heads columns of gear."""
    is_with = lexicon.work.known.get(fold(word)) == "at"
    return is_with or word in legend_words("article").known or _heads_gear(word, lexicon)
