"""The team page: what was learned, whether the logs can be trusted, how much pain, who, what would break it, how."""

from typing import Any

from preflare.reporting.before import before_section
from preflare.reporting.charts.pair import masthead
from preflare.reporting.checks import checks_section
from preflare.reporting.evidence import bar_section, changes_section, curve_sections, pain_section, trust_section
from preflare.reporting.exploratory import exploratory_section
from preflare.reporting.finding import finding_block
from preflare.reporting.headline import cannot_say, headlines
from preflare.reporting.material import Material, figure, framed, paragraph, section
from preflare.reporting.method import method_section
from preflare.reporting.numbers import is_known, of_100_with_interval, span_of_days, whole
from preflare.reporting.people import now_line, people_section
from preflare.reporting.records import Figure, Page, Paragraph, Section, Text

OVERALL = "sessions followed by pain"


def team_page(material: Material) -> Page:
    """The season review as a page record."""
    words, told = material.words, material.findings.get("season") or {}
    sections = [
        learned_section(material),
        trust_section(material),
        pain_section(material),
        *curve_sections(material),
        bar_section(material),
        before_section(material),
        exploratory_section(material),
        changes_section(material),
        people_section(material),
        checks_section(material),
        method_section(material),
    ]
    return framed(
        material,
        "team",
        title=words.text("team.title"),
        sections=[s for s in sections if s is not None],
        dates=span_of_days(told.get("from"), told.get("to"), words),
        headlines=headlines(material),
        now=now_line(material),
        masthead=_masthead(material),
        facts=_facts(material),
    )


def learned_section(material: Material) -> Section:
    """All primary findings, then the exploratory ones, each with grade, sentence, small print and its pair."""
    words = material.words
    if not material.findings.get("findings"):
        return section(words, "team.learned", paragraph(words, "team.learned.none"))
    blocks = [finding_block(f, material) for f in material.findings["findings"]]
    event = _event_rating(material)
    return section(
        words,
        "team.learned",
        *blocks,
        Paragraph(cannot_say(material), "cannot"),
        paragraph(words, "team.learned.how_to_read", "small", event=event),
    )


def _event_rating(material: Material) -> str:
    values = (material.findings.get("definitions") or {}).get("values") or {}
    return whole((values.get("event") or {}).get("rating", 4), material.words)


def overall(material: Material) -> dict[str, Any] | None:
    """The squad's share of reported squat sessions that were followed by pain, from the surveillance rates."""
    rates = (material.findings.get("surveillance") or {}).get("rates") or []
    return next((r for r in rates if r["name"] == OVERALL and is_known(r["value"], r["low"], r["high"])), None)


def _masthead(material: Material) -> Figure | None:
    words, rate = material.words, overall(material)
    if rate is None:
        return None
    told = of_100_with_interval(rate["value"], rate["low"], rate["high"], words)
    alternative = words.text("alt.masthead", value=told, event=_event_rating(material))
    return figure(
        "masthead",
        lambda narrow: masthead(rate["value"], rate["low"], rate["high"], words, narrow),
        alternative,
        words.spans("caption.masthead", value=told, event=_event_rating(material)),
    )


def _facts(material: Material) -> Text:
    words, told = material.words, material.findings.get("season") or {}
    response = (material.findings.get("logs") or {}).get("response") or {}
    flares = sum(len(a.get("flare_ups") or []) for a in material.findings.get("athletes") or [])
    return words.spans(
        "team.facts",
        lifters=words.count("lifters", told.get("athletes") or 0),
        sessions=words.count("squat_sessions", response.get("sessions") or 0),
        reported=whole(response.get("reported") or 0, words),
        flares=words.count("flare_ups", flares),
        event=_event_rating(material),
        weeks=words.count("weeks", told.get("weeks") or 0),
    )
