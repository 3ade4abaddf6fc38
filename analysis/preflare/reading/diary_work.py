"""The work in a diary's lines: which lift a line names, with what gear, and the sets behind it."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from itertools import pairwise

from preflare.reading import work_of_log
from preflare.reading.context import SheetContext
from preflare.reading.diary_people import People, shares
from preflare.reading.diary_words import begins_with, diary_words, without_first_words
from preflare.reading.grid import add_lift
from preflare.reading.item import LEAST_LOAD
from preflare.reading.legend_lines import legend_words
from preflare.reading.lifts import lift_of_work_set
from preflare.reading.marks import with_words_for_marks
from preflare.reading.notes import is_pain_alone
from preflare.reading.numbers import parse_load, to_kg
from preflare.reading.ratings import Answer
from preflare.reading.rows import SetRow
from preflare.reading.settled_roles import SETS
from preflare.reading.shorthand import Work
from preflare.reading.text import fold, words_of
from preflare.reading.tokens import normalised, tokenise
from preflare.reading.vocabulary import families
from preflare.reading.words import Gear

_HEAD = re.compile(r"(?P<head>[^:(]*(?:\([^()]*\)[^:(]*)*?)\s*:(?!\d)\s*(?P<rest>.*)", re.S)
_DASHED = re.compile(r"(?P<head>[^\d:]*[,(][^\d:]*?)\s+[-–—]\s+(?P<rest>(?:[^\W\d_]{1,3}\.?\s?)?[+(]?\d.*)", re.S)
_CUT = re.compile(r"\s*[,;(]|\s{2,}|\s[-–—]\s|\.\s(?=[A-ZÀ-Þ])")
_PIECES = re.compile(r"[,;()]|\.\s(?=[A-ZÀ-Þ])|\s[-–—]\s|\s{2,}")
_TWO_SETS = re.compile(
    r"(?P<load>\d{2,3}(?:[.,]\d{1,2})?)\s+(?P<first>\d{1,2})-(?P<second>\d{1,2})(?P<rest>(?:\s*,?\s*(?:rpe|rir|@).*)?)",
    re.I,
)
_SENTENCE_END = re.compile(r"\.\s+|[!?;…]+\s+|\s[-–—]\s")
_MOST_WORDS = 9  # of a line that names a lift and its gear; a longer one is a remark
_MOST_OF_PLAN = 5  # words before the colon of a plan: "Plan for next Monday:"
REMEDY = 'write it like "5x3 @140"'


@dataclass(slots=True)
class Block:
    """The lines below a name in a line of its own. indent: of that line; people: all whom the day has named so."""

    indent: int
    people: set[str]
    is_indented: bool = False  # whether its lines are, against the name
    has_lines_behind: bool = False  # whether a line stood behind it, or an earlier one, before the next name

    def next(self, indent: int, person: str) -> "Block":
        """The block of the next name."""
        return Block(indent, self.people | {person}, has_lines_behind=self.has_lines_behind)


@dataclass(slots=True)
class Standing:
    """What the lines above a line say of it. gears: whose (None: everybody) -> gear named with the lift. done: person
    -> their sets of the lift."""

    day: date | None = None
    why: str = "it has no date, and no line above it has one"  # where there is no day
    person: str | None = None
    led: tuple[int, str] | None = None  # how far the last line that begins with a person is indented, and who
    block: Block | None = None
    exercise: str | None = None
    gears: dict[str | None, Gear] = field(default_factory=dict)
    done: dict[str, list[SetRow]] = field(default_factory=dict)
    unit: str | None = None
    sites: tuple[str, ...] = ()  # that a line asked about last
    asked: set[tuple[str, ...]] = field(default_factory=set)  # all sites that lines asked about

    def open_day(self, day: date | None, why: str = "") -> None:
        """A day begins: nothing of the day before holds any longer."""
        self.day, self.why = day, why
        self.person = self.exercise = self.unit = self.led = self.block = None
        self.gears, self.done = {}, {}
        self.sites = next(iter(self.asked)) if len(self.asked) == 1 else ()

    def open_exercise(self, written: str, gears: dict[str | None, Gear]) -> None:
        """A lift begins."""
        self.exercise, self.gears, self.done = written, gears, {}

    def gear_of(self, person: str) -> Gear:
        """The gear that the lift's line gives a person."""
        return self.gears.get(person, Gear()).over(self.gears.get(None, Gear()))


