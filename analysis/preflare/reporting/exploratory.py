"""The team page's exploratory section: which days' sets went with pain, and sessions of one spell side by side."""

from typing import Any

from preflare.reporting.charts.bar_choice import triple
from preflare.reporting.charts.before import BeforeRow, before
from preflare.reporting.charts.frame import cut
from preflare.reporting.charts.lag import LagCurve, lag
from preflare.reporting.charts.odds import OddsRow, odds
from preflare.reporting.material import Material, figure, paragraph, section, table
from preflare.reporting.numbers import (
    amount_difference,
    difference,
    is_known,
    ratio,
    short_decimal,
    signed,
    two_figures,
    whole,
)
from preflare.reporting.records import Block, Figure, Items, Part, Section
from preflare.reporting.words import Words, as_text


def exploratory_section(material: Material) -> Section | None:
    """What was looked at without having been declared; no heading where the logs allowed none of it."""
    words = material.words
    parts = [
        _lag_part(material.findings.get("lags"), words),
        _odds_part(material.findings.get("case_crossover"), words),
        _own_part(material.findings.get("exploratory"), words),
    ]
    if not any(parts):
        return None
    return section(words, "team.exploratory", paragraph(words, "team.exploratory.lead"), *parts)


def _lag_part(found: dict[str, Any] | None, words: Words) -> Part | None:
    """One more set on each of the days before, and so many more a week for the whole time."""
    points = [p for p in (found or {}).get("points") or [] if is_known(p["per_100"], p["low"], p["high"])]
    if not found or len(points) < 2:
        return None
    total = found["cumulative"]
    told = {
        "sets": short_decimal(total["sets_a_week"], words),
        "days": whole(total["days"], words),
        "difference": difference(total["per_100"], total["low"], total["high"], words),
        "sessions": words.count("reported_sessions", found["reported"]),
        "lifters": words.count("lifters", found["athletes"]),
    }
    lead = paragraph(words, "team.exploratory.lag", **told)
    return Part(words.text("team.exploratory.lag_title"), (lead, _lag_figure(points, words)), "lag")


def _lag_figure(points: list[dict[str, Any]], words: Words) -> Figure:
    data = LagCurve(*([p[key] for p in points] for key in ("days_before", "per_100", "low", "high")))
    body = [(whole(p["days_before"], words), _amount(p, words)) for p in points]
    highest, lowest = (how(points, key=lambda p: p["per_100"]) for how in (max, min))
    return figure(
        "lag",
        lambda narrow: lag(data, words, narrow),
        words.text(
            "alt.lag",
            days=whole(len(points), words),
            high_day=words.count("days", highest["days_before"]),
            high=_amount(highest, words),
            low_day=words.count("days", lowest["days_before"]),
            low=_amount(lowest, words),
        ),
        words.spans("caption.lag"),
        table(words.text("table.lag"), (words.text("table.days_before"), words.text("table.of_100_difference")), body,
              "lags.csv", folded=True),
    )  # fmt: skip


def _amount(point: dict[str, Any], words: Words) -> Any:
    return amount_difference(point["per_100"], point["low"], point["high"], words)


def _odds_part(found: dict[str, Any] | None, words: Words) -> Part | None:
    """The first session of each flare-up against the same lifter's other sessions of the same four weeks."""
    known = [e for e in (found or {}).get("exposures") or [] if triple(e["low"], e["odds_ratio"], e["high"])]
    if not found or not known:
        return None
    lead = paragraph(
        words,
        "team.exploratory.odds",
        flares=words.count("flare_ups", found["onsets"]),
        lifters=words.count("lifters", found["athletes"]),
        sessions=words.count("squat_sessions", found["sessions"]),
        days=whole(found["block_days"], words),
    )
    rare = [_exposure(record, words) for record in found["left_out"]]
    blocks: list[Block] = [lead, _odds_figure(known, words)]
    if rare:
        blocks.append(paragraph(words, "team.exploratory.left_out", what=words.listing(rare)))
    return Part(words.text("team.exploratory.odds_title"), tuple(blocks), "side-by-side")


def _odds_figure(known: list[dict[str, Any]], words: Words) -> Figure:
    """One interval an exposure, with the ratios in a table."""
    rows = [
        OddsRow(_exposure(e, words), (e["low"], e["odds_ratio"], e["high"]), two_figures(e["odds_ratio"], words),
                _ratio(e, words))
        for e in known
    ]  # fmt: skip
    told = " ".join(words.text("alt.odds_row", what=r.label, value=r.with_interval) for r in rows)
    head = (words.text("table.what"), words.text("table.odds_ratio"))
    body = [(_exposure(e, words), _ratio(e, words)) for e in known]
    return figure(
        "odds",
        lambda narrow: odds(rows, words, narrow),
        words.text("alt.odds", rows=told),
        words.spans("caption.odds"),
        table(words.text("table.odds"), head, body, "case_crossover.csv", folded=True),
    )


def _own_part(found: list[dict[str, Any]] | None, words: Words) -> Part | None:
    """The squad's own exposures: what findings.json says of each, and the intervals side by side."""
    if not found:
        return None
    told = Items(tuple(as_text(record["sentence"]) for record in found))
    return Part(words.text("team.exploratory.own_title"), (told, _own_figure(found, words)), "own-questions")


def _own_figure(found: list[dict[str, Any]], words: Words) -> Figure:
    """One interval an exposure, with the counts that it rests on in a table."""
    unit = words.text("chart.own")
    told = [words.text("alt.own_row", what=r["label"], value=_own_difference(r, words)) for r in found]
    head = [words.text(f"table.{key}") for key in ("what", "own_compared", "of_100_difference")]
    head += [words.text(f"table.own_{key}") for key in _OWN_COUNTS]
    return figure(
        "own",
        lambda narrow: before(
            [(unit, [_own_row(r, words, narrow) for r in found])], words, narrow, hue="pain", left=3.1
        ),
        words.text("alt.own", rows=" ".join(told)),
        words.spans("caption.own"),
        table(words.text("table.own"), head, [_own_cells(r, words) for r in found], "own_exposures.csv", folded=True),
    )


_OWN_COUNTS = ("reported", "missing", "contributing")


def _own_cells(record: dict[str, Any], words: Words) -> tuple[Any, ...]:
    compared = words.text("table.own_size", size=short_decimal(record["size"], words), unit=record["unit"])
    counts = (whole(record[key], words) for key in _OWN_COUNTS)
    return (record["label"], compared, _own_difference(record, words), *counts)


def _own_row(record: dict[str, Any], words: Words, narrow: bool) -> BeforeRow:
    label = cut(record["label"], 16 if narrow else 38)
    values = triple(record["low"], record["per_100"], record["high"])
    if values is None:
        return BeforeRow(label, None)
    return BeforeRow(label, values, signed(record["per_100"], words), _own_difference(record, words))


def _own_difference(record: dict[str, Any], words: Words) -> Any:
    return difference(record["per_100"], record["low"], record["high"], words)


def _exposure(record: dict[str, Any], words: Words) -> str:
    return words.word("side_by_side", record["exposure"]).format(per=short_decimal(record["per"], words))


def _ratio(record: dict[str, Any], words: Words) -> Any:
    return ratio(record["odds_ratio"], record["low"], record["high"], words)
