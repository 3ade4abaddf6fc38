"""The short answer on the first screen: at most five sentences, four on what was found and one on what was not."""

from typing import Any

from preflare.reporting.checks import note_words
from preflare.reporting.finding import check_name, half_size, label
from preflare.reporting.material import Material
from preflare.reporting.numbers import is_known, of_100_with_interval
from preflare.reporting.records import Headline, Span, Text
from preflare.reporting.words import Words, as_text, link

_ONE_BY_ONE = ("clear", "contradicted by a check", "leaning")
_NO_DIFFERENCE, _TOO_LITTLE = "no clear difference", "too little data"
_MOST_LINES = 4  # beside the sentence on what the logs cannot say


def headlines(material: Material) -> tuple[Headline, ...]:
    """One sentence a finding where there is room, else one a grade; then what these logs cannot say."""
    words, findings = material.words, [f for f in material.primary if f["grade"]]
    by_grade = {g: [f for f in findings if f["grade"] == g] for g in (*_ONE_BY_ONE, _NO_DIFFERENCE, _TOO_LITTLE)}
    lines = _graded(by_grade, words)
    if by_grade[_NO_DIFFERENCE]:
        names = _names(by_grade[_NO_DIFFERENCE], words)
        lines.append(_headline(_NO_DIFFERENCE, words.spans("team.headline.no_difference", names=names), words))
    if not lines:
        lines.append(_headline(_TOO_LITTLE, _nothing_found(material), words))
    return (*lines, Headline("", "", cannot_say(material)))


def _graded(by_grade: dict[str, list[dict[str, Any]]], words: Words) -> list[Headline]:
    """The lines of the graded differences: one by one if they fit, else together by grade."""
    groups = [by_grade[g] for g in _ONE_BY_ONE if by_grade[g]]
    room = _MOST_LINES - bool(by_grade[_NO_DIFFERENCE])
    if sum(map(len, groups)) <= room:
        return [_headline(f["grade"], _whole_sentence(f, words), words) for group in groups for f in group]
    return [_group(group, words) for group in groups]


def _group(group: list[dict[str, Any]], words: Words) -> Headline:
    """Findings of one grade: a sentence for one, a sentence with a line each for several."""
    grade = group[0]["grade"]
    if len(group) == 1:
        return _headline(grade, _whole_sentence(group[0], words), words)
    lines = tuple(_short_line(finding, words) for finding in group)
    return Headline(grade, words.word("grade", grade), words.spans("team.headline.several"), lines)


def _headline(grade: str, sentence: Text, words: Words) -> Headline:
    return Headline(grade, words.word("grade", grade), sentence)


def _whole_sentence(finding: dict[str, Any], words: Words) -> Text:
    """ "Safety bar. Of 100 squat sessions on it, 5 (3 to 9) were followed by arm pain; on the straight bar, 12." """
    name = link(label(finding, words), f"#finding-{finding['id']}")
    told = _levels(finding, words)
    if not told or finding["id"] not in words.get("place"):
        return (*words.spans("team.headline.label", label=name), *as_text(finding["sentence"]))
    spans = words.spans("team.headline.one", label=name, **told)
    if finding["grade"] == "leaning":
        spans += words.spans("team.headline.leaning")
    if finding["grade"] == "contradicted by a check":
        failed = [check_name(c, words) for c in finding["checks"] if c["vetoes"] and c["outcome"] == "failed"]
        spans += words.spans("team.headline.contradicted", checks=words.listing(failed))
    return spans


def _short_line(finding: dict[str, Any], words: Words) -> Text:
    """ "Safety bar 8 (5 to 12), straight bar 20 (14 to 27)": one of several findings of one grade."""
    short, told = words.tables.get("short_place", {}).get(finding["id"], {}), _levels(finding, words)
    half = half_size(finding, words)
    name = link(str(short.get("to", label(finding, words))).format(half=half), f"#finding-{finding['id']}")
    if not told:
        return as_text(name)
    usual = str(short.get("from", "")).format(half=half)
    return words.spans("team.headline.short", label=name, usual=usual, **told)


def _levels(finding: dict[str, Any], words: Words) -> dict[str, Any]:
    """Both compared levels with their counts of 100, for a sentence; nothing where they were not estimated."""
    risks, places = finding["risks"], words.tables.get("place", {}).get(finding["id"], {})
    told: dict[str, Any] = {}
    for side in ("from", "to"):
        value, low, high = (risks[f"{side}_{key}"] for key in ("per_100", "low", "high"))
        if not is_known(value, low, high):
            return {}
        told[side] = of_100_with_interval(value, low, high, words)
        told[f"{side}_place"] = str(places.get(side, "")).format(half=half_size(finding, words))
    return told


def _names(group: list[dict[str, Any]], words: Words) -> Text:
    """The findings of a group, each leading to its place on the page."""
    parts: list[Span] = []
    for i, finding in enumerate(group):
        if i:
            parts.append(Span(f" {words.get('number.and')} " if i == len(group) - 1 else ", "))
        parts += as_text(link(words.word("label_in_line", finding["id"]), f"#finding-{finding['id']}"))
    return tuple(parts)


def _nothing_found(material: Material) -> Text:
    """Why there is nothing to say, in the words of findings.json."""
    findings, notes = material.primary, material.findings.get("notes") or []
    if findings:
        return as_text(findings[0]["sentence"])
    return as_text(note_words(notes[0])) if notes else material.words.spans("team.headline.nothing")


def cannot_say(material: Material) -> Text:
    """What these logs cannot say: questions with too little data, what might have been, what nobody reported."""
    words = material.words
    response = (material.findings.get("logs") or {}).get("response") or {}
    missing = (response.get("sessions") or 0) - (response.get("reported") or 0)
    unsettled = [f for f in material.primary if f["grade"] == _TOO_LITTLE]
    names = words.spans("team.cannot_tell", names=_names(unsettled, words)) if unsettled else ()
    return words.spans("team.cannot", too_little=names, unreported=words.count("squat_sessions", missing))
