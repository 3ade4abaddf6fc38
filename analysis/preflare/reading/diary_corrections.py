"""Lines of a diary that put earlier ones right: "correction: on Monday 5/10 Bo's bench was 67.5, not 70".

A correction is carried out where it names a day, a lift and both loads, and exactly one person's work sets of that day
and lift have the old load. It is told of at both places. Any other is set aside, and so are the sets that it may mean.
"""

import re
from dataclasses import replace
from datetime import date, timedelta

from preflare.reading.context import SheetContext
from preflare.reading.denied_loads import NOT
from preflare.reading.diary_lines import day_head
from preflare.reading.diary_people import People
from preflare.reading.diary_words import says
from preflare.reading.item import LEAST_LOAD
from preflare.reading.lexicon import Lexicon
from preflare.reading.numbers import to_kg
from preflare.reading.rows import RejectedRow, SetRow
from preflare.reading.text import words_of

_NUMBER = r"(\d{1,3}(?:[.,]\d{1,2})?)\s*(?:kgs?|lbs?)?"
_WAS_NOT = re.compile(
    rf"{_NUMBER}[\s,;(–—-]*(?:e|et|und|and|y|en|i|og|och|a)?\s*,?\s*{NOT}\s+(?:les\s+|die\s+|the\s+)?{_NUMBER}",
    re.I,
)

_SENTENCES = re.compile(r"[()]|(?<=[^\W\d_])[.;!]\s")
_DAYS_BACK = 14  # whose sets a remark in passing may speak of


_SIGN = r"(?:->|=>|→|⇒|[–—,;(]|\s-\s)"
_NO = r"(?:no|nope|nein|ne|non|n[aã]o|nee|nie|nei|nej)"
_WAS = (
    r"(?:(?:it|es|das|sie|they|c|ce|het|dat|to|det|de|var|va)['’ ]\s*)?"
    r"(?:was|were|war|waren|[ée]tait|[ée]taient|era|erano|eran|eram|fue|foram|foi|by[lł]o|by[lł]y|var|waar)"
)
_WERE = re.compile(rf"{_SIGN}\s*{_NO}\s*[,:!.…]?\s*{_WAS}\s+{_NUMBER}(?![\d.,]*\s*[x×*/%])(?!\s*(?:rep|rip|wdh))", re.I)
_NAYS = re.compile(
    rf"{_SIGN}\s*(?:{_NO}|{NOT})\b(?:\s*[,:'’]?\s*[^\W\d]+){{0,4}}\s*\d{{2,3}}(?!\d)(?![.,]?\d*\s*[/%])", re.I
)
_LEAST, _MOST = 0.5, 2.0  # a corrected load as a share of the one written


def put_right_beside(context: SheetContext, row: int, text: str, stored: range) -> None:
    """Put the sets of a line right where its own end says so: "82.5 3x5 -> no, it was 85". stored: which sets are its.

    Only where all its sets have one load, and the new one is near it; else the line is told of as doubtful.
    """
    if not stored or not _NAYS.search(text):
        return
    loads = {context.out.sets[at].load_kg for at in stored}
    match = _WERE.search(text)
    new, old = _kg(match[1], context) if match else None, next(iter(loads))
    if new is None or old is None or len(loads) != 1 or not _LEAST * old <= new <= _MOST * old:
        said = "its end may put the sets right; they were stored as they stand before it"
        context.reject_cell(row, 0, text, said, "write only what was done, and import again")
        return
    for at in stored:
        context.out.sets[at] = replace(context.out.sets[at], load_kg=new)
    said = f"{format(old, 'g')} kg was replaced by {format(new, 'g')} kg, as the end of the line says"
    context.reject_cell(row, 0, text, said, "check it, and correct the line itself")


def is_correction(text: str) -> bool:
    """Whether a line begins with a word for putting something right."""
    return says("correction", " ".join(text.split()[:4]))


