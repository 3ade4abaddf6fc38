"""What would break this? One line a check with how it went for the findings, and the notes that limit all of them."""

from typing import Any

from preflare.reporting.finding import check_name, label
from preflare.reporting.material import Material, paragraph, section, table
from preflare.reporting.numbers import whole
from preflare.reporting.records import Items, Part, Section, Span, Table, Text
from preflare.reporting.words import Words, as_text

Asked = tuple[dict[str, Any], dict[str, Any]]  # a finding and one of its checks


def checks_section(material: Material) -> Section | None:
    """The checks that decide, those that are notes, every check in a fold, then the limits of the whole report."""
    words = material.words
    asked = [(f, c) for f in material.findings.get("findings", []) for c in f["checks"]]
    notes = material.findings.get("notes") or []
    if not asked and not notes:
        return None
    blocks = (
        paragraph(words, "team.break.lead"),
        _part("decide", [a for a in asked if a[1]["vetoes"]], words),
        _part("beside", [a for a in asked if not a[1]["vetoes"]], words),
        _every_check(asked, words),
    )
    return section(words, "team.break", *(blocks if asked else ()), _limits(notes, words))


def _limits(notes: list[Any], words: Words) -> Part | None:
    """What limits every finding, in view; what of the logs went into the models, in a fold."""
    of_data = [n for n in notes if isinstance(n, dict) and n.get("kind") == "data"]
    limits = dict.fromkeys(note_words(n) for n in notes if n not in of_data)
    blocks: list[Items | Table] = [Items(tuple(map(as_text, limits)))] if limits else []
    if of_data:
        rows = [(note_words(n),) for n in of_data]
        blocks.append(table(words.text("team.break.about_data"), [words.text("team.break.note")], rows, folded=True))
    return Part(words.text("team.break.limits"), tuple(blocks), "limits") if blocks else None


def note_words(note: Any) -> str:
    """The words of one of findings.json's notes."""
    return str(note["words"] if isinstance(note, dict) else note)


def _part(key: str, asked: list[Asked], words: Words) -> Part | None:
    """One line a check, in the order in which findings.json runs them."""
    if not asked:
        return None
    by_check: dict[str, list[Asked]] = {}
    for finding, check in asked:
        by_check.setdefault(check["name"], []).append((finding, check))
    lines = tuple(_line(name, found, words) for name, found in by_check.items())
    return Part(words.text(f"team.break.{key}"), (Items(lines, "checks"),), f"checks-{key}")


def _line(name: str, asked: list[Asked], words: Words) -> Text:
    """ "One lifter left out. Does the direction stand whichever lifter is left out? Passed for 4 of 7; failed: ..." """
    outcomes = [check["outcome"] for _, check in asked]
    told = [
        words.text("team.break.passed", n=whole(outcomes.count("passed"), words), total=whole(len(asked), words)),
        *(
            words.text(f"team.break.{outcome.replace(' ', '_')}", names=_names(asked, outcome, words))
            for outcome in ("failed", "not checked")
            if outcome in outcomes
        ),
    ]
    question = words.word("check_asks", name) if name in words.get("check_asks") else ""
    reasons = dict.fromkeys(sentence(c) for _, c in asked if c["vetoes"] and c["outcome"] == "failed")
    rest = " ".join(filter(None, [question, f"{'; '.join(told)}.", *reasons]))
    return (Span(check_name(asked[0][1], words), "strong"), Span(f". {rest}"))


def _names(asked: list[Asked], outcome: str, words: Words) -> str:
    """The findings for which a check went so; "all" where it went so for every one of them."""
    found = [label(f, words) for f, c in asked if c["outcome"] == outcome]
    return words.text("team.break.all") if len(found) == len(asked) > 1 else words.listing(found)


def sentence(check: dict[str, Any]) -> str:
    """What a check says, as a sentence of its own."""
    told = str(check["help"])
    return told[:1].upper() + told[1:]


def _every_check(asked: list[Asked], words: Words) -> Table:
    """Every check of every finding with its sentence, to look up."""
    rows = [
        (
            label(finding, words),
            check_name(check, words),
            words.text(f"outcome.{check['outcome'].replace(' ', '_')}"),
            sentence(check),
        )
        for finding, check in asked
    ]
    head = [words.text(f"small.check_{key}") for key in ("finding", "name", "outcome", "words")]
    return table(words.text("team.break.every"), head, rows, "checks.csv", folded=True)
