"""How a log writes its sets where a cell alone leaves it open: "16x10" is load x repetitions in one log and repetitions
x load in another.

All cells of a sheet are asked, and those of its file where the sheet says too little: a number with a decimal part, a
unit, or beyond any number of repetitions is the load. A line that explains it ("Satz: Wiederholungen × kg") goes first.
"""

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cached_property

from preflare.reading.clauses import words_of_clause
from preflare.reading.coded import CodedRows
from preflare.reading.item import MOST_REPS, Habits
from preflare.reading.lexicon import Lexicon
from preflare.reading.numbers import unit_of
from preflare.reading.spaced_sets import write_load_apart
from preflare.reading.text import Cell, fold
from preflare.reading.workbook import Sheet

_NUMBER = r"(\d+(?:[.,]\d+)?)\s*(kgs?|lbs?|#)?"
_TIMES = r"\s*[x×*✕·]\s*"
_CHAIN = re.compile(
    rf"(?<![\d.,@/x×*+\-]){_NUMBER}{_TIMES}(\+)?\s*{_NUMBER}(?:{_TIMES}(\+)?\s*{_NUMBER})?"
    r"(?P<behind>\s*(?:@\s*\d{2,}|\d+(?:[.,]\d+)?(?![\d.,]|\s*(?:kgs?|lbs?)?\s*[x×*✕·])|%|[^\W\d_]|[/×*]|[\"″']))?",
    re.I,
)
_LOAD_BEFORE = re.compile(r"(?:\d|kgs?|lbs?)\s*[:(-]?\s*$", re.I)  # "100 3x5", "100 kg: 3x5"
_LEAST = 2  # sets that must say so
_SHARE = 0.9  # of the sets that say either
_MOST_TEXT = 400  # letters of a cell that is looked at
_ROLES = {"load": "L", "reps": "R", "sets": "S"}
_EFFORT = re.compile(r"(?<![^\W\d_])(?:rpe|rir|pse|buffer|puffer|b\d)(?![^\W\d_])|^\s*@", re.I)


class FileHabits:
    """The habits of one file, found out when first asked for."""

    def __init__(self, sheets: Sequence[Sheet], lines: Iterable[str], lexicon: Lexicon) -> None:
        self._sheets, self._lines, self._lexicon = sheets, list(lines), lexicon
        self._votes: dict[int, Counter[str]] = {}
        self._found: dict[int, tuple[Habits, str]] = {}

    def of(self, sheet: Sheet) -> tuple[Habits, str]:
        """The habits of a sheet, and what to tell of the orders, "" where nothing was found out."""
        if id(sheet) not in self._found:
            self._found[id(sheet)] = self._find(sheet)
        return self._found[id(sheet)]

    def _find(self, sheet: Sheet) -> tuple[Habits, str]:
        told, line = self._told
        own, all_of_file = self._votes_of(sheet), self._all
        pair = told.pair or _decided(own, "LR", "RL") or _decided(all_of_file, "LR", "RL")
        triple = told.triple or _decided(own, "LRS", "SRL") or _decided(all_of_file, "LRS", "SRL")
        has_schemes = all_of_file["schemes"] > 0
        habits = replace(told, pair=pair, triple=triple, has_schemes=has_schemes, is_load_apart=self._is_load_apart)
        how = f'as a line says ("{line}")' if line else "as the other sets are written"
        names = " and ".join(_in_words(order) for order in (pair, triple) if order is not None)
        told_of = [f"Numbers of a set that could mean two things were read as {names}, {how}."] if names else []
        if habits.is_load_apart:
            told_of.append('Two numbers apart ("135 5") were read as load and repetitions: the log writes "155 5/5/4".')
        return habits, " ".join(told_of)

    @cached_property
    def _told(self) -> tuple[Habits, str]:
        return told_in(self._lines, self._lexicon)

    @cached_property
    def _all(self) -> Counter[str]:
        return sum((self._votes_of(sheet) for sheet in self._sheets), Counter())

    @cached_property
    def _is_load_apart(self) -> bool:
        return write_load_apart(text for sheet in self._sheets for text in _short_texts(sheet))

    def _votes_of(self, sheet: Sheet) -> Counter[str]:
        if id(sheet) not in self._votes:
            self._votes[id(sheet)] = votes_in(_texts_of(sheet))
        return self._votes[id(sheet)]


def _in_words(order: str) -> str:
    words = {"L": "load", "R": "repetitions", "S": "sets"}
    return " x ".join(words[letter] for letter in order)


def _short_texts(sheet: Sheet) -> Iterator[str]:
    """The texts of a sheet that are no long remarks, those of a long list once a column."""
    cells: Iterable[Cell]
    if isinstance(sheet.rows, CodedRows):
        cells = (cell for column in sheet.rows.columns for cell in column.cells)
    else:
        cells = (cell for row in sheet.rows for cell in row)
    return (cell for cell in cells if isinstance(cell, str) and len(cell) <= _MOST_TEXT)


def _texts_of(sheet: Sheet) -> set[str]:
    """The distinct texts of a sheet with a times sign."""
    return {cell for cell in _short_texts(sheet) if _has_times(cell)}


def _has_times(text: str) -> bool:
    return any(sign in text for sign in "xX×*✕·")


def votes_in(texts: Iterable[str]) -> Counter[str]:
    """How many sets show each order: LR, RL of two numbers, LRS, SRL of three; schemes: sets x repetitions alone."""
    votes: Counter[str] = Counter()
    for text in texts:
        for match in _CHAIN.finditer(text):
            votes.update(_vote(match))
    return votes


