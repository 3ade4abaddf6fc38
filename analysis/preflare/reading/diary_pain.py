"""What a diary's lines say of pain: "Elbows: R right 2, left 0 - D 0", "next morning: R right 4", and remarks."""

import re
from typing import cast

from preflare.reading.context import SheetContext
from preflare.reading.diary_lines import has_sets
from preflare.reading.diary_people import People
from preflare.reading.diary_work import Standing
from preflare.reading.pain_said import PainSaid, PainText, Said
from preflare.reading.pain_text import read_pain, said_by_line
from preflare.reading.rows import Moment, Origin, PainRow
from preflare.reading.text import fold, words_of

_SENTENCE_END = re.compile(r"(?:(?<=\d)|(?<=[^\W\d_]{4}))[.;!]\s+(?=[^\W\d_])")  # behind no abbreviation
_LEAST_OF_SENTENCE = 3  # words
REMEDY = 'write it like "left elbow 3/10 after"'


def store_asked(
    context: SheetContext, row: int, text: str, people: People, owner: str | None, standing: Standing
) -> bool:
    """Store the ratings of a line that begins with a place or a time; answers whether it is such a line.

    A line of several sentences is read one by one where each that holds a number is such a line of its own.
    """
    if has_sets(text) or standing.day is None:
        return False
    parts = _sentences(text)
    asked = [_asked(context, part, people, standing) for part in parts]
    if not all(one or not any(map(str.isdigit, part)) for one, part in zip(asked, parts, strict=True)):
        parts, asked = [text], [_asked(context, text, people, standing)]
    if not any(asked):
        return False
    for part, one in zip(parts, asked, strict=True):
        if one is None:
            store_remark(context, row, part, people, owner, standing)
            continue
        said, told = one
        standing.sites = said.sites
        standing.asked.add(said.sites)
        _store(context, row, told, owner, standing, "column")
    return True


def _sentences(text: str) -> list[str]:
    """The sentences of a line; one or two words without a number before a full stop are shortened ("nast. rano")."""
    found: list[str] = []
    for piece in _SENTENCE_END.split(text):
        if found and len(words_of(found[-1])) < _LEAST_OF_SENTENCE and not any(map(str.isdigit, found[-1])):
            found[-1] = f"{found[-1]}. {piece}"
        else:
            found.append(piece)
    return found


def _asked(context: SheetContext, text: str, people: People, standing: Standing) -> tuple[Said, PainText] | None:
    """What a text that begins with a place or a time says of pain; None for any other."""
    habit = context.legend.pain
    usual = (habit.site if habit else None) or context.settings.season.default_site
    sites = standing.sites or ((usual,) if usual else ())
    above = Said(sites=sites, people=people.named, day=standing.day)
    found = said_by_line(text, context.lexicon, above)
    if found is None or not found[1] or context.words.exercise(text.split(":")[0]).how != "not known":
        return None
    said, behind = found
    told = read_pain(behind, context.lexicon, said)
    if ":" not in text:  # a remark may say more of its side and moment
        told = _fuller(told, read_pain(text, context.lexicon, Said(people=people.named, day=standing.day)))
    return (said, told) if told.reports or any(map(str.isdigit, behind)) else None


def _fuller(asked: PainText, remark: PainText) -> PainText:
    return remark if len(remark.reports) >= len(asked.reports) and not remark.doubts and remark.reports else asked


def store_remark(
    context: SheetContext, row: int, text: str, people: People, owner: str | None, standing: Standing
) -> bool:
    """Store the pain that a remark tells of; answers whether it told of any or left something open."""
    if standing.day is None or not context.settings.season.notes:
        return False
    text = _without_label(text, context)
    told = read_pain(text, context.lexicon, Said(people=people.named, day=standing.day))
    _store(context, row, told, owner, standing, "note")
    return bool(told.reports or told.doubts)


def _without_label(text: str, context: SheetContext) -> str:
    """A remark without the word that calls it one: "note: elbow fine, no pain"."""
    label, colon, behind = text.partition(":")
    return behind.strip() if colon and "note" in context.lexicon.headings_of.get(fold(label), []) else text


def _store(
    context: SheetContext, row: int, told: PainText, owner: str | None, standing: Standing, origin: Origin
) -> None:
    for written, site in told.slips.items():
        context.choose("site", written, site, "assumed")
    for doubt in told.doubts:
        context.reject_cell(row, 0, doubt.text, doubt.reason, REMEDY)
    for one in told.reports:
        if (person := one.person or owner) is None:
            reason = "it is not known whose pain this is"
            context.reject_cell(row, 0, one.evidence, reason, "write the name before it")
            continue
        context.out.pain.append(_report(context, row, one, person, standing, origin))


def _report(context: SheetContext, row: int, one: PainSaid, person: str, standing: Standing, origin: Origin) -> PainRow:
    assert standing.day is not None
    return PainRow(
        person, standing.day, None, one.rating, one.severity, one.site or "unknown", one.side,  # type: ignore[arg-type]
        cast(Moment, one.moment or "after"), one.kind, origin, one.evidence, context.place(row, 0),  # type: ignore[arg-type]
    )  # fmt: skip
