"""Grouped headings: a name over several columns (a lift, a sore place, a set) governs these columns and no others."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from preflare.reading.headings import Heading, parse_heading
from preflare.reading.lexicon import Lexicon, names_total
from preflare.reading.numbers import parse_number, unit_of
from preflare.reading.side_letters import SHORT_SIDES
from preflare.reading.text import Cell, as_text, fold, words_of
from preflare.reading.weeks import day_behind_week_word, first_of_range
from preflare.reading.workbook import Sheet, cell_at

_BRACKETS = re.compile(r"[(\[{][^)\]}]*[)\]}]")
_MOST_ROWS = 2  # of names above the headings themselves
_LONGEST = 60  # letters of a name; longer texts are sentences
SET_ROLES = frozenset(
    {"load", "reps", "sets", "rpe", "rir", "percent", "warm_up", "failed", "set_work", "work", "set_number"}
)
OWN_ROLES = SET_ROLES | {"exercise", "bar", "bar_position", "grip", "note"}  # what a group's columns may hold
_OF_PAIN = frozenset({"pain", "side", "site", "moment", "pain_kind"})
_OF_ROWS = frozenset(
    {"date", "timestamp", "person", "first_name", "last_name", "weekday", "week", "time", "duration", "session_rpe"}
    | {"session_number", "ignored"}
)  # a column of these belongs to the whole row, whatever stands above it


@dataclass(frozen=True, slots=True)
class Group:
    """A name over columns. start: its first column. exercise: the name, where it names a lift."""

    start: int
    written: str
    exercise: str | None = None


def rows_of_names(sheet: Sheet, start: int, floor: int, lexicon: Lexicon) -> list[int]:
    """The rows right above the headings in row `start` that hold names of groups, topmost first. floor: the first row
    that may be one."""
    found: list[int] = []
    below = start
    while below - 1 >= floor and len(found) < _MOST_ROWS and _holds_names(sheet, below - 1, start, lexicon):
        below -= 1
        found.insert(0, below)
    return found


def _holds_names(sheet: Sheet, row: int, below: int, lexicon: Lexicon) -> bool:
    """Whether a row holds names over groups of the columns that row `below` heads: one of them at least tells of a
    lift, a sore place, a set, or the same headings repeat under several; a title over everything is none."""
    names = _names(sheet, row)
    if not names or any(not _may_name(cell) for cell in names.values()):
        return False
    over = spans(sheet, row, below)
    under: dict[int, list[int]] = {}
    for column, (start, _) in over.items():
        under.setdefault(start, []).append(column)
    wide = [start for start, columns in under.items() if len(columns) > 1]
    if not wide:
        return False
    n_headed = sum(cell is not None for cell in sheet.rows[below])
    if len(names) == 1 and (wide[0] == 0 or len(under[wide[0]]) >= n_headed):
        return False
    texts = [as_text(names[start]) for start in wide]
    is_repeated = len(wide) > 1 and _repeat(sheet, below, over) and any(parse_heading(text, lexicon) for text in texts)
    return is_repeated or any(tells(text, lexicon) for text in texts)


def _repeat(sheet: Sheet, row: int, over: dict[int, tuple[int, str]]) -> bool:
    """Whether two groups have headings in common."""
    of_group: dict[int, set[str]] = {}
    for column, (start, _) in over.items():
        of_group.setdefault(start, set()).add(fold(as_text(cell_at(sheet, row, column))))
    seen = list(of_group.values())
    return any(len(a & b) > 1 for i, a in enumerate(seen) for b in seen[:i])


def _names(sheet: Sheet, row: int) -> dict[int, Cell]:
    """Column -> cell, for the cells of a row that are no copies of a merged one."""
    return {
        column: cell
        for column, cell in enumerate(sheet.rows[row])
        if cell is not None and (row, column) not in sheet.merged
    }


def _may_name(cell: Cell) -> bool:
    if not isinstance(cell, str) or len(cell) > _LONGEST or parse_number(cell) is not None or names_total(cell):
        return False
    return re.search(r"\d\s*[x×@]\s*\d", cell) is None


def tells(name: str, lexicon: Lexicon) -> bool:
    """Whether a name over columns is of a lift, a sore place, a side, a moment, warm-ups or a set."""
    if exercise_named(name, lexicon) or lexicon.work.exact(name) == "warm_up":
        return True
    heading = parse_heading(name, lexicon)
    is_known = heading is not None and (heading.roles[0] == "pain" or heading.roles[0] == "set_work")
    return is_known or any(phrases.exact(name) for phrases in (lexicon.site, lexicon.side, lexicon.moment))


def exercise_named(name: str, lexicon: Lexicon) -> str | None:
    """The words of a name that say which lift it is, with its bar, grip and place; None when it names none or two."""
    bare = " ".join(word for word in _without_units(name).split() if unit_of(word) is None)
    words = words_of(bare)
    found = list(lexicon.exercise.find(words))
    if lexicon.exercise.exact(bare):
        return bare
    heading = parse_heading(name, lexicon)
    if len({hit for _, _, hit in found}) != 1 or (heading is not None and heading.roles[0] == "pain"):
        return None
    known = {i for start, end, _ in found for i in range(start, end)}
    for phrases in (lexicon.position, lexicon.modifier, lexicon.bar, lexicon.width, lexicon.style):
        known |= {i for start, end, _ in phrases.find(words) for i in range(start, end)}
    return bare if len(known) == len(words) else found[0][2]


def _without_units(name: str) -> str:
    """A name without brackets that hold a unit: "Squat (kg)"; "Squat (safety bar)" keeps its bar."""
    is_unit = (group for group in _BRACKETS.findall(name) if any(unit_of(word) for word in words_of(group)))
    for group in is_unit:
        name = name.replace(group, " ")
    return name.strip(" :")


def spans(sheet: Sheet, row: int, below: int) -> dict[int, tuple[int, str]]:
    """Column -> (first column, name) of the name above it: merged cells as far as they reach, others to the right as
    long as row `below` has headings and none of them is blank above on its own."""
    found: dict[int, tuple[int, str]] = {}
    carried: tuple[int, str] | None = None
    is_merged = False
    for column in range(max(len(sheet.rows[row]), len(sheet.rows[below]))):
        cell = cell_at(sheet, row, column)
        if (row, column) in sheet.merged and carried is not None and as_text(cell) == carried[1]:
            is_merged = True
        elif cell is not None:
            carried, is_merged = (column, as_text(cell)), False
        elif is_merged or cell_at(sheet, below, column) is None:
            carried = None
        if carried is not None and cell_at(sheet, below, column) is not None:
            found[column] = carried
    return found


def is_sub_line(sheet: Sheet, above: int, lexicon: Lexicon) -> bool:
    """Whether the row under the headings in row `above` holds sub-headings alone, though it is no row of headings by
    itself: numbers of sets, sides, moments, sites, units under names that reach over several columns."""
    row = above + 1
    if row >= len(sheet.rows):
        return False
    cells = {column: cell for column, cell in enumerate(sheet.rows[row]) if cell is not None}
    own = {
        c: cell for c, cell in cells.items() if (row, c) not in sheet.merged or as_text(cell) != _above(sheet, row, c)
    }
    numbers = set_numbers(sheet.rows[row])
    if len(own) < 2 or not any(column - 1 in own and _is_open(sheet, above, column) for column in own):
        return False
    first = next(iter(cells))
    if first == 0 and 0 in own:
        return False  # a row that begins with a value of its own is data
    return all(column in numbers or _is_part(cell, lexicon) for column, cell in own.items())


def _above(sheet: Sheet, row: int, column: int) -> str:
    return as_text(cell_at(sheet, row - 1, column))


def _is_open(sheet: Sheet, row: int, column: int) -> bool:
    return cell_at(sheet, row, column) is None or (row, column) in sheet.merged


def _is_part(cell: Cell, lexicon: Lexicon) -> bool:
    if not isinstance(cell, str) or parse_number(cell) is not None or len(cell) > _LONGEST:
        return False
    heading = parse_heading(cell, lexicon)
    known = heading is not None and (heading.is_exact or heading.roles[0] == "pain")
    return (
        known
        or any(phrases.exact(cell) for phrases in (lexicon.site, lexicon.side, lexicon.moment))
        or (fold(cell) in SHORT_SIDES)
    )


_ENDING = re.compile(  # of "first, second, third" written with a figure: 1st, 1., 1ª, 1ère, 2e, 1:a, 1ste, #1, 1)
    r"#?(?P<n>\d{1,2})(?:[.:]?(?:[aeoªº°]|st|nd|rd|th|er|ere|re|d|de|do|eme|me|ste|sza|te)|[.)])?\.?", re.I
)
_ROMAN = {"I": 1, "II": 2, "III": 3, "IV": 4, "V": 5, "VI": 6, "VII": 7, "VIII": 8}


def counted(text: str) -> float | None:
    """The number that a heading counts with: "2", "2nd", "2.", "2ª", "2e", "2:a", "#2", "II"; None for other texts."""
    bare = text.strip()
    if bare in _ROMAN:
        return float(_ROMAN[bare])
    match = _ENDING.fullmatch(bare.replace("è", "e").replace("È", "E"))
    return float(match["n"]) if match else parse_number(bare)


def set_numbers(row: Sequence[Cell]) -> dict[int, int]:
    """Column -> number, for cells that count 1, 2, 3... from left to right in columns beside one another.

    Ordinals count too ("1ª, 2ª, 3ª"), though some of them may be days of the week elsewhere.
    """
    found: dict[int, int] = {}
    run: list[int] = []
    for column, cell in enumerate([*row, None]):
        number = cell if isinstance(cell, float) else counted(cell) if isinstance(cell, str) else None
        if number is not None and number == len(run) + 1 and (not run or run[-1] == column - 1):
            run.append(column)
            continue
        if len(run) > 1:
            found |= {index: i for i, index in enumerate(run, start=1)}
        run = [column] if number == 1 else []
    return found


def grouped(
    own: str, number: int | None, names: Sequence[tuple[int, str]], lexicon: Lexicon, taught: dict[str, Heading]
) -> tuple[Heading | None, Group | None]:
    """What a column is whose heading `own` stands under `names`, topmost first, and the group that governs it.

    number: of the set, where the heading is a number that counts.
    """
    written = " ".join(dict.fromkeys([*(name for _, name in names), own])).strip()
    if found := taught.get(written) or taught.get(own):
        return found, None
    bare = Heading(own, ("set_work",), True, number) if number is not None else parse_heading(own, lexicon)
    if not names:
        return bare, None
    if bare is not None and bare.roles[0] in _OF_ROWS and bare.is_exact and fold(own) not in SHORT_SIDES:
        return bare, None
    if (pain := _of_pain(written, bare, names, lexicon)) is not None:
        return pain, None
    heading, group = bare, None
    for start, name in reversed(names):
        heading, found_group = _under(heading, start, name, lexicon)
        group = found_group or group
    if heading is None or heading.roles[0] not in OWN_ROLES:
        return heading or _otherwise(written, names, lexicon), None
    return replace(heading, written=written), group


_OF_SETS = frozenset({"load", "reps", "rpe", "rir"})


def part_of_sets(
    heading: Heading | None, index: int, names: Sequence[tuple[int, str]], lexicon: Lexicon
) -> Heading | None:
    """The heading of a column that counts sets below one thing of them: "Reps" over "1 | 2 | 3". The name must begin
    where the count does, so that one that heads the column before is not carried over it."""
    if heading is None or heading.roles[0] != "set_work" or heading.number is None or not names:
        return heading
    start, name = names[-1]
    above = parse_heading(name, lexicon)
    is_part = above is not None and above.is_exact and above.number is None and above.roles[0] in _OF_SETS
    if above is None or not is_part or start != index - heading.number + 1:
        return heading
    return replace(above, written=heading.written, number=heading.number)


def _of_pain(written: str, bare: Heading | None, names: Sequence[tuple[int, str]], lexicon: Lexicon) -> Heading | None:
    """The heading of ratings that a place, side or moment and its group's name make together ("Elbow" over "L")."""
    is_letter = bool(written) and fold(written).split()[-1] in SHORT_SIDES
    if bare is not None and bare.is_exact and bare.roles[0] not in _OF_PAIN and not is_letter:
        return None
    whole = parse_heading(written, lexicon)
    above = [parse_heading(name, lexicon) for _, name in names]
    is_pain = any(heading is not None and heading.roles[0] == "pain" for heading in (*above, bare))
    is_place = any(lexicon.site.exact(name) for _, name in names)
    return whole if whole is not None and whole.roles[0] == "pain" and (is_pain or is_place) else None


