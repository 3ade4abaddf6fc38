"""The team page's sections on the logs, the pain, the curves, the bar and the recorded changes."""

from datetime import date
from typing import Any

from preflare.reporting.charts.bar_choice import BarRow, bar_choice, triple
from preflare.reporting.charts.curve import Curve, curve
from preflare.reporting.charts.response_map import ResponseRow, response_map
from preflare.reporting.charts.weekly_share import FEW, Week, weekly_share
from preflare.reporting.material import Material, figure, paragraph, section, table
from preflare.reporting.names import alphabetical
from preflare.reporting.numbers import (
    day,
    decimal,
    difference,
    is_known,
    of_100,
    out_of,
    per_100,
    rate,
    short_decimal,
    table_day,
    whole,
)
from preflare.reporting.records import Figure, Paragraph, Section, Table
from preflare.reporting.views import recorded_changes, rows, view
from preflare.reporting.words import Estimate, as_text, link


def trust_section(material: Material) -> Section:
    """Response rate, the map of athletes by weeks, the accounting of rows, and where to read more."""
    words, logs = material.words, material.findings.get("logs") or {}
    response = logs.get("response") or {}
    counted = {key: whole(logs.get(f"rows_{key}"), words) for key in ("read", "stored", "rejected", "not_data")}
    return section(
        words,
        "team.trust",
        paragraph(
            words,
            "team.trust.response" if response.get("reported") else "team.trust.no_response",
            sessions=words.count("squat_sessions", response.get("sessions") or 0),
            reported=whole(response.get("reported") or 0, words),
            share=_response_rate(material),
        ),
        _response_figure(material),
        paragraph(
            words, "team.trust.accounting", **counted, link=link(words.text("team.trust.read_more"), "logs.html")
        ),
    )


def _response_rate(material: Material) -> str:
    """The response rate of the surveillance figures."""
    rates = (material.findings.get("surveillance") or {}).get("rates") or []
    found = next((r for r in rates if r["name"] == "sessions with a rating"), None)
    if found is None or not is_known(found["value"]):
        return str(material.words.get("number.unknown"))
    return of_100(found["value"], material.words)


def _response_figure(material: Material) -> Figure | None:
    words, season = material.words, material.season
    people = response_rows(material)
    if season is None or not people:
        return None
    head = [words.text(f"table.{key}") for key in ("lifter", "weeks_reported", "weeks_unreported", "weeks_no_log")]
    body = [(r.name, r.printed, *(whole(r.states.count(s), words) for s in ("unreported", "no log"))) for r in people]
    silent = [r.name for r in people if "unreported" in r.states and "reported" not in r.states]
    alternative = words.text(
        "alt.response", lifters=words.count("lifters", len(people)), weeks=words.count("weeks", season.weeks)
    )
    if silent:
        alternative += " " + words.text("alt.response_silent", names=words.listing(silent))
    return figure(
        "response",
        lambda narrow: response_map(people, season, words, narrow),
        alternative,
        words.spans("caption.response") + letters(material),
        table(words.text("table.response"), head, body, "response_week.csv", folded=True),
    )


def response_rows(material: Material) -> list[ResponseRow]:
    """Each athlete's weeks in alphabetical order; a week that the view does not name holds no log."""
    if material.season is None:
        return []
    states: dict[str, dict[date, str]] = {}
    for row in rows(view(material.views, "response_week")):
        states.setdefault(row["athlete"], {})[row["week_start"]] = row["state"]
    found = []
    for name in sorted(states, key=alphabetical):
        weeks = tuple(states[name].get(monday, "no log") for monday in material.season.week_starts())
        reported = weeks.count("reported")
        found.append(ResponseRow(name, weeks, out_of(reported, reported + weeks.count("unreported"), material.words)))
    return found


def letters(material: Material) -> tuple[Any, ...]:
    """What the letters of the recorded changes stand for, for the captions of all charts with a time axis."""
    season, words = material.season, material.words
    if season is None or not season.changes:
        return ()
    changes = recorded_changes(material.views, season.first, season.last)
    return tuple(
        s
        for c in changes
        for s in words.spans("caption.change", letter=c["letter"], what=c["what"], day=day(c["date"], words))
    )


def pain_section(material: Material) -> Section:
    """Weekly share with interval, rates, and where it hurt."""
    words, found = material.words, material.findings.get("surveillance") or {}
    if not (found.get("weekly") or found.get("rates")):
        return section(words, "team.pain", paragraph(words, "team.pain.none"))
    return section(
        words,
        "team.pain",
        _weekly_figure(material),
        _rates_table(material),
        _rates_note(material),
        _sites_table(material),
    )


