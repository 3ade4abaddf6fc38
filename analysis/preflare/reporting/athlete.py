"""The athlete's page: the season on one time axis, the flare-ups, the squad's estimates beside the own, screens."""

from datetime import date
from typing import Any

import pandas as pd

from preflare.reporting.charts.bar_choice import triple
from preflare.reporting.charts.pulled import Estimates, pulled
from preflare.reporting.charts.season import OTHER_WORK, AthleteSeason, season_chart
from preflare.reporting.evidence import letters
from preflare.reporting.finding import label
from preflare.reporting.flares import flares_section
from preflare.reporting.material import Material, figure, framed, paragraph, section, table
from preflare.reporting.numbers import (
    day,
    difference,
    is_known,
    out_of,
    short_day,
    short_decimal,
    span_of_days,
    table_day,
    whole,
)
from preflare.reporting.records import Items, Page, Section, Span, Table, Text
from preflare.reporting.views import Views, athlete_season, of_athlete, rows
from preflare.reporting.words import Words


def athlete_page(athlete: dict[str, Any], material: Material) -> Page:
    """One athlete's page as a page record. material.views may hold that athlete's rows alone."""
    words, told = material.words, material.findings.get("season") or {}
    views = of_athlete(material.views, athlete["name"])
    data = athlete_season(views, athlete["flare_ups"])
    sections = [
        warnings_section(athlete, words),
        season_section(athlete, data, material),
        flares_section(athlete, data, views, words),
        estimates_section(athlete, material),
        screens_section(views, words),
    ]
    return framed(
        material,
        "athlete",
        title=athlete["name"],
        sections=[s for s in sections if s is not None],
        home="../team.html",
        dates=span_of_days(told.get("from"), told.get("to"), words),
        lead=_lead(athlete, material),
        facts=words.spans("athlete.facts"),
    )


def _lead(athlete: dict[str, Any], material: Material) -> Text:
    words = material.words
    values = (material.findings.get("definitions") or {}).get("values") or {}
    key = "athlete.lead" if athlete["reported"] else "athlete.lead_unreported"
    return words.spans(
        key,
        flares=words.count("flare_ups", len(athlete["flare_ups"])),
        sessions=words.count("squat_sessions", athlete["sessions"]),
        events=out_of(athlete["events"], athlete["reported"], words),
        event=whole((values.get("event") or {}).get("rating", 4), words),
    )


def warnings_section(athlete: dict[str, Any], words: Words) -> Section | None:
    """Warning words and high ratings in this log, with the caution beside them. No heading where there are none."""
    found = athlete.get("warnings") or []
    if not found:
        return None
    days: dict[str, list[str]] = {}
    for warning in sorted(found, key=lambda w: str(w["date"])):
        days.setdefault(str(warning["words"]).rstrip("."), []).append(day(warning["date"], words))
    lines = tuple((Span(told, "strong"), Span(f": {', '.join(when)}")) for told, when in days.items())
    return section(words, "athlete.warnings", paragraph(words, "athlete.warnings.caution", "warning"), Items(lines))


def season_section(athlete: dict[str, Any], data: AthleteSeason, material: Material) -> Section:
    """The season chart with a table of its weeks."""
    words, season = material.words, material.season
    if season is None or not (data.sessions or data.ratings or data.weeks):
        return section(words, "athlete.season", paragraph(words, "athlete.season.none"))
    chart = figure(
        "season",
        lambda narrow: season_chart(data, season, words, narrow),
        _season_alternative(athlete, data, words),
        words.spans("caption.season")
        + (words.spans("caption.season_grip") if data.has_grip else ())
        + letters(material),
        _weeks_table(data, words, season.week_starts()),
    )
    return section(words, "athlete.season", chart)


def _season_alternative(athlete: dict[str, Any], data: AthleteSeason, words: Words) -> str:
    highest = max((r for _, r in data.ratings), default=None)
    unreported = sum(not s.is_reported for s in data.sessions)
    flares = "; ".join(
        words.text("alt.flare", n=f.number, onset=day(f.onset, words), end=day(f.end, words)) for f in data.flares
    )
    return words.text(
        "alt.season",
        name=athlete["name"],
        sessions=words.count("squat_sessions", len(data.sessions)),
        unreported=whole(unreported, words),
        highest=short_decimal(highest, words),
        bars=words.listing([words.word("bar_long", b) for b in data.bars]) or words.text("number.none"),
        flares=flares or words.text("alt.no_flares"),
    )


