"""Ratings of the next morning that stand in the row of the session itself: they were given a day later.

A report is dated by the day on which it was given, so that it is told after which session it came. A form's answer has
its own day; a row of training has the day of the session.
"""

from dataclasses import replace
from datetime import timedelta

import polars as pl

from preflare.reading.context import Yield

_NEXT_DAY = timedelta(days=1)


def date_next_mornings(out: Yield) -> None:
    """Date what training rows say of the next morning one day later, where the lifter trained on the row's day."""
    trained = {(one.athlete, one.date) for one in out.sets}
    out.pain = [
        replace(one, date=one.date + _NEXT_DAY)
        if one.moment == "next morning" and one.origin != "form" and (one.athlete, one.date) in trained
        else one
        for one in out.pain
    ]
    for plain in out.plain:  # every row there is one of training
        is_morning = pl.col("moment") == "next morning"
        later = pl.when(is_morning).then(pl.col("date") + pl.duration(days=1)).otherwise(pl.col("date"))
        plain.pain = plain.pain.with_columns(later.cast(plain.pain.schema["date"]).alias("date"))