@dataclass(frozen=True, slots=True)
class LiftHead:
    """A lift named at the head of a line. beside: what stands beside its name; rest: behind its colon."""

    written: str
    beside: str
    rest: str
    is_sure: bool


def parted(text: str) -> tuple[str, str] | None:
    """(before, behind) the first colon of a line that stands in no bracket and in no number."""
    match = _HEAD.fullmatch(text)
    return (match["head"].strip(), match["rest"].strip()) if match and match["head"].strip() else None


def lift_head(text: str, context: SheetContext) -> LiftHead | None:
    """The lift that a line names before its colon, or that is all of the line; None for any other line."""
    parts = parted(text)
    if parts is not None and (found := _named(parts[0], context)) is not None:
        return replace(found, rest=parts[1])
    dashed = _DASHED.fullmatch(text)
    if dashed is not None and (found := _named(dashed["head"], context)) is not None:
        return replace(found, rest=dashed["rest"])
    return _named(text, context)


def _named(text: str, context: SheetContext) -> LiftHead | None:
    """A text that is a lift, with words for its gear or in brackets beside it."""
    text = text.strip(" .")
    if len(words_of(text)) > _MOST_WORDS or not text or re.search(r"\d\s*[x×@]", text):
        return None
    named = context.words.exercise(text)
    if named.how != "not known" and not any(map(str.isdigit, text)):
        return LiftHead(text, "", "", named.how != "assumed" or context.lexicon.exercise.exact(text) is not None)
    for cut in _CUT.finditer(text):
        name, beside = text[: cut.start()].strip(), text[cut.start() :].strip(" .:")
        own = context.words.exercise(name) if name else None
        if own is not None and own.how != "not known" and not any(map(str.isdigit, name)):
            return LiftHead(name, beside, "", own.how != "assumed")
    return None


def gears_beside(head: LiftHead, people: People, context: SheetContext, row: int) -> dict[str | None, Gear]:
    """Whose gear is what, as the words beside a lift's name say: "R safety (elbow), D straight, medium grip". A single
    word that nobody knows is told of: it may make another lift of it."""
    text = head.beside if not head.rest or re.search(r"\d", head.rest) else f"{head.beside}; {head.rest}"
    found: dict[str | None, Gear] = {}
    for person, part in shares(text, people):
        gear = Gear()
        for piece in filter(None, (piece.strip(" .,;:") for piece in _PIECES.split(part))):
            own, unknown = context.words.gear(piece, "grip")
            if any(True for _ in context.lexicon.negation.find(words_of(piece))) or own == Gear(grip_written=piece):
                if unknown and len(words_of(piece)) == 1 and own == Gear(grip_written=piece):
                    reason = f'"{piece}" beside "{head.written}" is not known; the sets were stored as {head.written}'
                    context.reject_cell(row, 0, piece, reason, "check that it names no other lift or bar")
                continue
            gear = gear.over(
                replace(own, bar_written=own.bar and piece, grip_written=(own.width or own.style) and piece)
            )
        found[person] = gear
    return {person: gear for person, gear in found.items() if gear != Gear()}


@dataclass(frozen=True, slots=True)
class Lead:
    """What stands before the sets of a line that names no known lift. label: the whole of it; unknown: its words that
    nothing knows; is_led: with a colon behind it."""

    label: str
    unknown: str
    is_led: bool


def lead_of(text: str, context: SheetContext) -> Lead:
    """The words before the first set of a line."""
    lexicon = context.lexicon
    text = normalised(text)
    words: list[str] = []
    label_end = 0
    for token in tokenise(text, lexicon):
        if token.letter in "NB+123":
            break
        label_end = token.end
        if token.letter == "?":
            words += words_of(token.value)
    label = text[:label_end].strip(" ,;–—-")
    known: set[int] = set()
    tables = (lexicon.bar, lexicon.width, lexicon.position, lexicon.style, lexicon.modifier, lexicon.work)
    for phrases in (*tables, diary_words("goes_on")):
        known |= {at for start, end, _ in phrases.find(words) for at in range(start, end)}
    unknown = [word for at, word in enumerate(words) if at not in known and len(word) > 1]
    return Lead(label.strip(" :"), " ".join(unknown), label.endswith(":"))