def _weeks_table(data: AthleteSeason, words: Words, mondays: list[date]) -> Table:
    """Week by week: sessions, those with a rating, highest rating, bars, squat sets, sets of other work."""
    sets = {w.start: w for w in data.weeks}
    body = []
    for monday in mondays:
        inside = [s for s in data.sessions if 0 <= (s.day - monday).days < 7]
        ratings = [r for d, r in data.ratings if 0 <= (d - monday).days < 7]
        week = sets.get(monday)
        bars = words.listing([words.word("bar", b) for b in data.bars if any(s.bar == b for s in inside)])
        heaviest = max((s.intensity for s in inside if s.intensity is not None), default=None)
        body.append(
            (
                table_day(monday, words),
                whole(len(inside), words),
                whole(sum(s.is_reported for s in inside), words),
                short_decimal(max(ratings), words) if ratings else words.text("table.no_report"),
                bars or words.text("number.none"),
                whole(heaviest, words) if heaviest is not None else words.text("number.none"),
                _sets(week.squat_sets if week else None, words),
                *(_sets(getattr(week, kind) if week else None, words) for kind in OTHER_WORK),
            )
        )
    head = [
        words.text(f"table.{k}")
        for k in ("week_of", "sessions", "with_rating", "highest_rating", "bars", "heaviest", "squat_sets", *OTHER_WORK)
    ]
    return table(words.text("table.season"), head, body, "athlete_week.csv", folded=True)


def _sets(value: float | None, words: Words) -> str:
    return short_decimal(value, words) if is_known(value) else words.text("table.no_log")


def estimates_section(athlete: dict[str, Any], material: Material) -> Section | None:
    """The squad's estimate, the own logs alone where shown, and the own pulled towards the squad's."""
    words = material.words
    names = {f["id"]: label(f, words) for f in material.findings.get("findings") or []}
    data = [
        Estimates(
            names.get(e["id"], e["id"]),
            _triple(e.get("squad")),
            _triple(e.get("own_pulled")),
            _triple(e.get("own_alone")),
        )
        for e in athlete.get("estimates") or []
    ]
    data = [row for row in data if row.squad and row.pulled]
    if not data:
        return None
    body = [(r.label, *(_told(t, words) for t in (r.squad, r.pulled, r.alone))) for r in data]
    head = [words.text(f"table.{k}") for k in ("question", "squad", "own_pulled", "own_alone")]
    chart = figure(
        "pulled",
        lambda narrow: pulled(data, words, narrow),
        _pulled_alternative(data, words),
        words.spans("caption.pulled"),
        table(words.text("table.estimates"), head, body, "athlete_estimates.csv", folded=True),
    )
    return section(words, "athlete.estimates", paragraph(words, "athlete.estimates.lead"), chart)


def _triple(found: dict[str, Any] | None) -> tuple[float, float, float] | None:
    return triple(found.get("low"), found.get("per_100"), found.get("high")) if found else None


def _told(values: tuple[float, float, float] | None, words: Words) -> Any:
    return difference(values[1], values[0], values[2], words) if values else words.text("number.not_estimated")


def _pulled_alternative(data: list[Estimates], words: Words) -> str:
    lines = [
        words.text("alt.pulled_row", label=r.label, squad=_told(r.squad, words), own=_told(r.pulled, words))
        for r in data
    ]
    return words.text("alt.pulled", rows=" ".join(lines))


def screens_section(views: Views, words: Words) -> Section | None:
    """Mobility and strength tests over time, one line a test and side. No heading without any."""
    frame: pd.DataFrame = views["screen"]
    if frame.empty:
        return None
    body = []
    for (test, side, unit), group in frame.sort_values("date").groupby(["test", "side", "unit"], sort=True):
        values = [f"{short_decimal(r['value'], words)} ({short_day(r['date'], words)})" for r in rows(group)]
        body.append((words.word("test", test), words.word("side", side), ", ".join(values), words.word("unit", unit)))
    head = [words.text(f"table.{k}") for k in ("test", "side", "values", "unit")]
    return section(words, "athlete.screens", table(words.text("table.screens"), head, body, "screens.csv"))
