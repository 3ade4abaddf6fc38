"""What stands twice: repeated rows and blocks, the same sessions in two files, and answers that were corrected."""

from collections import Counter, defaultdict
from dataclasses import replace
from datetime import date
from itertools import combinations, groupby
from operator import attrgetter
from typing import Any

from preflare.reading.context import RowKey, Yield, cells_text
from preflare.reading.plain_rules import runs_twice, take_out_shared_days
from preflare.reading.rows import PainRow, Place, RejectedRow, ScreenRow, SessionRow, SetRow
from preflare.reading.text import as_text, column_index

Source = tuple[str, str]  # file and sheet


def set_repeats_aside(out: Yield) -> None:
    """Everything that stands twice is rejected with a word about where it stands first."""
    _repeated_rows(out)
    _repeated_blocks(out)
    _repeated_sessions(out)


def key_of(place: Place) -> RowKey:
    return (place.file, place.sheet, place.row)


def stored_rows(out: Yield) -> tuple[list[Any], ...]:
    """The lists of rows that will be stored."""
    return out.sets, out.sessions, out.pain, out.screens


def written_at(out: Yield, place: Place) -> str:
    """The text of the cell at `place`."""
    cells = out.read.get(key_of(place), [])
    index = column_index(place.column)
    return as_text(cells[index]) if 0 <= index < len(cells) else cells_text(cells)


def reject_rows(out: Yield, reasons: dict[RowKey, tuple[str, str]]) -> None:
    """Take everything that came from these rows out again, and reject the rows whole."""
    if not reasons:
        return
    for rows in stored_rows(out):
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
    for rows in stored_rows(out):
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
    reject_rows(out, reasons)


def _repeated_blocks(out: Yield) -> None:
    """A run of rows of one person and day that stands in the sheet a second time.

    Only runs of several different sets: partners who take turns write single equal sets again and again.
    """
    reasons = {}
    for runs in _runs_by_sheet(out).values():
        first: dict[tuple[Any, ...], SetRow] = {}
        for block in runs:
            if len({key_of(one.place) for one in block}) < 2 or len({_signature(one) for one in block}) < 2:
                continue
            earlier = first.setdefault(tuple(_signature(one) for one in block), block[0])
            if earlier is not block[0]:
                for one in block:
                    reasons[key_of(one.place)] = (
                        f"the rows from row {earlier.place.row} stand here a second time",
                        "nothing, unless both took place",
                    )
    reject_rows(out, reasons)


def _runs_by_sheet(out: Yield) -> dict[Source, list[list[SetRow]]]:
    """Each sheet's rows in runs of one person, day and session; of sheets kept as frames only those that may repeat."""
    runs = runs_twice(out)
    by_sheet: dict[Source, list[SetRow]] = defaultdict(list)
    for one in out.sets:
        by_sheet[one.place.file, one.place.sheet].append(one)
    for source, rows in by_sheet.items():
        if source not in runs:
            runs[source] = [list(run) for _, run in groupby(rows, key=lambda one: (one.athlete, one.date, one.ordinal))]
    return {source: runs[source] for source in sorted(runs, key=lambda source: out.order.get(source, 0))}


def _repeated_sessions(out: Yield) -> None:
    """The same session in two files or sheets: kept once. Other sets of an exercise on that day: a second session."""
    take_out_shared_days(out)
    days: dict[tuple[str, date], dict[Source, list[SetRow]]] = defaultdict(lambda: defaultdict(list))
    for one in out.sets:
        days[one.athlete, one.date][one.place.file, one.place.sheet].append(one)
    shared = {what: sources for what, sources in days.items() if len(sources) > 1}
    copies = _copies(shared)
    gone: dict[int, str] = {}
    later: set[int] = set()
    for (athlete, day), sources in shared.items():
        kept: list[tuple[Source, Counter[Any]]] = []
        for source, rows in sources.items():
            said = _said(rows)
            known = next(
                (known for known, other in kept if _is_twin(said, other) or (known, source, athlete) in copies), None
            )
            names = {name for name, _, _ in said} - {"unknown"}
            clash = any(names & {name for name, _, _ in other} for _, other in kept)
            if known is not None and (clash or _is_twin(said, dict(kept)[known])):
                how = "already" if said <= dict(kept)[known] else "with other figures"
                reason = f"the session of {athlete} on {day} stands in {_named(known)} {how}"
                gone |= {id(one): reason for one in rows}
                continue
            if clash:
                later |= {id(one) for one in rows}
            kept.append((source, said))
    _reject_sets(out, gone)
    if later:
        out.sets[:] = [replace(one, ordinal=one.ordinal + 1) if id(one) in later else one for one in out.sets]