def _vote(match: re.Match[str]) -> Iterator[str]:
    a, a_unit, plus, b, b_unit, last_plus, c, c_unit = match.groups()[:8]
    behind = (match["behind"] or "").strip()
    first, second = _is_load(a, a_unit, None), _is_load(b, b_unit, plus)
    if c is not None:
        third = _is_load(c, c_unit, last_plus)
        if first != third and not second:
            yield "LRS" if first else "SRL"
        return
    if behind[:1].isdigit() or behind[:1] in {"@", "%", "/", "x", "×", "*", '"', "″", "'"}:
        return
    if _LOAD_BEFORE.search(match.string, max(match.start() - 8, 0), match.start()) and not first:
        return
    if first != second and not (second and behind and not b_unit and "." not in b and "," not in b):
        yield "LR" if first else "RL"  # "3x60 s" is no load of 60
    elif not first and float(a) <= 5 and float(b) <= 12:
        yield "schemes"


def _is_load(number: str, unit: str | None, plus: str | None) -> bool:
    return bool(unit or plus) or "," in number or "." in number or float(number) > MOST_REPS


def _decided(votes: Counter[str], one: str, other: str) -> str | None:
    """The order that nearly all sets show, if enough of them show any."""
    n = votes[one] + votes[other]
    if n < _LEAST:
        return None
    return next((order for order in (one, other) if votes[order] >= _SHARE * n), None)


def told_in(lines: Iterable[str], lexicon: Lexicon) -> tuple[Habits, str]:
    """What lines of text say of the order of the numbers and of the effort, and the line; what differs says nothing."""
    orders: dict[str, str] = {}
    is_effort_of_last, is_effort_of_all, is_of_planned = False, False, False
    for line in lines:
        for order in _orders_named(line, lexicon):
            orders.setdefault(order, line.strip())
        is_effort_of_last = is_effort_of_last or _says_effort_of_last(line)
        is_of_planned = is_of_planned or _says_of_planned(line, lexicon)
        is_effort_of_all = is_effort_of_all or _says_effort_of_all(line)
    pairs = {order[:2] if len(order) == 2 else order.replace("S", "") for order in orders}
    triples = {order for order in orders if len(order) == 3}
    pair = pairs.pop() if len(pairs) == 1 and not all(order.startswith("S") for order in orders) else None
    triple = triples.pop() if len(triples) == 1 else None
    line = next(iter(orders.values()), "") if pair or triple else ""
    of_all = is_effort_of_all and not is_effort_of_last
    habits = Habits(pair, triple, False, is_effort_of_last, is_of_planned, is_effort_of_all=of_all)
    return habits, line if len(line) <= 60 else line[:57] + "..."


def _orders_named(line: str, lexicon: Lexicon) -> Iterator[str]:
    """The orders that a line names with words around times signs: "kg x reps", "serie x powtórzenia x kg"."""
    pieces = re.split(r"\s*(?:[×*✕]|(?<![^\W_])[xX](?![^\W_]))\s*", re.sub(r"[()\[\]]", " ", line))
    run = ""
    for at, piece in enumerate(pieces):
        words = re.findall(r"[^\W\d_]+", piece)
        led, closing = _role(words, -1, lexicon), _role(words, 0, lexicon)
        if run and closing is not None and closing not in run:
            run += closing
            if len(words) == 1 and at + 1 < len(pieces):
                continue
        if len(run) >= 2 and "L" in run and "R" in run:
            yield run
        run = led or ""
    if len(run) >= 2 and "L" in run and "R" in run:
        yield run


def _role(words: list[str], at: int, lexicon: Lexicon) -> str | None:
    """L, R or S for the word next to a times sign."""
    if not words:
        return None
    word = fold(words[at])
    if unit_of(word) is not None:
        return "L"
    roles = [*lexicon.headings_of.get(word, []), lexicon.work.known.get(word)]
    return next((_ROLES[role] for role in roles if role in _ROLES), None)


_A_OF_B = re.compile(r"(?<![\d/.,])(\d{1,2})\s*/\s*(\d{1,2})(?![\d/])[\s\"'”»)]*(?:=|:|→|[^\W\d]+)\s*([^;.\n]*)")


def _says_of_planned(line: str, lexicon: Lexicon) -> bool:
    """Whether a line says that "3/5" is three done of five: "3/5 = got 3 of the 5", "2/4 = due fatte su quattro"."""
    for match in _A_OF_B.finditer(line):
        words = fold(match[3]).split()
        if int(match[1]) >= int(match[2]) or words_of_clause("a_set") & set(words):
            continue
        if words_of_clause("out_of") & set(words) or any(lexicon.sheet_word(word, "plan") for word in words):
            return True
    return False


def _says_effort_of_last(line: str) -> bool:
    """Whether a line says that an effort is that of the last set: "RPE is of the last set done"."""
    if not _EFFORT.search(line):
        return False
    words = fold(re.sub(r"['’]", " ", line)).split()
    return bool(words_of_clause("last") & set(words)) and bool(words_of_clause("a_set") & set(words))


def _says_effort_of_all(line: str) -> bool:
    """Whether a sentence says that an effort is that of every set of its row: "RIR gjelder alle settene"."""
    for sentence in re.split(r"[.;!?](?:\s|$)", line):
        words = fold(re.sub(r"['’]", " ", sentence)).split()
        at = (i for i, word in enumerate(words) if word in words_of_clause("every"))
        if _EFFORT.search(sentence) and any(words_of_clause("sets") & set(words[i : i + 4]) for i in at):
            return True
    return False
