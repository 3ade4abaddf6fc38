"""The rules that look at whole files, for the ordinary rows that a long sheet keeps as frames.

A rule counts the rows of the frames with all others. The few rows that it may have to change are taken out of their
frame first, as rows like any other, so that the rule itself stands in one place only.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable
from datetime import date
from typing import Any

import polars as pl

from preflare.reading.context import Yield
from preflare.reading.framed import TYPES, FramedRows, framed
from preflare.reading.plain import PlainRows
from preflare.reading.rows import PainRow, SetRow

Source = tuple[str, str]
_SAYS = [name for name in TYPES[SetRow] if name in SetRow.__slots__]
_RUN = ["athlete", "date", "ordinal"]
_DAY = ["athlete", "date"]


def n_rows_of(out: Yield, source: Source) -> int:
    """How many rows of a sheet are kept in a frame; every one of them is stored."""
    return sum(plain.sets.height for plain in out.plain if plain.source == source)


def names_written(out: Yield) -> Counter[tuple[str, str, str]]:
    """(file, sheet, name as written) -> the number of sets and reports under it."""
    names: Counter[tuple[str, str, str]] = Counter()
    for plain in out.plain:
        for frame in (plain.sets, plain.pain):
            for name, n in frame["athlete"].value_counts().rows():
                names[(*plain.source, name)] += n
    return names


def rename(out: Yield, names: dict[str, str]) -> None:
    """Put people's joined names in the place of the written ones."""
    for plain in out.plain:
        for kind in ("sets", "pain"):
            frame = getattr(plain, kind)
            written = frame["athlete"].unique().to_list()
            new = pl.Series([names[name] for name in written], dtype=TYPES[SetRow]["athlete"])
            old = pl.Series(written, dtype=TYPES[SetRow]["athlete"])
            setattr(plain, kind, frame.with_columns(pl.col("athlete").replace_strict(old, new)))


def dates_seen(out: Yield) -> dict[str, Counter[date]]:
    """File -> its dates with the number of sets and reports of each."""
    days: dict[str, Counter[date]] = {}
    for plain in out.plain:
        seen = days.setdefault(plain.file, Counter())
        for frame in (plain.sets, plain.pain):
            seen.update(dict(frame["date"].value_counts().rows()))
    return days


def take_out_days(out: Yield, odd: dict[str, set[date]]) -> None:
    """Take the rows of these dates out of the frames."""
    for plain in out.plain:
        if odd.get(plain.file):
            _take_out(out, plain, pl.col("date").is_in(list(odd[plain.file])))


def distinct_loads(out: Yield) -> list[tuple[SetRow, int]]:
    """Each load that an athlete used in an exercise, as one of its sets, with how many sets there are of it."""
    found = []
    for plain in out.plain:
        by = ["athlete", "exercise", "exercise_written", "load_kg"]
        groups = plain.sets.filter(pl.col("load_kg").is_not_null()).group_by(by).agg(pl.all().first(), n=pl.len())
        found += list(zip(FramedRows(SetRow, groups), groups["n"].to_list(), strict=True))
    return found


def take_out_loads(out: Yield, odd: Iterable[SetRow]) -> None:
    """Take the rows out of the frames that have the athlete, exercise and load of one of these sets."""
    by = ["athlete", "exercise", "exercise_written", "load_kg"]
    wanted = framed(SetRow, list(odd)).select("file", "sheet", *by)
    for plain in out.plain if wanted.height else []:
        rows = plain.sets.join(wanted, on=["file", "sheet", *by], how="semi")["at"]
        _take_out(out, plain, pl.col("at").is_in(rows.implode()))


def take_out_shared_days(out: Yield) -> None:
    """Take the sets out of the frames whose athlete trained on that day by another file or sheet too."""
    if not out.plain:
        return
    parts = [plain.sets.select(*_DAY, "file", "sheet").unique() for plain in out.plain]
    parts.append(framed(SetRow, out.sets).select(*_DAY, "file", "sheet").unique())
    sources = pl.concat(parts).unique().group_by(_DAY).len()
    shared = sources.filter(pl.col("len") > 1)
    for plain in out.plain if shared.height else []:
        rows = plain.sets.join(shared, on=_DAY, how="semi")["at"]
        _take_out(out, plain, pl.col("at").is_in(rows.implode()))


def runs_twice(out: Yield) -> dict[Source, list[list[SetRow]]]:
    """Of each framed sheet the runs of rows of one person, day and session, where a run of theirs may stand twice.

    All rows of these people's days are taken out of the frames. Runs are told apart by a hash of what they say: two
    that share one by chance are only compared in vain.
    """
    found: dict[Source, list[list[SetRow]]] = {}
    for plain in out.plain:
        found[plain.source] = []
        loose = framed(SetRow, [one for one in out.sets if (one.place.file, one.place.sheet) == plain.source])
        if not _sessions_in_pieces(_in_order(plain.sets, loose, ["row", *_RUN])):
            continue
        rows = _in_order(plain.sets, loose, ["row", *_SAYS])
        rows = rows.with_columns(run=rows.select(_session_key()).to_series().rle_id())
        wanted = _twice_said(rows)
        _take_out(out, plain, pl.col("at").is_in(plain.sets.join(wanted, on=_RUN, how="semi")["at"].implode()))
        at_line = _by_line(out.sets, plain.source)
        for part in rows.join(wanted, on=_RUN, how="semi").partition_by("run", maintain_order=True):
            lines = part["row"].unique(maintain_order=True)
            found[plain.source].append([one for line in lines for one in at_line[line]])
    return found


