"""The team page: what was learned, whether the logs can be trusted, how much pain, who, what would break it, how."""

from collections.abc import Sequence
from typing import Any

from preflare.reporting.charts.pair import masthead
from preflare.reporting.checks import checks_section, note_words
from preflare.reporting.evidence import bar_section, changes_section, curve_sections, pain_section, trust_section
from preflare.reporting.finding import finding_block
from preflare.reporting.material import Material, figure, framed, paragraph, section
from preflare.reporting.method import method_section
from preflare.reporting.numbers import is_known, per_100, span_of_days, whole
from preflare.reporting.people import people_section
from preflare.reporting.records import Figure, Headline, Page, Section, Text
from preflare.reporting.words import as_text

_TOLD_ONE_BY_ONE = ("clear", "contradicted by a check", "leaning")
_TOLD_TOGETHER = ("no clear difference", "too little data")
OVERALL = "sessions followed by pain"
_MOST_HEADLINES = 4  # beside the sentence on what the logs cannot say


def team_page(material: Material) -> Page:
    """The season review as a page record."""
    words, told = material.words, material.findings.get("season") or {}
    sections = [
        learned_section(material),
        trust_section(material),
        pain_section(material),
        *curve_sections(material),
        bar_section(material),
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
        masthead=_masthead(material),
        facts=_facts(material),
    )


def headlines(material: Material) -> tuple[Headline, ...]:
    """The short answer: at most four lines on what was found, and one on what these logs cannot say."""
    findings = material.primary
    one_by_one = [f for grade in _TOLD_ONE_BY_ONE for f in findings if f["grade"] == grade]
    together = [(g, [f for f in findings if f["grade"] == g]) for g in _TOLD_TOGETHER]
    together = [(grade, group) for grade, group in together if group]
    room = _MOST_HEADLINES - len(together)
    lines = [_line(material, f) for f in one_by_one[: room if len(one_by_one) <= room else room - 1]]
    rest = one_by_one[len(lines) :]
    if rest:
        lines.append(_group(material, rest[0]["grade"], rest, "team.headline.more"))
    lines += [_group(material, grade, group, f"team.headline.{_key(grade)}") for grade, group in together]
    if not findings:
        lines.append(
            Headline("too little data", material.words.word("grade", "too little data"), _no_findings(material))
        )
    return (*lines, Headline("", "", material.words.spans("team.cannot", **unreported(material))))


def _line(material: Material, finding: dict[str, Any]) -> Headline:
    word = material.words.word("grade", finding["grade"])
    return Headline(finding["grade"], word, as_text(finding["sentence"]), f"#finding-{finding['id']}")


def _group(material: Material, grade: str, group: Sequence[dict[str, Any]], key: str) -> Headline:
    words = material.words
    names = words.listing([words.word("label_in_line", f["id"]) for f in group])
    return Headline(grade, words.word("grade", grade), words.spans(key, names=names), f"#finding-{group[0]['id']}")


def _key(grade: str) -> str:
    return grade.replace(" ", "_")


def _no_findings(material: Material) -> Text:
    notes = material.findings.get("notes") or []
    return as_text(note_words(notes[0])) if notes else material.words.spans("team.headline.nothing")


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
        paragraph(words, "team.cannot", "cannot", **unreported(material)),
        paragraph(words, "team.learned.how_to_read", "small", event=event),
    )


def _event_rating(material: Material) -> str:
    values = (material.findings.get("definitions") or {}).get("values") or {}
    return whole((values.get("event") or {}).get("rating", 4), material.words)


def unreported(material: Material) -> dict[str, str]:
    """The squat sessions that nobody reported on, with the noun, for the sentence on what the logs cannot say."""
    response = (material.findings.get("logs") or {}).get("response") or {}
    missing = (response.get("sessions") or 0) - (response.get("reported") or 0)
    return {"unreported": material.words.count("squat_sessions", missing)}


def overall(material: Material) -> dict[str, Any] | None:
    """The squad's share of reported squat sessions that were followed by pain, from the surveillance rates."""
    rates = (material.findings.get("surveillance") or {}).get("rates") or []
    return next((r for r in rates if r["name"] == OVERALL and is_known(r["value"], r["low"], r["high"])), None)


def _masthead(material: Material) -> Figure | None:
    words, rate = material.words, overall(material)
    if rate is None:
        return None
    told = per_100(rate["value"], rate["low"], rate["high"], words)
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
        weeks=words.count("weeks", told.get("weeks") or 0),
    )
