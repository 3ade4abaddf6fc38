"""The frame that every model works on, one row a squat session, as queries/ defines it."""

from functools import cache
from typing import TYPE_CHECKING

from preflare.errors import PreflareError
from preflare.store import Column, Store
from preflare.store.queries import view_queries

if TYPE_CHECKING:
    import pandas


@cache
def model_frame_columns() -> tuple[Column, ...]:
    """Name, unit and meaning of every column of the model frame, as queries/exposures/model_frame.sql words them."""
    (query,) = [query for query in view_queries() if query.name == "model_frame"]
    return query.columns


def model_frame(store: Store) -> "pandas.DataFrame":
    """One row per squat session, sorted by athlete, date, ordinal; numbers are float64 with NaN for missing.

    The user's own exposures follow as further columns under their own names (see exploratory_columns).
    """
    import numpy as np

    if not store.has("model_frame"):
        raise PreflareError(f"{store.path} is empty. Import logs into it first.")
    frame = store.frame("model_frame")
    for column in model_frame_columns():
        if column.unit == "yes/no":
            frame[column.name] = frame[column.name].astype(bool)
        elif column.name in {"session_id", "season", "day", "n_reports"}:
            frame[column.name] = frame[column.name].astype(np.int64)
        elif column.unit not in {"word", "name", "date"}:
            frame[column.name] = frame[column.name].astype(np.float64)
    return frame