def _weeks(material: Material) -> list[Week]:
    """The weeks of the surveillance figures; their shares are fractions, a picture shows them of 100."""
    return [
        Week(
            date.fromisoformat(str(w["week_start"])[:10]),
            w["reporting"],
            w["with_pain"],
            *(_of_100(w[k]) for k in ("share", "low", "high")),
        )
        for w in material.findings["surveillance"].get("weekly") or []
    ]


def _of_100(fraction: float | None) -> float | None:
    return 100 * fraction if is_known(fraction) else None  # type: ignore[operator]


def _weekly_figure(material: Material) -> Figure | None:
    words, season, weeks = material.words, material.season, _weeks(material)
    if season is None or not weeks:
        return None
    n = (material.findings.get("season") or {}).get("athletes") or 0
    body = [
        (table_day(w.start, words), whole(w.reporting, words), whole(w.with_pain, words), _share(w, material))
        for w in weeks
    ]
    head = [words.text(f"table.{key}") for key in ("week_of", "lifters_reporting", "lifters_with_pain", "of_100")]
    return figure(
        "weekly",
        lambda narrow: weekly_share(weeks, season, n, words, narrow),
        _weekly_alternative(weeks, material),
        words.spans("caption.weekly"),
        table(words.text("table.weekly"), head, body, "weekly_pain.csv", folded=True),
    )


def _share(week: Week, material: Material) -> str:
    if week.reporting < FEW:
        return out_of(week.with_pain, week.reporting, material.words)
    return per_100(week.share, week.low, week.high, material.words)


def _weekly_alternative(weeks: list[Week], material: Material) -> str:
    words, known = material.words, [w for w in weeks if w.reporting >= FEW and w.share is not None]
    if not known:
        return words.text("alt.weekly_few", weeks=words.count("weeks", len(weeks)))
    highest = max(known, key=lambda w: w.share or 0)
    lowest = min(known, key=lambda w: w.share or 0)
    return words.text(
        "alt.weekly",
        weeks=words.count("weeks", len(weeks)),
        high_week=day(highest.start, words),
        high=_share(highest, material),
        low_week=day(lowest.start, words),
        low=_share(lowest, material),
    )


def _rates_table(material: Material) -> Table | None:
    words = material.words
    rates = material.findings["surveillance"].get("rates") or []
    if not rates:
        return None
    head = [words.text(f"table.{key}") for key in ("what", "rate", "counted")]
    body = [
        (
            words.word("rate_name", r["name"]),
            words.spans(
                "table.rate_with_unit",
                rate=rate(r["value"], r["low"], r["high"], words),
                unit=words.word("rate_unit", r["unit"]),
            ),
            out_of(r["numerator"], r["denominator"], words),
        )
        for r in rates
    ]
    return table(words.text("table.rates"), head, body, "rates.csv")


def _rates_note(material: Material) -> Paragraph | None:
    """How the interval of each rate was made, and what makes it too narrow."""
    words = material.words
    told = [
        words.text("team.pain.how", name=words.word("rate_name", r["name"]), how=r["how"])
        for r in material.findings["surveillance"].get("rates") or []
    ]
    return Paragraph(as_text(" ".join(told)), "small") if told else None


def _sites_table(material: Material) -> Table | None:
    words = material.words
    sites = material.findings["surveillance"].get("sites") or []
    if not sites:
        return None
    head = [words.text(f"table.{key}") for key in ("site", "side", "reports", "lifters")]
    body = [
        (
            words.word("site", s["site"]),
            words.word("side", s["side"]),
            whole(s["reports"], words),
            whole(s["athletes"], words),
        )
        for s in sites
    ]
    return table(words.text("table.sites"), head, body, "sites.csv")


def curve_sections(material: Material) -> list[Section]:
    """One section a curve; none where the logs allow no curve."""
    return [s for c in material.findings.get("curves") or [] if (s := _curve_section(c, material)) is not None]


