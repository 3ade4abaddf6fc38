"""The last look over everything read: people joined, implausible values and repeats set aside, rows counted.

Nothing is clipped or dropped: what is set aside becomes a RejectedRow with its reason, and every row that was read is
stored, rejected or no data, once. The identity is checked here, for each sheet, on every run.
"""

from collections import Counter, defaultdict
from dataclasses import replace
from datetime import date
from itertools import groupby
from operator import attrgetter
from typing import Any

from preflare.reading.context import RowKey, Yield, cells_text
from preflare.reading.people import join_people
from preflare.reading.plausible import odd_days, odd_load, usual_loads, what_of
from preflare.reading.rows import (
    FileReading,
    Logs,
    PainRow,
    Place,
    RejectedRow,
    ScreenRow,
    SessionRow,
    SetRow,
    SheetReading,
)
from preflare.reading.text import as_text, column_index, spaces
from preflare.reading.words import ChoiceBook
from preflare.settings import Settings

NO_TABLE = (
    "no headings of a log were found above it",
    "put headings such as Date, Name, Exercise, Load, Reps above the rows, or name yours in season.toml: "
    '[[source]] columns = { "Your heading" = "load" }',
)


def key_of(place: Place) -> RowKey:
    return (place.file, place.sheet, place.row)


def assemble(
    files: list[FileReading],
    drafts: dict[tuple[str, str], SheetReading],
    out: Yield,
    choices: ChoiceBook,
    settings: Settings,
) -> Logs:
    """Logs from everything that was read."""
    people = _join(out, choices, settings)
    _odd_dates(out)
    _odd_loads(out)
    _repeated_rows(out)
    _repeated_blocks(out)
    _repeated_sessions(out)
    _corrected_answers(out)
    sets = _numbered(out.sets)
    sessions = _merged(out.sessions)
    pain = _timed(out.pain, sessions)
    kept = _settle_rows(out, sets, sessions, pain)
    counted = {name: _counts(reading, out, name, kept) for name, reading in drafts.items()}
    files = [
        replace(file, sheets=tuple(reading for (name, _), reading in counted.items() if name == file.file))
        for file in files
    ]
    return Logs(files, sets, sessions, pain, out.screens, out.rejected, choices.choices(), people)


def _stored(out: Yield) -> tuple[list[Any], ...]:
    """The lists of rows that will be stored."""
    return out.sets, out.sessions, out.pain, out.screens


# People -------------------------------------------------------------------------------------------


def _join(out: Yield, choices: ChoiceBook, settings: Settings) -> dict[str, tuple[str, ...]]:
    """Put the joined names into every row; answers display name -> the ways it was written."""
    rows: list[Any] = [*out.sets, *out.sessions, *out.pain, *out.screens]
    found = join_people((row.athlete for row in rows), settings.athlete)
    people: dict[str, set[str]] = defaultdict(set)
    seen: Counter[tuple[str, str, str]] = Counter(
        (row.place.file, row.place.sheet, spaces(row.athlete)) for row in rows
    )
    for (file, sheet, written), n in seen.items():
        person = found[written]
        people[person.name].add(written)
        understood = None if person.how == "not known" else person.name
        entry = choices.seen.setdefault((file, sheet, "person", written), [understood, person.how, person.nearest, 0])
        entry[3] = n
    for rows_of_kind in _stored(out):
        rows_of_kind[:] = [
            row if row.athlete == (name := found[spaces(row.athlete)].name) else replace(row, athlete=name)
            for row in rows_of_kind
        ]
    return {name: tuple(sorted(written)) for name, written in sorted(people.items())}


# Values that cannot be ----------------------------------------------------------------------------


def _odd_dates(out: Yield) -> None:
    """Rows dated years away from the rest of their file."""
    days: dict[str, list[date]] = defaultdict(list)
    rows = [row for rows in _stored(out) for row in rows]
    for row in rows:
        days[row.place.file].append(row.date)
    odd = odd_days(days)
    reasons = {}
    for row in rows:
        if row.date in odd[row.place.file]:
            reason = f"the date {row.date} lies years away from the rest of the file; is it a birthday?"
            reasons[key_of(row.place)] = (reason, "correct the date and import again")
    _reject_rows(out, reasons)


def _odd_loads(out: Yield) -> None:
    """Loads far from what the athlete usually lifts in that exercise: the set stays, its load is set aside."""
    usual = usual_loads(out.sets)
    for index, one in enumerate(out.sets):
        reason = odd_load(one, usual.get(what_of(one))) if one.load_kg is not None else None
        if reason:
            reason += "; the set was stored without its load"
            written, remedy = _as_written(out, one.place), "correct the load and import again"
            out.rejected.append(RejectedRow(one.place, written, reason, remedy, False))
            out.sets[index] = replace(one, load_kg=None)


def _as_written(out: Yield, place: Place) -> str:
    """The text of the cell at `place`."""
    cells = out.read.get(key_of(place), [])
    index = column_index(place.column)
    return as_text(cells[index]) if 0 <= index < len(cells) else cells_text(cells)