def takes_small_loads(exercise: str | None, context: SheetContext) -> bool:
    """Whether a load under 20 is likely: curls and the like."""
    return exercise is not None and families().get(context.words.exercise(exercise).exercise, "other") in {
        "elbow flexion",
        "other",
    }


def work_in(text: str, standing: Standing, context: SheetContext) -> Work:
    """The sets of a text."""
    plain = with_words_for_marks(text, context.marks)
    if standing.exercise is not None and (listed := _with_list(plain)) != plain:
        context.assume(
            "Two falling or equal numbers behind a load, as in 35 10-9, were read as repetitions of two sets."
        )
        plain = listed
    work = work_of_log.work_in(context, plain)
    if not takes_small_loads(standing.exercise, context) or (work.sets and not work.problems):
        return work
    small = work_of_log.work_in(context, plain, small=True)
    return small if small.sets else work


def _with_list(text: str) -> str:
    """A text of a load and two numbers with a dash, as a list where they do not rise: "8-10" may be a range."""
    match = _TWO_SETS.fullmatch(text.strip())
    if (
        match is None
        or int(match["first"]) < int(match["second"])
        or float(match["load"].replace(",", ".")) < LEAST_LOAD
    ):
        return text
    return f"{match['load']} {match['first']}/{match['second']}{match['rest']}"


def store_work(context: SheetContext, row: int, work: Work, person: str, standing: Standing) -> None:
    """Store the sets of a line and tell of what was not understood in it."""
    assert standing.day is not None
    for problem in work.problems:
        if not is_pain_alone(problem.text, context.lexicon):
            reason = f"{problem.reason}; the set was stored" if problem.is_doubt else problem.reason
            context.reject_cell(row, 0, problem.text, reason, REMEDY)
    answer = Answer(person, standing.day, None, False)
    for one in work.sets:
        if one.exercise is not None and one.exercise != standing.exercise:
            standing.open_exercise(one.exercise, {})
        if standing.exercise is None:
            context.reject_row(
                row, "there are sets in it, but no exercise in it or above it", 'write it like "Squat 5x3 @140"'
            )
            return
        n_before = len(context.out.sets)
        lift = lift_of_work_set(context, one, None, standing.exercise, standing.unit, 0)
        add_lift(context, row, 0, answer, lift, None, standing.gear_of(person))
        standing.done.setdefault(person, []).extend(context.out.sets[n_before:])


# The same as another ----------------------------------------------------------------------------------------------


def store_same(context: SheetContext, row: int, text: str, person: str, standing: Standing, people: People) -> bool:
    """Store the sets of a line like "same as R but with 60"; answers whether it is such a line.

    The sets are those of the other person under the same lift. With another load the warm-ups are left out, and the
    load must stand for one load. What is not understood is set aside.
    """
    n_words = begins_with("same_as", text)
    if not n_words:
        return False
    behind = without_first_words(text, n_words) if len(words_of(text)) > n_words else ""
    pattern = people.pattern()
    match = pattern.match(behind) if pattern else None
    whose = people.named[match["name"]] if match else None
    if whose is None and behind and not re.match(r"[^\w]*\d", without_but(behind)):
        return False
    source = standing.done.get(whose) if whose else next(iter(reversed([*standing.done.values()])), None)
    more = behind[match.end() :] if match else behind
    rest = without_but(more)
    is_change = re.search(r"[+−–-]\s*\d", more) is not None  # "same as R +20": 20 more, or with 20?
    load = parse_load(rest) if rest and not is_change else None
    made = _copied(source or [], load.number if load else None, load.unit if load else None, context, standing)
    if not made or (rest and load is None):
        context.reject_row(row, f'it is not known which sets "{text}" stands for', "write the sets themselves")
        return True
    assert standing.day is not None
    for one in made:
        own = replace(one, athlete=person, place=context.place(row, 0))
        context.out.sets.append(own)
        standing.done.setdefault(person, []).append(own)
    return True