def _curve_section(found: dict[str, Any], material: Material) -> Section | None:
    words = material.words
    points = [p for p in found["points"] if is_known(p["x"], p["per_100"], p["low"], p["high"])]
    if len(points) < 2:
        return None
    rug = found.get("rug") or {}
    x, estimate, low, high = ([p[k] for p in points] for k in ("x", "per_100", "low", "high"))
    data = Curve(x, estimate, low, high, rug.get("pain") or [], rug.get("none") or [])
    key = found["exposure"] if found["exposure"] in words.get("curve") else "other"
    first, last = points[0], points[-1]
    told = {
        side: {"x": short_decimal(p["x"], words), "value": per_100(p["per_100"], p["low"], p["high"], words)}
        for side, p in (("first", first), ("last", last))
    }
    unit = words.text(f"curve.{key}.axis", unit=found["unit"], exposure=found["exposure"])
    alternative = words.text(
        "alt.curve",
        unit=unit,
        first_x=told["first"]["x"],
        first=told["first"]["value"],
        last_x=told["last"]["x"],
        last=told["last"]["value"],
    )
    body = [(short_decimal(p["x"], words), per_100(p["per_100"], p["low"], p["high"], words)) for p in points]
    chart = figure(
        f"curve-{found['exposure']}",
        lambda narrow: curve(data, unit, words, narrow),
        alternative,
        words.spans("caption.curve"),
        table(words.text("table.curve"), (unit, words.text("table.of_100")), body, "curves.csv", folded=True),
    )
    return section(words, f"curve.{key}", chart)


def bar_section(material: Material) -> Section | None:
    """Was the bar chosen because it hurt? Only where more than one bar was used and pain was rated before any."""
    words, found = material.words, material.findings.get("bar_choice") or []
    if len(found) < 2 or not any(is_known(b["prior_pain_mean"]) for b in found):
        return None
    data = [
        BarRow(
            b["bar"],
            b["sessions"],
            triple(b["prior_pain_low"], b["prior_pain_mean"], b["prior_pain_high"]),
            triple(b["raw_low"], b["raw_per_100"], b["raw_high"]),
            triple(b["low"], b["per_100"], b["high"]),
        )
        for b in found
    ]
    told = [_bar_sentence(b, material) for b in found if b["bar"] != "straight"]
    head = [words.text(f"table.{key}") for key in ("bar", "sessions", "prior_pain", "raw", "adjusted")]
    body = [
        (words.word("bar", b["bar"]), whole(b["sessions"], words), _mean(b, material), *_differences(b, material))
        for b in found
    ]
    chart = figure(
        "bars",
        lambda narrow: bar_choice(data, words, narrow),
        words.text("alt.bars", rows=" ".join(filter(None, told))),
        words.spans("caption.bars"),
        table(words.text("table.bars"), head, body, "bar_choice.csv", folded=True),
    )
    return section(
        words,
        "team.bars",
        *[Paragraph(_bar_text(b, material)) for b in found if b["bar"] != "straight" and _bar_text(b, material)],
        chart,
    )


def _mean(bar: dict[str, Any], material: Material) -> Estimate:
    words = material.words
    if not is_known(bar["prior_pain_mean"], bar["prior_pain_low"], bar["prior_pain_high"]):
        return Estimate(words.text("number.not_estimated"))
    low, high = decimal(bar["prior_pain_low"], 1, words), decimal(bar["prior_pain_high"], 1, words)
    return Estimate(
        words.text(
            "number.ratio",
            value=decimal(bar["prior_pain_mean"], 1, words),
            interval=words.text("number.interval", low=low, high=high),
        )
    )


def _differences(bar: dict[str, Any], material: Material) -> tuple[Any, Any]:
    words = material.words
    if bar["bar"] == "straight":
        return words.text("chart.compared_with"), words.text("chart.compared_with")
    return (
        difference(bar["raw_per_100"], bar["raw_low"], bar["raw_high"], words),
        difference(bar["per_100"], bar["low"], bar["high"], words),
    )


def _bar_text(bar: dict[str, Any], material: Material) -> tuple[Any, ...]:
    if not is_known(bar["raw_per_100"], bar["per_100"], bar["prior_pain_mean"]):
        return ()
    raw, adjusted = _differences(bar, material)
    return material.words.spans(
        "team.bars.sentence",
        bar=material.words.word("bar_long", bar["bar"]),
        prior=_mean(bar, material),
        raw=raw,
        adjusted=adjusted,
    )


def _bar_sentence(bar: dict[str, Any], material: Material) -> str:
    return "".join(span.text for span in _bar_text(bar, material))


def changes_section(material: Material) -> Section | None:
    """The recorded changes with their reasons; no heading where none was recorded."""
    words, season = material.words, material.season
    if season is None or not season.changes:
        return None
    changes = recorded_changes(material.views, season.first, season.last)
    head = [words.text(f"table.{key}") for key in ("letter", "date", "change", "why", "who")]
    body = [
        (
            c["letter"],
            table_day(c["date"], words),
            c["what"],
            c["why"] or words.text("number.none"),
            words.listing(sorted(c["athletes"], key=alphabetical)) or words.text("table.everybody"),
        )
        for c in changes
    ]
    return section(
        words,
        "team.changes",
        table(words.text("table.changes"), head, body, "changes.csv"),
        paragraph(words, "team.changes.caution", "small"),
    )