def _said(rows: list[SetRow]) -> Counter[Any]:
    return Counter((one.exercise, one.load_kg, one.reps) for one in rows)


def _is_twin(said: Counter[Any], other: Counter[Any]) -> bool:
    """All of it stands there, or at least two sets and half of it: then the rest was corrected in one of the two."""
    common = sum((said & other).values())
    return said <= other or (common >= 2 and 2 * common >= sum(said.values()))


def _copies(shared: dict[tuple[str, date], dict[Source, list[SetRow]]]) -> set[tuple[Source, Source, str]]:
    """(earlier source, later source, athlete) where at least three days, and half of those in both, are the same."""
    both: Counter[tuple[Source, Source, str]] = Counter()
    same: Counter[tuple[Source, Source, str]] = Counter()
    for (athlete, _), sources in shared.items():
        said = {source: _said(rows) for source, rows in sources.items()}
        for earlier, later in combinations(said, 2):
            both[earlier, later, athlete] += 1
            same[earlier, later, athlete] += _is_twin(said[later], said[earlier])
    return {pair for pair, n in same.items() if n >= 3 and 2 * n >= both[pair]}


def _named(source: Source) -> str:
    return source[0] + (f', sheet "{source[1]}"' if source[1] else "")


def _reject_sets(out: Yield, gone: dict[int, str]) -> None:
    """Take single sets out again. A row of which no set is left goes whole; of a grid's row only the cells go."""
    left = {key_of(one.place) for one in out.sets if id(one) not in gone}
    remedy = "remove one of the two copies"
    rows = {
        key_of(one.place): (gone[id(one)], remedy)
        for one in out.sets
        if id(one) in gone and key_of(one.place) not in left
    }
    cells = {one.place: gone[id(one)] for one in out.sets if id(one) in gone and key_of(one.place) in left}
    out.sets[:] = [one for one in out.sets if id(one) not in gone]
    for place, reason in cells.items():
        out.rejected.append(RejectedRow(place, written_at(out, place), reason, remedy, False))
    reject_rows(out, rows)


def set_corrected_aside(out: Yield) -> None:
    """Of two answers in one form for one day, site, side and moment the later replaces the earlier, saying so.

    Answers whose moment is unknown both stand: one may be from before the session, the other from after it.
    """
    last: dict[tuple[Any, ...], PainRow] = {}
    gone: dict[int, tuple[PainRow, int]] = {}
    forms = [one for one in out.pain if one.origin == "form" and one.moment != "unknown"]
    for one in sorted(forms, key=lambda row: (row.place.file, row.place.sheet, row.place.row)):
        what = (one.place.file, one.place.sheet, one.athlete, one.date, one.site, one.side, one.moment, one.kind)
        earlier = last.get(what)
        if earlier is not None and key_of(earlier.place) != key_of(one.place):
            old, new = (one, earlier) if _is_turned(earlier, one) else (earlier, one)
            gone[id(old)] = (old, new.place.row)
            one = new
        last[what] = one
    out.pain[:] = [one for one in out.pain if id(one) not in gone]
    _reject_answers(out, list(gone.values()))


def _is_turned(earlier: PainRow, later: PainRow) -> bool:
    """Whether the answer that stands later in the form was given earlier."""
    return earlier.reported_at is not None and later.reported_at is not None and later.reported_at < earlier.reported_at


def _reject_answers(out: Yield, corrected: list[tuple[PainRow, int]]) -> None:
    """Record answers taken out: the row where nothing of it is left, else the cell."""
    left = {key_of(row.place) for rows in stored_rows(out) for row in rows}
    remedy = "nothing; the later answer counts"
    rows: dict[RowKey, tuple[str, str]] = {}
    cells: dict[Place, RejectedRow] = {}
    for one, by in corrected:
        reason = f"the later answer in row {by} corrects it"
        if key_of(one.place) not in left:
            rows[key_of(one.place)] = (reason, remedy)
            continue
        what = "" if one.side == "unknown" else f"{one.side} "
        reason = f"{reason} for the {what}{one.site}; the rest of the row was stored"
        cells[one.place] = RejectedRow(one.place, written_at(out, one.place), reason, remedy, False)
    out.rejected += cells.values()
    reject_rows(out, rows)
