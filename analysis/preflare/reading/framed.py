"""Rows kept as a frame: what a long log says, without an object a row.

A frame has a column for each field of its kind of row, and four for the place. A word takes four bytes a row.
"""

from collections.abc import Callable, Iterator, Sequence
from typing import Any, Generic, TypeVar, overload

import polars as pl

from preflare.reading.rows import PainRow, Place, SetRow

Row = TypeVar("Row")
ROWS_AT_ONCE = 20_000
PLACE = ("file", "sheet", "row", "column")
_WORD = pl.Categorical()
_PLACES: dict[str, Any] = {"file": _WORD, "sheet": _WORD, "row": pl.Int32, "column": _WORD}
_SET: dict[str, Any] = {
    "athlete": _WORD, "date": pl.Date, "ordinal": pl.Int32, "set_number": pl.Int32, "exercise": _WORD,
    "exercise_written": _WORD, "bar": _WORD, "bar_written": _WORD, "bar_position": _WORD, "grip_width": _WORD,
    "grip_style": _WORD, "grip_written": _WORD, "load_kg": pl.Float64, "reps": pl.Int32, "rpe": pl.Float64,
    "rir": pl.Float64, "is_warm_up": pl.Boolean, "is_failed": pl.Boolean, "note": _WORD, **_PLACES,
}  # fmt: skip
_PAIN: dict[str, Any] = {
    "athlete": _WORD, "date": pl.Date, "reported_at": pl.Datetime("us"), "rating": pl.Float64, "severity_word": _WORD,
    "site": _WORD, "side": _WORD, "moment": _WORD, "kind": _WORD, "origin": _WORD, "evidence": _WORD, **_PLACES,
}  # fmt: skip
TYPES: dict[type[Any], dict[str, Any]] = {SetRow: _SET, PainRow: _PAIN}


class FramedRows(Sequence[Row], Generic[Row]):
    """A frame as a sequence of rows of one kind; a row is made when it is asked for."""

    def __init__(self, kind: type[Row], frame: pl.DataFrame) -> None:
        self.kind, self.frame = kind, frame.select(list(TYPES[kind]))

    def __len__(self) -> int:
        return self.frame.height

    @overload
    def __getitem__(self, at: int) -> Row: ...
    @overload
    def __getitem__(self, at: slice) -> "FramedRows[Row]": ...
    def __getitem__(self, at: int | slice) -> "Row | FramedRows[Row]":
        if isinstance(at, slice):
            return FramedRows(self.kind, self.frame[at])
        return self._made(self.frame.row(at))

    def __iter__(self) -> Iterator[Row]:
        for part in self.frame.iter_slices(ROWS_AT_ONCE):
            yield from map(self._made, part.rows())

    def _made(self, values: tuple[Any, ...]) -> Row:
        make: Callable[..., Row] = self.kind
        return make(*values[: -len(PLACE)], Place(*values[-len(PLACE) :]))


def framed(kind: type[Any], rows: Sequence[Any]) -> pl.DataFrame:
    """Rows as a frame of their kind."""
    own = [name for name in TYPES[kind] if name not in PLACE]
    columns = {name: [getattr(row, name) for row in rows] for name in own}
    columns |= {name: [getattr(row.place, name) for row in rows] for name in PLACE}
    return pl.DataFrame(columns, schema=TYPES[kind])