# Repeats ------------------------------------------------------------------------------------------


def _reject_rows(out: Yield, reasons: dict[RowKey, tuple[str, str]]) -> None:
    """Take everything that came from these rows out again, and reject the rows whole."""
    if not reasons:
        return
    for rows in _stored(out):
        rows[:] = [row for row in rows if key_of(row.place) not in reasons]
    out.rejected[:] = [row for row in out.rejected if key_of(row.place) not in reasons]
    for (file, sheet, number), (reason, remedy) in reasons.items():
        out.rejected.append(
            RejectedRow(
                Place(file, sheet, number), cells_text(out.read.get((file, sheet, number), [])), reason, remedy, True
            )
        )


_SAYS = {
    kind: attrgetter(*(name for name in kind.__slots__ if name not in {"place", "evidence"}))
    for kind in (SetRow, SessionRow, PainRow, ScreenRow)
}


def _signature(row: Any) -> Any:
    """What a row says, without where it stood."""
    return _SAYS[type(row)](row)


def _by_row(out: Yield) -> dict[RowKey, tuple[Any, ...]]:
    """Each source row -> everything that was read from it, in order."""
    said: dict[RowKey, list[Any]] = defaultdict(list)
    for rows in _stored(out):
        for row in rows:
            said[key_of(row.place)].append(_signature(row))
    return {key: tuple(values) for key, values in said.items()}


def _repeated_rows(out: Yield) -> None:
    """A row that holds a whole session, exercise or answer, and says again what an earlier row of the sheet said."""
    said = _by_row(out)
    first: dict[tuple[Any, ...], RowKey] = {}
    reasons = {}
    for key in sorted(out.whole & said.keys()):
        same = (*key[:2], tuple(out.read.get(key, [])), said[key])
        earlier = first.setdefault(same, key)
        if earlier != key:
            reasons[key] = (
                f"the row repeats row {earlier[2]}",
                "nothing, unless both took place: then tell them apart in a note",
            )
    _reject_rows(out, reasons)


def _repeated_blocks(out: Yield) -> None:
    """A run of rows of one person and day that stands in the sheet a second time.

    Only runs of several different sets: partners who take turns write single equal sets again and again.
    """
    by_sheet: dict[tuple[str, str], list[SetRow]] = defaultdict(list)
    for one in out.sets:
        by_sheet[one.place.file, one.place.sheet].append(one)
    reasons = {}
    for rows in by_sheet.values():
        first: dict[tuple[Any, ...], SetRow] = {}
        for _, run in groupby(rows, key=lambda one: (one.athlete, one.date, one.ordinal)):
            block = list(run)
            if len({key_of(one.place) for one in block}) < 2 or len({_signature(one) for one in block}) < 2:
                continue
            earlier = first.setdefault(tuple(_signature(one) for one in block), block[0])
            if earlier is not block[0]:
                for one in block:
                    reasons[key_of(one.place)] = (
                        f"the rows from row {earlier.place.row} stand here a second time",
                        "nothing, unless both took place",
                    )
    _reject_rows(out, reasons)


def _repeated_sessions(out: Yield) -> None:
    """The same session in two files or sheets: kept once. Other sets of an exercise on that day: a second session."""
    by_day: dict[tuple[str, date], dict[tuple[str, str], list[SetRow]]] = defaultdict(lambda: defaultdict(list))
    for one in out.sets:
        by_day[one.athlete, one.date][one.place.file, one.place.sheet].append(one)
    reasons: dict[RowKey, tuple[str, str]] = {}
    later: set[tuple[str, str, str, date]] = set()
    for (athlete, day), sources in by_day.items():
        kept: list[tuple[tuple[str, str], Counter[Any], set[str]]] = []
        for source, rows in sources.items():
            said = Counter((one.exercise, one.load_kg, one.reps) for one in rows)
            twin = next((other for other, known, _ in kept if other != source and said <= known), None)
            if twin is not None:
                where = twin[0] + (f', sheet "{twin[1]}"' if twin[1] else "")
                for one in rows:
                    reasons[key_of(one.place)] = (
                        f"the session of {athlete} on {day} stands in {where} already",
                        "remove one of the two copies",
                    )
                continue
            if any(names & {one.exercise for one in rows} - {"unknown"} for _, _, names in kept):
                later.add((*source, athlete, day))
            kept.append((source, said, {one.exercise for one in rows}))
    if later:
        out.sets[:] = [
            replace(one, ordinal=one.ordinal + 1)
            if (one.place.file, one.place.sheet, one.athlete, one.date) in later
            else one
            for one in out.sets
        ]
    _reject_rows(out, reasons)


