"""One text about pain to reports, whether a cell, an answer, a line of a diary or a remark.

`read_pain` takes what the heading, the column or the line says already (`Said`) and gives reports and doubts. A report
needs a site (its own, or the one said) and a rating or a word for how much; where a number could mean something else,
there is a doubt and no report. `said_by_line` tells what the beginning of a line says.
"""

import re
from dataclasses import replace

from preflare.reading.legend_lines import legend_words
from preflare.reading.lexicon import Lexicon
from preflare.reading.pain_days import names_numbered_day
from preflare.reading.pain_marks import Hit
from preflare.reading.pain_pieces import one_side, pieces_of
from preflare.reading.pain_said import MUSCLES, NOTHING_SAID, OPEN, OUTSIDE, Doubt, PainSaid, PainText, Said
from preflare.reading.pain_told import Teller
from preflare.reading.pain_words import mark, names_site


def read_pain(text: str, lexicon: Lexicon, said: Said = NOTHING_SAID) -> PainText:
    """The reports in a text and what in it stays open. Each text is read once; leave what is given back as it is."""
    weekday = None if said.day is None else said.day.weekday()
    day = said.day if names_numbered_day(text) else None
    key = (text, *(getattr(said, name) for name in _PLAIN_FIELDS), weekday, day, *said.people.items())
    return lexicon.remembered("pain", key, lambda: _read(text, lexicon, said))


_PLAIN_FIELDS = ("is_asked", "sites", "side", "moment", "kind", "pairs")


def _read(text: str, lexicon: Lexicon, said: Said) -> PainText:
    text = lexicon.rewritten_pain(text)
    if not said.is_asked and not names_site(text, lexicon):
        return PainText()
    if said.pairs is not None and (pair := _paired(text, said)) is not None:
        return pair
    marked = mark(text, lexicon, said.people, said.day, said.is_asked)
    pieces, doubts = pieces_of(marked, lexicon, said)
    told = Teller(said, doubts=doubts)
    for piece in pieces:
        told.take(piece)
    return told.ended(marked)


def _paired(text: str, said: Said) -> PainText | None:
    """ "3/1" under a heading that names two sides or two moments: one rating each."""
    match = re.fullmatch(r"\s*(\d{1,2}(?:[.,]5)?)\s*[/|;]\s*(\d{1,2}(?:[.,]5)?)\s*", text)
    if match is None or said.pairs is None:
        return None
    values = [float(one.replace(",", ".")) for one in match.groups()]
    if max(values) > 10 or values[1] == 10:
        return PainText([], [Doubt(text, OPEN if max(values) <= 10 else OUTSIDE)])
    reports = []
    for name, value in zip(said.pairs, values, strict=True):
        is_side = name in {"left", "right"}
        side, moment = (name, said.moment) if is_side else (said.side or "unknown", name)
        for site in said.sites or ("",):
            reports.append(PainSaid(site, side, value, None, said.kind or "pain", moment, f'"{text}"'))
    return PainText(reports)


def said_by_line(text: str, lexicon: Lexicon, above: Said = NOTHING_SAID) -> tuple[Said, str] | None:
    """(what the beginning of a line says, the ratings behind it) of a line kept for pain: "Gomiti: R dx 2, sx 0 - D 0".

    The beginning is a site, or a word for pain, perhaps with its side, moment and scale; a moment alone will do
    ("next morning: R 4") where `above`, the last such line, says the site. None for any other line.
    """
    text = lexicon.rewritten_pain(text)
    marked = mark(text, lexicon, above.people, above.day, True)
    values = [value.first for value in marked.values]
    colon = next((i for i, (start, _) in enumerate(marked.spans) if ":" in text[:start]), None)
    if colon is None and not values:
        return None
    first = min((start for start, _, _ in marked.hits["site"]), default=0)
    sides = [hit for hit in marked.hits["side"] if hit[0] >= first]  # "right biceps before 3": the side of all of it
    end = colon if colon is not None else min([values[0], *(hit[0] for hit in [*sides, *marked.hits["person"]])])
    spots, times = marked.within("site", 0, end), marked.within("moment", 0, end)
    sides, kinds = marked.within("side", 0, end), marked.within("kind", 0, end)
    told = {i for a, b, _ in [*spots, *times, *sides, *kinds, *marked.within("and", 0, end)] for i in range(a, b)}
    told |= {i for a, b, _ in marked.within("lead", 0, end) for i in range(a, b)}
    told |= _lift_of_moment(marked.words[:end], times, lexicon)
    is_about_pain = any(hit == "pain" for _, _, hit in kinds) or any(site not in MUSCLES for _, _, site in spots)
    if end == 0 or len(told) < end or not (is_about_pain or (times and above.sites)):
        return None
    if colon is None and not (is_about_pain and spots):
        return None
    sites = tuple(dict.fromkeys(hit for _, _, hit in spots)) or above.sites
    side = one_side([hit for _, _, hit in sides], False)
    said = replace(
        above, is_asked=True, sites=sites, side=None if side == "unknown" else side,
        moment=times[-1][2] if times else None, kind=kinds[0][2] if kinds else None,
    )  # fmt: skip
    return said, text[marked.spans[end][0] :] if end < len(marked.words) else ""


def _lift_of_moment(words: list[str], times: list[Hit], lexicon: Lexicon) -> set[int]:
    """The words of a lift right behind a word for "during", or its article: "elbow during bench 3"."""
    begins = {end for _, end, moment in times if moment == "during"}
    articles = {end for start, end, _ in legend_words("article").find(words) if start in begins}
    begins |= articles
    spans = [(start, end) for start, end, _ in lexicon.exercise.find(words) if start in begins]
    return {i for start, end in spans for i in (start - (start in articles), *range(start, end))}
