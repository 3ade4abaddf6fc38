"""Remarks and lines of a diary: what they say of pain, line by line where some of the lines are kept for it."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from preflare.reading.context import SheetContext
from preflare.reading.pain_said import NO_RATING, PainText, Said
from preflare.reading.pain_text import read_pain, said_by_line


def told_by_lines(context: SheetContext, text: str, day: date, people: Mapping[str, str]) -> PainText:
    """What a remark says; a line in it that is kept for pain ("Gomiti: R dx 2, sx 0 - D 0") is read as an answer."""
    lines = text.split("\n")
    answers = [_answered(context, line, day, people) for line in lines]
    if not any(answers):
        names = {written: person for written, person in people.items() if len(written) > 1}
        told = read_pain(text, context.lexicon, Said(people=names, day=day))
        if told.doubts and len(names) < len(people):  # "D polso sx 3": a letter beside a side in words is a person
            with_letters = read_pain(text, context.lexicon, Said(people=people, day=day))
            return with_letters if all(one.person for one in with_letters.reports) else told
        return told
    told = PainText()
    for line, one in zip(lines, answers, strict=True):
        found = one or read_pain(line, context.lexicon, Said(day=day))
        told.reports += found.reports
        told.doubts += found.doubts
        told.slips |= found.slips
    return told


def _answered(context: SheetContext, line: str, day: date, people: Mapping[str, str]) -> PainText | None:
    """What a line kept for pain says, with the whole line as evidence; None for any other line."""
    if ":" not in line:
        return None
    above = Said(sites=context.asked_sites, people=people, day=day)
    found = said_by_line(line, context.lexicon, above)
    if found is None or not any(map(str.isalnum, found[1])):
        return None
    context.asked_sites = found[0].sites
    told = read_pain(found[1], context.lexicon, found[0])
    doubts = [one for one in told.doubts if one.reason != NO_RATING or any(map(str.isdecimal, one.text))]
    if not told.reports and not doubts:  # "Elbow: strong pain during pull-ups" is a sentence as well
        told = read_pain(line, context.lexicon, Said(people=people, day=day))
        doubts = told.doubts
    return PainText([replace(one, evidence=line.strip()) for one in told.reports], doubts, told.slips)
