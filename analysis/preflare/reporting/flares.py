"""An athlete's flare-ups, each with the 28 days before it against the same athlete's ordinary sessions."""

from typing import Any

from preflare.reporting.charts.season import AthleteSeason
from preflare.reporting.material import paragraph, section, table
from preflare.reporting.numbers import decimal, is_known, out_of, short_day, short_decimal, whole
from preflare.reporting.records import Section, Table
from preflare.reporting.views import AMOUNTS_BEFORE, BARS_BEFORE, Views, rows
from preflare.reporting.words import Words

Row = dict[str, Any]


def flares_section(athlete: Row, data: AthleteSeason, views: Views, words: Words) -> Section:
    """A row a flare-up under one row of the athlete's own usual; the definition of both below."""
    if not athlete["flare_ups"]:
        key = "athlete.flares.none" if data.ratings else "athlete.flares.unknown"
        return section(words, "athlete.flares", paragraph(words, key))
    before = {row["number"]: row for row in rows(views["flare_up_before"])}
    note = "athlete.flares.note" if before else "athlete.flares.note_dates"
    return section(
        words,
        "athlete.flares",
        _table(athlete["flare_ups"], before, words),
        paragraph(words, note, "small"),
    )


def _table(flares: list[Row], before: dict[int, Row], words: Words) -> Table:
    """Dates and highest rating; with what came before where the store tells it."""
    known = next(iter(before.values()), None)
    amounts = [a for a in AMOUNTS_BEFORE if any(is_known(row[f"{a}_before"]) for row in before.values())]
    bars = [
        b for b in BARS_BEFORE if any(row[f"{b}_{when}"] for row in before.values() for when in ("before", "usual"))
    ]
    told = len(bars) > 1
    body = [_usual(known, amounts, bars if told else [], words)] if known else []
    body += [_flare(f, before.get(f["number"]), amounts, bars if told else [], words) for f in flares]
    columns = ["flare", "onset", "end", "peak"]
    columns += (
        ["sessions_before", *(f"{a}_before" for a in amounts), *(f"{b}_before" for b in bars[1:] if told)]
        if known
        else []
    )
    head = [words.text(f"table.{key}") for key in columns]
    return table(words.text("table.flares"), head, body, "flare_ups.csv")


def _usual(row: Row, amounts: list[str], bars: list[str], words: Words) -> tuple[Any, ...]:
    """The first row: ordinary sessions of the same athlete, the same for every flare-up."""
    return (words.text("table.own_usual"), "", "", "", *_told(row, "usual", amounts, bars, words))


def _flare(flare: Row, row: Row | None, amounts: list[str], bars: list[str], words: Words) -> tuple[Any, ...]:
    end = short_day(flare["end"], words) if flare.get("end") else words.text("athlete.flares.open")
    dates = (
        whole(flare["number"], words),
        short_day(flare["onset"], words),
        end,
        short_decimal(flare.get("peak"), words),
    )
    return (*dates, *_told(row, "before", amounts, bars, words)) if row else dates


def _told(row: Row, when: str, amounts: list[str], bars: list[str], words: Words) -> tuple[Any, ...]:
    """Sessions, the means of the amounts, and of how many sessions were on each bar but the first."""
    sessions = row[f"sessions_{when}"]
    return (
        whole(sessions, words),
        *(_amount(row[f"{a}_{when}"], words) for a in amounts),
        *(_of_sessions(row[f"{b}_{when}"], sessions, words) for b in bars[1:]),
    )


def _amount(value: float | None, words: Words) -> str:
    return decimal(value, 1, words) if is_known(value) else words.text("table.too_few")


def _of_sessions(part: int, sessions: int, words: Words) -> str:
    return out_of(part, sessions, words) if sessions else words.text("table.too_few")