def _in_order(one: pl.DataFrame, other: pl.DataFrame, names: list[str]) -> pl.DataFrame:
    """Columns of two frames of a sheet in one, in the order of rows; both have theirs in it."""
    return one.select(names).merge_sorted(other.select(names), key="row")


def _sessions_in_pieces(rows: pl.DataFrame) -> bool:
    """Whether the rows of some person, day and session do not all stand together."""
    keys = rows.select(_session_key()).to_series()
    return keys.rle_id().max() != keys.n_unique() - 1 and not keys.is_empty()


def _session_key() -> pl.Expr:
    """Athlete, date and number of the session in one whole number, which is quicker to group by than the three."""
    athlete = pl.col("athlete").to_physical().cast(pl.Int64)
    return athlete * 2**32 + pl.col("date").cast(pl.Int32).cast(pl.Int64) * 2**4 + pl.col("ordinal")


def _twice_said(rows: pl.DataFrame) -> pl.DataFrame:
    """Person, day and session of runs that say the same as another run. rows: with `run`."""
    several = rows.select(*_RUN, "run").unique().group_by(_RUN).len().filter(pl.col("len") > 1)
    rows = rows.join(several, on=_RUN, how="semi", maintain_order="left")
    said = rows.select(*_RUN, "run", said=rows.select(_SAYS).hash_rows())
    place = pl.int_range(1, pl.len() + 1, dtype=pl.UInt64).over("run")
    said = said.with_columns(said=pl.struct("said", place=place).hash())
    runs = said.group_by("run").agg(*(pl.col(name).first() for name in _RUN), pl.col("said").sum(), n=pl.len())
    return runs.filter(pl.struct(*_RUN, "said", "n").is_duplicated()).select(_RUN).unique()


def _by_line(sets: list[SetRow], source: Source) -> dict[int, list[SetRow]]:
    """Line of a sheet -> the sets that were read from it."""
    lines: dict[int, list[SetRow]] = defaultdict(list)
    for one in sets:
        if (one.place.file, one.place.sheet) == source:
            lines[one.place.row].append(one)
    return lines


# Back to rows -------------------------------------------------------------------------------------


def _take_out(out: Yield, plain: PlainRows, which: pl.Expr) -> None:
    """Turn rows of a frame into rows like any other, with everything that was read from them."""
    at = plain.sets.filter(which)["at"]
    if at.is_empty():
        return
    is_taken = pl.col("at").is_in(at.implode())
    out.sets += FramedRows(SetRow, plain.sets.filter(is_taken))
    out.pain += FramedRows(PainRow, plain.pain.filter(is_taken))
    for row in at.to_list():
        out.read[(*plain.source, plain.sheet.line_numbers[row])] = plain.sheet.rows[row]
    plain.sets, plain.pain = plain.sets.filter(~is_taken), plain.pain.filter(~is_taken)
    out.sets.sort(key=_reading_order(out))
    out.pain.sort(key=_reading_order(out))


def _reading_order(out: Yield) -> Any:
    """A sort key that puts rows of framed sheets in the order of their sheet, and leaves all others as they are."""
    sources = {plain.source for plain in out.plain}

    def key(row: Any) -> tuple[int, int]:
        source = (row.place.file, row.place.sheet)
        return out.order[source], row.place.row if source in sources else 0

    return key


def all_rows(out: Yield, kind: type[Any], rows: list[Any]) -> Any:
    """The rows with those of the frames between them, in reading order; `rows` itself when there are no frames.

    The frames give theirs away, so that they are not held twice.
    """
    if not out.plain:
        return rows
    which = "sets" if kind is SetRow else "pain"
    plain = {one.source: one for one in out.plain}
    pieces = []
    for source in out.order:
        own = framed(kind, [row for row in rows if (row.place.file, row.place.sheet) == source])
        if source in plain:
            own = _in_order(getattr(plain[source], which), own, list(TYPES[kind]))
            setattr(plain[source], which, own.clear())
        pieces.append(own)
    return FramedRows(kind, pl.concat(pieces))


def numbered_frame(sets: FramedRows[SetRow]) -> FramedRows[SetRow]:
    """Set numbers from 1 within athlete, day, session and exercise as written, in reading order."""
    number = pl.int_range(1, pl.len() + 1, dtype=pl.Int32).over(_session_key(), "exercise_written")
    return FramedRows(SetRow, sets.frame.with_columns(set_number=number))