def _under(heading: Heading | None, start: int, name: str, lexicon: Lexicon) -> tuple[Heading | None, Group | None]:
    """A heading with what one name above it adds: the number of its set, warm-ups, or the group of a lift."""
    above = parse_heading(name, lexicon)
    if above is not None and above.number is not None and above.roles[0] == "set_work":
        return (None if heading is None else replace(heading, number=heading.number or above.number)), None
    if lexicon.work.exact(name) == "warm_up":
        is_work = heading is not None and heading.roles[0] in SET_ROLES
        return (replace(heading, roles=("warm_up", *heading.roles)) if heading and is_work else heading), Group(
            start, ""
        )
    exercise = exercise_named(name, lexicon)
    if exercise is None and above is not None and above.roles[0] in {"week_column", "weekday_column", "week"}:
        return heading, None
    is_generic = exercise is None and above is not None and above.roles[0] in SET_ROLES
    if heading is not None and heading.exercise is None and heading.roles[0] in SET_ROLES and exercise is not None:
        heading = replace(heading, exercise=exercise)
    return heading, Group(start, "" if is_generic else name, exercise)


def _otherwise(written: str, names: Sequence[tuple[int, str]], lexicon: Lexicon) -> Heading | None:
    """What a column may be whose own heading nobody knows: the whole, else what stands nearest above it."""
    texts = [written, *(name for _, name in reversed(names))]
    return next((heading for text in texts if (heading := parse_heading(text, lexicon)) is not None), None)


_BESIDE_A_WEEK = re.compile(r"[\n()\[\]:,]+|\s[-–]\s|(?<=\d)\s+(?=\d)")


def date_of_week(text: str, lexicon: Lexicon) -> Cell:
    """The date that a heading gives beside the number of a week: "Week 4 (23 Mar)", or on a second line."""
    if (behind := day_behind_week_word(text, lexicon)) is not None:
        return behind
    if not (pieces := [piece.strip() for piece in _BESIDE_A_WEEK.split(text.strip()) if piece.strip()]):
        return None
    first, *rest = pieces
    heading = parse_heading(first, lexicon) if rest else None
    if heading is None or heading.roles[0] != "week_column":
        return None
    whole = text.strip()[len(first) :].strip(" \n()[]:,|-–")
    return next((day for piece in (whole, *rest) if (day := first_of_range(piece, lexicon)) is not None), None)
