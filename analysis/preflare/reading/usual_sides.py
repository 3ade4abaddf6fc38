"""Pain without a side, given the one that the log's legend says."""

from dataclasses import replace

import polars as pl

from preflare.reading.context import SheetContext
from preflare.reading.legend_sides import UsualSide


def fill_sides(context: SheetContext, n_before: int) -> None:
    """Give pain without a side the one that the legend says. n_before: reports read before this sheet."""
    usual = {one.site: one for one in context.legend.sides}
    if not usual:
        return
    reports = context.out.pain
    used: set[UsualSide] = set()
    for i in range(n_before, len(reports)):
        if reports[i].side == "unknown" and (one := usual.get(reports[i].site)) is not None:
            reports[i] = replace(reports[i], side=one.side)
            used.add(one)
    plain = context.out.plain[-1] if context.out.plain else None
    if plain is not None and plain.source == (context.file, context.sheet.name):
        for one in usual.values():
            is_open = (pl.col("site").cast(pl.String) == one.site) & (pl.col("side").cast(pl.String) == "unknown")
            if plain.pain.select(is_open.any()).item():
                used.add(one)
                told = pl.when(is_open).then(pl.lit(one.side)).otherwise(pl.col("side").cast(pl.String))
                plain.pain = plain.pain.with_columns(told.cast(plain.pain.schema["side"]).alias("side"))
    for one in usual.values():
        if one in used:
            context.assume(one.told())
