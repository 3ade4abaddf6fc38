"""What would break this? Every check of every finding in words, and the notes that limit all of them."""

from typing import Any

from preflare.reporting.finding import check_name, label
from preflare.reporting.material import Material, paragraph, section
from preflare.reporting.numbers import whole
from preflare.reporting.records import Items, Part, Section, Span, Text
from preflare.reporting.words import as_text


def checks_section(material: Material) -> Section | None:
    """One part a finding with one line a check, then the limits of the whole report."""
    words = material.words
    parts = [_part(f, material) for f in material.findings.get("findings", []) if f["checks"]]
    notes = [as_text(told) for told in dict.fromkeys(map(note_words, material.findings.get("notes") or []))]
    if not parts and not notes:
        return None
    limits = Part(words.text("team.break.limits"), (Items(tuple(notes)),), "limits") if notes else None
    return section(words, "team.break", paragraph(words, "team.break.lead"), *parts, limits)


def note_words(note: Any) -> str:
    """The words of one of findings.json's notes."""
    return str(note["words"] if isinstance(note, dict) else note)


def _part(finding: dict[str, Any], material: Material) -> Part:
    words = material.words
    outcomes = [c["outcome"] for c in finding["checks"]]
    title = words.text(
        "team.break.part",
        label=label(finding, words),
        passed=whole(outcomes.count("passed"), words),
        total=whole(len(outcomes), words),
    )
    return Part(
        title, (Items(tuple(_line(c, material) for c in finding["checks"]), "checks"),), f"checks-{finding['id']}"
    )


def _line(check: dict[str, Any], material: Material) -> Text:
    """ "Next week's training, failed, may change the grade: ..." """
    words = material.words
    told = words.text(f"outcome.{check['outcome'].replace(' ', '_')}")
    weight = words.text("outcome.decides") if check["vetoes"] else words.text("outcome.note")
    sentence = str(check["help"])
    sentence = sentence[:1].upper() + sentence[1:]
    return (Span(check_name(check, words), "strong"), Span(f" ({told}, {weight}): "), Span(sentence))
