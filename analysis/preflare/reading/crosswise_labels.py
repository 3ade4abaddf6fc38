"""What the words at the left of a row say it holds: an exercise, a set of it, its bar or grip, an effort, ratings."""

from dataclasses import dataclass

from preflare.reading.against_plan import with_plan_taken_off
from preflare.reading.crosswise import Crosswise
from preflare.reading.crosswise_columns import is_label, is_number_of_a_set
from preflare.reading.headings import Heading, parse_heading
from preflare.reading.lexicon import Lexicon, names_total
from preflare.reading.lift_cells import is_warm_up_tag
from preflare.reading.text import as_text, words_of
from preflare.reading.words import GearColumn
from preflare.reading.workbook import Sheet, cell_at

GEAR_ROWS: dict[str, GearColumn] = {"bar": "bar", "grip": "grip", "bar_position": "position"}
_WHOLE = frozenset({"pain", "note", "session_rpe", "moment", "duration", "site", "side"})  # rows about the session
_PARTS = frozenset({"rpe", "rir", "load", "reps", "sets"})  # rows that say one thing of the sets above them


@dataclass(frozen=True, slots=True)
class RowLabel:
    """kind: exercise, set, plan, done, gear, effort, part, whole, total, ignored, or none when nothing is said."""

    kind: str
    text: str = ""
    heading: Heading | None = None
    is_plan: bool = False
    is_warm_up: bool = False
    exercise: str = ""  # named in the same label as a part of it: "Bench kg"


def label_of(lexicon: Lexicon, text: str, signs: frozenset[str] = frozenset()) -> RowLabel:
    """What one label says. signs: letters that stand for warm-ups among the numbers of sets."""
    if names_total(text):
        return RowLabel("total", text)
    if is_warm_up_tag(text, lexicon, signs):
        return RowLabel("set", text, is_warm_up=True)
    if is_number_of_a_set(text, lexicon):
        return RowLabel("set", text)
    bare, told = with_plan_taken_off(text, lexicon)
    if told is not None and not bare:
        return RowLabel(told, text, is_plan=told == "plan")
    if (part := _part_of_a_lift(bare, lexicon)) is not None:
        return part
    heading = parse_heading(bare, lexicon)
    if lexicon.exercise.exact(bare) or heading is None:
        return RowLabel("exercise", bare, is_plan=told == "plan")
    role = heading.roles[0]
    if role == "pain" and _names_a_lift(bare, heading, lexicon):
        return RowLabel("exercise", bare, is_plan=told == "plan")
    if role in GEAR_ROWS and heading.is_exact:
        return RowLabel("gear", bare, heading)
    if role in {"rpe", "rir"}:
        return RowLabel("effort", bare, heading)
    if role in _PARTS and heading.exercise is None:
        return RowLabel("total" if role == "sets" and len(bare.split()) > 1 else "part", bare, heading)
    if role in _WHOLE:
        return RowLabel("whole", bare, heading)
    if role == "warm_up":
        return RowLabel("set", bare, is_warm_up=True)
    if role == "ignored" and heading.is_exact:
        return RowLabel("ignored", bare, heading)
    return RowLabel("exercise", bare, is_plan=told == "plan")


def _part_of_a_lift(text: str, lexicon: Lexicon) -> RowLabel | None:
    """A label that names a lift and one thing of its sets: "Bench kg", "reps squat", "agach. carga"."""
    return None if lexicon.exercise.exact(text) else part_of_a_lift(text, lexicon)


def part_of_a_lift(text: str, lexicon: Lexicon) -> RowLabel | None:
    """The same for a label that may name a lift as a whole too: "weighted dips" by its repetitions in the next row."""
    words = text.split()
    if not 2 <= len(words) <= 5:
        return None
    cuts = [(words[n:], words[:n]) for n in range(1, len(words))]
    cuts += [(words[:n], words[n:]) for n in range(len(words) - 1, 0, -1)]
    told = [(parse_heading(" ".join(part).strip("():."), lexicon), " ".join(lift)) for part, lift in cuts]
    parts = [(one, lift) for one, lift in told if one and one.is_exact and one.roles[0] in _PARTS - {"sets"}]
    known = [(one, lift) for one, lift in parts if lexicon.exercise.exact(lift.strip(" :-,"))]
    for heading, lift in known or [(one, lift) for one, lift in parts if parse_heading(lift, lexicon) is None]:
        return RowLabel("part", text, heading, exercise=lift.strip(" :-,"))
    return None


def gear_of_a_lift(text: str, lexicon: Lexicon) -> RowLabel | None:
    """A label that may be of the bar, grip or place of one lift: "squat bar", "greep squat"; None for any other. What
    the row holds must show it: "trap bar" is a lift."""
    words = text.split()
    cuts = [(words[n:], words[:n]) for n in range(1, len(words))] + [
        (words[:n], words[n:]) for n in range(1, len(words))
    ]
    for told, lift in cuts if len(words) <= 4 else ():
        heading = parse_heading(" ".join(told).strip("():."), lexicon)
        name = " ".join(lift).strip(" :-,()")
        if heading and heading.is_exact and heading.roles[0] in GEAR_ROWS and lexicon.exercise.exact(name):
            return RowLabel("gear", text, heading, exercise=name)
    return None


_ALSO_IN_LIFTS = frozenset({"back", "shoulder", "biceps", "triceps", "upper arm", "forearm", "wrist", "hip", None})


def _names_a_lift(text: str, heading: Heading, lexicon: Lexicon) -> bool:
    """Whether words that could be a place of pain name a lift: "Back squat - wide", "Biceps curl"."""
    words = words_of(text)
    is_place_of_lifts = heading.site in _ALSO_IN_LIFTS and heading.moment is None and "10" not in words
    felt = any(True for _ in lexicon.kind.find(words))
    return is_place_of_lifts and not felt and any(True for _ in lexicon.exercise.find(words))


def gear_in_rows(sheet: Sheet, found: Crosswise, lexicon: Lexicon) -> dict[GearColumn, set[str]]:
    """All that rows of bars, grips and positions hold, for telling what their letters mean."""
    values: dict[GearColumn, set[str]] = {}
    for block in found.blocks:
        labels = [column for column in block.common if is_label(column)]
        for row in block.body:
            texts = (as_text(cell_at(sheet, row, column.index)) for column in labels)
            for label in (label_of(lexicon, text) for text in texts if text):
                if label.kind == "gear" and label.heading is not None:
                    cells = (cell_at(sheet, row, column.index) for group in block.groups for column in group.columns)
                    values.setdefault(GEAR_ROWS[label.heading.roles[0]], set()).update(as_text(c) for c in cells if c)
    return values
