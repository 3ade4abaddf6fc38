"""The last look over everything read: people joined, implausible values and repeats set aside, rows counted.

Nothing is clipped or dropped: what is set aside becomes a RejectedRow with its reason, and every row that was read is
stored, rejected or no data, once. The identity is checked here, for each sheet, on every run.
"""

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from preflare.reading.context import RowKey, Yield, cells_text
from preflare.reading.corrections import point_to_corrections
from preflare.reading.framed import FramedRows
from preflare.reading.mornings import date_next_mornings
from preflare.reading.people import join_people, shown_names
from preflare.reading.plain_rules import (
    all_rows,
    dates_seen,
    distinct_loads,
    n_rows_of,
    names_written,
    numbered_frame,
    rename,
    take_out_days,
    take_out_loads,
)
from preflare.reading.plausible import odd_days, odd_load, usual_loads, what_of
from preflare.reading.repeats import (
    key_of,
    reject_rows,
    set_corrected_aside,
    set_repeats_aside,
    stored_rows,
    written_at,
)
from preflare.reading.rows import (
    FileReading,
    Logs,
    PainRow,
    Place,
    RejectedRow,
    SessionRow,
    SetRow,
    SheetReading,
)
from preflare.reading.text import spaces
from preflare.reading.unnamed import settle_unnamed
from preflare.reading.words import ChoiceBook
from preflare.settings import Settings

NO_TABLE = (
    "no headings of a log were found above it",
    "put headings such as Date, Name, Exercise, Load, Reps above the rows, or name yours in season.toml: "
    '[[source]] columns = { "Your heading" = "load" }',
)


def assemble(
    files: list[FileReading],
    drafts: dict[tuple[str, str], SheetReading],
    out: Yield,
    choices: ChoiceBook,
    settings: Settings,
) -> Logs:
    """Logs from everything that was read."""
    out.order = {source: place for place, source in enumerate(drafts)}
    people = _join(out, choices, settings, drafts)
    date_next_mornings(out)
    point_to_corrections(out)
    _odd_dates(out)
    _odd_loads(out)
    set_repeats_aside(out)
    out.pain = _timed(out.pain, _merged(out.sessions))
    set_corrected_aside(out)  # only now is it known which answers are about the same moment
    sessions = _merged(out.sessions)
    kept = _settle_rows(out, out.sets, sessions, out.pain)
    counted = {name: _counts(reading, out, name, kept) for name, reading in drafts.items()}
    sets, pain = _numbered(all_rows(out, SetRow, out.sets)), all_rows(out, PainRow, out.pain)
    files = [
        replace(file, sheets=tuple(reading for (name, _), reading in counted.items() if name == file.file))
        for file in files
    ]
    return Logs(files, sets, sessions, pain, out.screens, out.rejected, choices.choices(), people)


# People -------------------------------------------------------------------------------------------


def _join(
    out: Yield, choices: ChoiceBook, settings: Settings, drafts: dict[tuple[str, str], SheetReading]
) -> dict[str, tuple[str, ...]]:
    """Put the joined names into every row; answers display name -> the ways it was written."""
    rows: list[Any] = [*out.sets, *out.sessions, *out.pain, *out.screens]
    in_frames = names_written(out)
    written_names = Counter(row.athlete for row in rows)
    for (_, _, name), n in in_frames.items():
        written_names[name] += n
    named = Counter({name: n for name, n in written_names.items() if name not in out.unnamed})
    roster = [*out.roster, *filter(None, out.short_names.values())]
    found = join_people(named, settings.athlete, roster, out.short_names)
    unnamed = settle_unnamed(out, found, settings.athlete)
    found |= unnamed.people
    if unnamed.open:
        reject_rows(out, unnamed.open)
        rows = [row for row in rows if row.athlete in found or spaces(row.athlete) in found]
    for key, draft in drafts.items():
        if draft.file in unnamed.said:
            drafts[key] = replace(draft, assumptions=(*draft.assumptions, unnamed.said[draft.file]))
    people: dict[str, set[str]] = defaultdict(set)
    seen: Counter[tuple[str, str, str]] = Counter(
        (row.place.file, row.place.sheet, spaces(row.athlete)) for row in rows
    )
    for (file, sheet, name), n in in_frames.items():
        seen[file, sheet, spaces(name)] += n
    for (file, sheet, written), n in seen.items():
        person = found[written]
        people[person.name] |= set() if written in out.unnamed else {written}
        understood = None if person.how == "not known" else person.name
        entry = choices.seen.setdefault((file, sheet, "person", written), [understood, person.how, person.nearest, 0])
        entry[3] = n
    for listed, shown in shown_names(written_names, settings.athlete).items():
        if shown != listed and shown in people:
            people[shown].add(listed)  # season.toml's meets and changes name the person so
    for rows_of_kind in stored_rows(out):
        rows_of_kind[:] = [
            row if row.athlete == (name := found[spaces(row.athlete)].name) else replace(row, athlete=name)
            for row in rows_of_kind
        ]
    rename(out, {name: found[spaces(name)].name for _, _, name in in_frames})
    return {name: tuple(sorted(written)) for name, written in sorted(people.items())}


# Values that cannot be ----------------------------------------------------------------------------


def _odd_dates(out: Yield) -> None:
    """Rows dated years away from the rest of their file."""
    days: dict[str, Counter[date]] = defaultdict(Counter)
    for row in (row for rows in stored_rows(out) for row in rows):
        days[row.place.file][row.date] += 1
    for file, seen in dates_seen(out).items():
        days[file].update(seen)
    odd = odd_days(days)
    take_out_days(out, odd)
    reasons = {}
    for row in (row for rows in stored_rows(out) for row in rows):
        if row.date in odd[row.place.file]:
            reason = f"the date {row.date} lies years away from the rest of the file; is it a birthday?"
            reasons[key_of(row.place)] = (reason, "correct the date and import again")
    reject_rows(out, reasons)


def _odd_loads(out: Yield) -> None:
    """Loads far from what the athlete usually lifts in that exercise: the set stays, its load is set aside."""
    counted = distinct_loads(out)
    usual = usual_loads(out.sets, counted)
    take_out_loads(out, [one for one, _ in counted if odd_load(one, usual.get(what_of(one)))])
    aside: dict[tuple[Place, str], RejectedRow] = {}  # the sets of one cell ("3x6 800") told once
    for index, one in enumerate(out.sets):
        reason = odd_load(one, usual.get(what_of(one))) if one.load_kg is not None else None
        if reason:
            reason += "; the set was stored without its load"
            written, remedy = written_at(out, one.place), "correct the load and import again"
            aside.setdefault((one.place, reason), RejectedRow(one.place, written, reason, remedy, False))
            out.sets[index] = replace(one, load_kg=None)
    out.rejected += aside.values()


# Putting in order ---------------------------------------------------------------------------------


def _numbered(sets: Sequence[SetRow]) -> Sequence[SetRow]:
    """Set numbers from 1 within athlete, day, session and exercise as written, in reading order."""
    if isinstance(sets, FramedRows):
        return numbered_frame(sets)
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
    n_framed = n_rows_of(out, name)
    if len(read) != n_stored + len(rejected) + len(not_data):
        raise AssertionError(
            f"{name}: {len(read)} rows read, {n_stored} stored, {len(rejected)} rejected, {len(not_data)} no data"
        )
    return replace(
        reading,
        rows_read=len(read) + n_framed,
        rows_stored=n_stored + n_framed,
        rows_rejected=len(rejected),
        rows_not_data=len(not_data),
    )