def _corrected_answers(out: Yield) -> None:
    """Of two answers in one form for one day, site, side and moment the later replaces the earlier, saying so."""
    last: dict[tuple[Any, ...], PainRow] = {}
    reasons = {}
    forms = [one for one in out.pain if one.origin == "form" and one.moment != "unknown"]
    for one in sorted(forms, key=lambda row: (row.place.file, row.place.sheet, row.place.row)):
        what = (one.place.file, one.place.sheet, one.athlete, one.date, one.site, one.side, one.moment, one.kind)
        earlier = last.get(what)
        if earlier is not None and key_of(earlier.place) != key_of(one.place):
            is_turned = (
                earlier.reported_at is not None
                and one.reported_at is not None
                and one.reported_at < earlier.reported_at
            )
            old, new = (one, earlier) if is_turned else (earlier, one)
            n_sharing = sum(key_of(other.place) == key_of(old.place) for other in forms)
            if n_sharing == 1:
                reasons[key_of(old.place)] = (
                    f"the later answer in row {new.place.row} corrects it",
                    "nothing; the later answer counts",
                )
            one = new
        last[what] = one
    _reject_rows(out, reasons)


# Putting in order ---------------------------------------------------------------------------------


def _numbered(sets: list[SetRow]) -> list[SetRow]:
    """Set numbers from 1 within athlete, day, session and exercise as written, in reading order."""
    counts: Counter[tuple[str, date, int, str]] = Counter()
    numbered = []
    for one in sets:
        what = (one.athlete, one.date, one.ordinal, one.exercise_written)
        counts[what] += 1
        numbered.append(_with_number(one, counts[what]))
    return numbered


def _with_number(one: SetRow, number: int) -> SetRow:
    """A copy with its set number, by hand: `replace` would take as long as reading the row did."""
    return SetRow(
        one.athlete, one.date, one.ordinal, number, one.exercise, one.exercise_written, one.bar, one.bar_written,
        one.bar_position, one.grip_width, one.grip_style, one.grip_written, one.load_kg, one.reps, one.rpe, one.rir,
        one.is_warm_up, one.is_failed, one.note, one.place,
    )  # fmt: skip


def _merged(sessions: list[SessionRow]) -> list[SessionRow]:
    """One row a session: the first value of each kind, all remarks."""
    merged: dict[tuple[str, date, int], SessionRow] = {}
    for one in sessions:
        what = (one.athlete, one.date, one.ordinal)
        before = merged.get(what)
        if before is None:
            merged[what] = one
            continue
        notes = dict.fromkeys(note for note in (before.note, one.note) if note)
        merged[what] = replace(
            before,
            session_rpe=_first(before.session_rpe, one.session_rpe),
            duration_min=_first(before.duration_min, one.duration_min),
            started_at=before.started_at or one.started_at,
            note="; ".join(notes) or None,
        )
    return list(merged.values())


def _first(one: float | None, other: float | None) -> float | None:
    return other if one is None else one


def _timed(pain: list[PainRow], sessions: list[SessionRow]) -> list[PainRow]:
    """Reports whose moment is unknown, told by the session's own time where both are known."""
    starts = {(one.athlete, one.date): one.started_at for one in sessions if one.started_at is not None}

    def settle(one: PainRow) -> PainRow:
        start = starts.get((one.athlete, one.date))
        if one.moment != "unknown" or one.reported_at is None or start is None:
            return one
        return replace(one, moment="before" if one.reported_at <= start else "after")

    return [settle(one) for one in pain]


# Counting -----------------------------------------------------------------------------------------


def _settle_rows(out: Yield, *stored: list[Any]) -> set[RowKey]:
    """Answers the rows kept. Of a row that kept nothing, the first thing rejected stands for the whole row."""
    kept = {key_of(row.place) for rows in (*stored, out.screens) for row in rows}
    kept |= {key_of(row.place) for row in out.sessions}
    whole: set[RowKey] = set()
    for index, row in enumerate(out.rejected):
        key = key_of(row.place)
        is_whole = key not in kept and key not in whole  # a row of two tables side by side may be rejected by both
        if is_whole:
            whole.add(key)
        text = cells_text(out.read[key]) if is_whole and key in out.read else row.value
        out.rejected[index] = replace(row, is_whole_row=is_whole, value=text)
    for key in sorted(out.read.keys() - kept - whole - out.not_data.keys()):
        whole.add(key)
        out.rejected.append(RejectedRow(Place(*key), cells_text(out.read[key]), *NO_TABLE, True))
    for key in list(out.not_data):
        if key in kept or key in whole:
            del out.not_data[key]
    return kept


def _counts(reading: SheetReading, out: Yield, name: tuple[str, str], kept: set[RowKey]) -> SheetReading:
    """A sheet's rows by what became of them. Raises AssertionError when they do not add up."""
    read = {key for key in out.read if key[:2] == name}
    rejected = {key_of(row.place) for row in out.rejected if row.is_whole_row and key_of(row.place)[:2] == name}
    not_data = {key for key in out.not_data if key[:2] == name}
    n_stored = len({key for key in kept if key[:2] == name})
    if len(read) != n_stored + len(rejected) + len(not_data):
        raise AssertionError(
            f"{name}: {len(read)} rows read, {n_stored} stored, {len(rejected)} rejected, {len(not_data)} no data"
        )
    return replace(
        reading, rows_read=len(read), rows_stored=n_stored, rows_rejected=len(rejected), rows_not_data=len(not_data)
    )