def is_like_another_day(text: str, head: LiftHead | None, context: SheetContext) -> bool:
    """Whether a line says of a lift that it was done as before: "Bench: same as Monday", "squat like last week"."""
    if head is not None and begins_with("same_as", head.rest or head.beside):
        return True
    words = words_of(text)
    first = next(iter(diary_words("same_as").find(words)), None)
    is_between = first is not None and first[0] > 0 and first[1] < len(words)
    return first is not None and is_between and context.lexicon.exercise.exact(" ".join(words[: first[0]])) is not None


def without_but(text: str) -> str:
    """A text without "but with", "ma con" at its head."""
    text = text.strip(" ,;:.–—-")
    while n_words := begins_with("but_with", text):
        if len(words_of(text)) <= n_words:
            return ""
        text = without_first_words(text, n_words)
    return text


def _copied(
    source: Sequence[SetRow], load: float | None, unit: str | None, context: SheetContext, standing: Standing
) -> list[SetRow]:
    """Another's sets without their efforts; with a load of one's own the warm-ups are left out."""
    plain = [replace(one, rpe=None, rir=None) for one in source]
    if load is None:
        return plain
    work = [one for one in plain if not one.is_warm_up]
    if len({one.load_kg for one in work}) != 1 or load <= 0:
        return []
    in_kg = to_kg(load, unit or standing.unit or context.unit or "kg")
    return [replace(one, load_kg=in_kg) for one in work]


def names_unit(text: str) -> str | None:
    """The unit that a remark beside a day or lift speaks of ("disques en kilos!", "kg plates"); None where it names a
    load or none."""
    if re.search(r"\d\s*(?:kg|lb|kilo)", text, re.I):
        return None
    words = words_of(text)
    is_kg, is_lb = (any(True for _ in legend_words(unit).find(words)) for unit in ("kg", "lb"))
    return None if is_kg == is_lb else "kg" if is_kg else "lb"


def is_only_planned(text: str) -> bool:
    """Whether the sets of a line were planned, or left out: a word for a plan before them, or a clause behind them that
    says "not done" and nothing else ("third set skipped" is about one set)."""
    first = SETS.search(text)
    if first is None:
        return False
    if is_plan_line(text) or any(True for _ in diary_words("planned").find(words_of(text[: first.start()]))):
        return True
    clauses = re.split(r"[,;.()!–—]|\s-\s", text[first.end() :])
    last = list(SETS.finditer(text))[-1]
    behind = re.split(r"[,;()!–—]|\.(?!\d)|\s-\s", text[last.end() :])[0]
    if any(True for _ in diary_words("was_planned").find(words_of(behind))):
        return True
    return any(fold(clause) in diary_words("not_done").known for clause in clauses)


def is_plan_line(text: str) -> bool:
    """Whether a line begins with a word for a plan and a colon: all of it is a plan ("PLAN: squat 3x5x70 Monday")."""
    before, colon, _ = text.partition(":")
    words = words_of(before)
    return bool(colon) and len(words) <= _MOST_OF_PLAN and 0 < begins_with("plan_line", before) <= len(words)


def without_plan(text: str) -> tuple[str, str]:
    """(a line without the sentence of a plan that ends it, that sentence): "Felt good. Plan Monday: squat 85x5x3"."""
    for end in _SENTENCE_END.finditer(text):
        tail = text[end.end() :].strip()
        is_plan = is_plan_line(tail) or (begins_with("planned", tail) and not is_plan_and_done(tail))
        if is_plan and SETS.search(tail):
            return text[: end.start()].strip(), tail
    return text, ""


def is_plan_and_done(text: str) -> bool:
    """Whether words stand between sets of a line that speaks of a plan: some of them may have been done."""
    found = list(SETS.finditer(text))
    between = (text[one.end() : other.start()] for one, other in pairwise(found))
    return any(re.search(r"[^\W\d_]{2,}", re.sub(r"(?:kgs?|lbs?|rpe|rir)", "", part, flags=re.I)) for part in between)