def put_right(context: SheetContext, row: int, text: str, above: date | None, people: People) -> None:
    """Carry out a correction, or set it aside with the sets that it may mean. above: the day that it stands under."""
    day = _day_in(text, context.lexicon, context) or above
    meant = [at for at, one in enumerate(context.out.sets) if _may_mean(one, context, day, text, people)]
    loads = _WAS_NOT.search(text)
    old, new = (None, None) if loads is None else (_kg(loads[2], context), _kg(loads[1], context))
    wrong = [at for at in meant if context.out.sets[at].load_kg == old and not context.out.sets[at].is_warm_up]
    whose = {(context.out.sets[at].athlete, context.out.sets[at].exercise) for at in wrong}
    if old is None or new is None or len(whose) != 1:
        context.reject_row(
            row, "it puts something right that was not found", "correct the line itself and import again"
        )
        for place in dict.fromkeys(context.out.sets[at].place for at in meant):
            reason = f'a later line may put this right: "{text}"; the sets were stored as they stand here'
            context.out.rejected.append(RejectedRow(place, text, reason, "correct it and import again", False))
        return
    for at in wrong:
        context.out.sets[at] = replace(context.out.sets[at], load_kg=new)
    for place in dict.fromkeys(context.out.sets[at].place for at in wrong):
        said = f'{format(old, "g")} kg was replaced by {format(new, "g")} kg, as a later line says: "{text}"'
        context.out.rejected.append(RejectedRow(place, text, said, "check it, and correct the line itself", False))
    context.not_data(row, "a correction that was carried out")


def doubt_in_passing(context: SheetContext, row: int, line: str, day: date | None) -> None:
    """Point to the sets of the days before that a sentence in a remark may put right ("Saturday's second set was 102.5,
    not 107.5"): which of them it means is not guessed."""
    for sentence in _SENTENCES.split(line) if day is not None else ():
        loads = _WAS_NOT.search(sentence)
        if loads is None or min(_kg(loads[1], context), _kg(loads[2], context)) < LEAST_LOAD:
            continue
        old = _kg(loads[2], context)
        lifts = {hit for _, _, hit in context.lexicon.exercise.find(words_of(sentence))}
        meant = [one for one in context.out.sets if one.load_kg == old and _is_shortly_before(one, context, day)]
        named = [one for one in meant if one.exercise in lifts] or meant
        for place in dict.fromkeys(one.place for one in named):
            reason = f'a later line may put this right: "{sentence.strip()}"; the sets were stored as they stand here'
            context.out.rejected.append(RejectedRow(place, sentence, reason, "correct it and import again", False))
        if named:
            reason = "it seems to put earlier sets right; they were stored as they stand there"
            context.reject_cell(row, 0, sentence.strip(), reason, "correct the sets themselves and import again")


def _is_shortly_before(one: SetRow, context: SheetContext, day: date | None) -> bool:
    is_here = (one.place.file, one.place.sheet) == (context.file, context.sheet.name)
    return is_here and day is not None and timedelta(0) <= day - one.date <= timedelta(_DAYS_BACK)


def _kg(text: str, context: SheetContext) -> float:
    return to_kg(float(text.replace(",", ".")), context.unit or "kg")


def _day_in(text: str, lexicon: Lexicon, context: SheetContext) -> date | None:
    """The one day that a correction names."""
    words = text.strip(" ()").split()
    for start in range(len(words)):
        for length in (4, 3, 2, 1):
            head = day_head(" ".join(words[start : start + length]).strip(" ,;:()"), lexicon)
            if head is not None and not head.rest and (head.is_plain or length == 1):
                return context.calendar.resolve(head.written)
    return None


def _may_mean(one: SetRow, context: SheetContext, day: date | None, text: str, people: People) -> bool:
    if one.date != day or (one.place.file, one.place.sheet) != (context.file, context.sheet.name):
        return False
    lifts = {hit for _, _, hit in context.lexicon.exercise.find(words_of(text))}
    pattern = people.pattern()
    whose = {people.named[match["name"]] for match in pattern.finditer(text)} if pattern else set()
    return (not lifts or one.exercise in lifts) and (not whose or one.athlete in whose)
