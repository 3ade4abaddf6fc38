"""Free text to pain reports: only with a site and a rating or severity word, about this day and this person.

"no elbow pain" is a report of 0; "if the elbow hurts" and "partner's elbow" are none. Silence is missing, not 0.
"""

import re
from dataclasses import dataclass

from preflare.reading.lexicon import Lexicon
from preflare.reading.text import words_of

_CLAUSE = re.compile(r"[.;!\n]+(?!\d)|,(?!\d)|\s(?:but|aber|mais|pero|ma|maar|ale|men|mas|however)\s", re.I)
_OUT_OF_TEN = re.compile(
    r"(?<![\d/.,x@])(\d{1,2}(?:[.,]5)?)(?:\s*[-–]\s*(\d{1,2}))?"
    r"\s*(?:/\s*10|(?:out of|von|sur|de|su|av|af|na) 10)(?![\d/])",
    re.I,
)
_BESIDE_PAIN = re.compile(
    r"(?<![\d/.,x@:])(\d{1,2})(?:\s*[-–]\s*(\d{1,2}))?(?![\d/.,x@:%]|\s*(?:kg|lb|reps?|sets?|x|min|h\b|s\b|st\b|nd\b|rd\b|th\b|days?|weeks?))",
    re.I,
)
_LETTER_SIDES = {"l": "left", "r": "right"}


@dataclass(frozen=True, slots=True)
class NotePain:
    """A pain report found in free text, with the words that it was read from."""

    site: str
    side: str
    rating: float | None
    severity: str | None
    kind: str
    moment: str | None
    evidence: str
    is_range: bool = False


@dataclass(slots=True)
class _Clause:
    """What one clause names."""

    sites: list[str]
    side: str
    kind: str | None
    severities: list[str]
    is_pain_free: bool
    is_negated: bool
    is_elsewhere: bool
    moment: str | None
    words: list[str]
    speaking: frozenset[str]  # the words for site, side, kind and severity
    is_bare: bool  # nothing but site, side, moment and numbers


def pain_in_note(text: str, lexicon: Lexicon) -> list[NotePain]:
    """Every pain report in a note, clause by clause. A clause without a site takes none from its neighbours, save that
    a rating may follow its site after a comma ("left elbow sore, 4/10")."""
    reports: list[NotePain] = []
    waiting: tuple[_Clause, str] | None = None
    for piece in _clauses(text):
        clause = _read_clause(piece, lexicon)
        rating, is_range = _rating(piece, clause)
        if waiting is not None and not clause.sites and rating is not None and len(clause.words) <= 5:
            reports = [report for report in reports if report.evidence != waiting[1]]
            reports += _reports(waiting[0], rating, is_range, f"{waiting[1]}, {piece.strip()}")
            waiting = None
            continue
        found = _reports(clause, rating, is_range, piece.strip())
        reports += found
        waiting = (
            (clause, piece.strip())
            if clause.sites and rating is None and not clause.is_elsewhere and not clause.is_negated
            else None
        )
    return reports


def _clauses(text: str) -> list[str]:
    return [piece for piece in _CLAUSE.split(text) if piece and piece.strip()]


def _read_clause(piece: str, lexicon: Lexicon) -> _Clause:
    words = words_of(piece)
    spots = list(lexicon.site.find(words))
    sites = list(dict.fromkeys(hit for _, _, hit in spots))
    sides = [hit for start, end, hit in lexicon.side.find(words) if end - start > 1 or len(words[start]) > 1]
    near = {i for start, end, _ in spots for i in (start - 1, end)}
    sides += [_LETTER_SIDES[words[i]] for i in near if 0 <= i < len(words) and words[i] in _LETTER_SIDES]
    kinds = [hit for _, _, hit in lexicon.kind.find(words)]
    severities = [hit for _, _, hit in lexicon.severity.find(words)]
    negations = [(start, hit) for start, _, hit in lexicon.negation.find(words)]
    moments = [hit for _, _, hit in lexicon.moments_in(piece)]
    plural = any(words[start].endswith("s") and hit in {"elbow", "forearm", "upper arm"} for start, _, hit in spots)
    owner = re.search(r"(?:partner|mate|friend|kollege|copain|amigo)\w*['’]?s?\b", piece, re.I) is not None
    known = [*spots, *lexicon.side.find(words), *lexicon.moments_in(piece)]
    covered = {index for start, end, _ in known for index in range(start, end)} | {
        i for i, word in enumerate(words) if word.isdecimal()
    }
    # Swedish "om" (if) and Danish "øm" (sore) fold to the same word.
    spoken = [*spots, *lexicon.side.find(words), *lexicon.kind.find(words), *lexicon.severity.find(words)]
    denied = {hit for start, hit in negations if not (words[start] == "om" and "øm" in piece.casefold())}
    return _Clause(
        sites=sites,
        side=_one_side(sides, plural),
        kind=kinds[0] if kinds else None,
        severities=[hit for hit in severities if hit != "none"],
        is_pain_free="pain free" in denied,
        is_negated="not" in denied,
        is_elsewhere=owner or "not now" in denied,
        moment=moments[-1] if moments else None,
        words=words,
        speaking=frozenset(words[i] for start, end, _ in spoken for i in range(start, end)),
        is_bare=len(covered) == len(words),
    )


def _one_side(sides: list[str], plural: bool) -> str:
    distinct = set(sides)
    if "both" in distinct or {"left", "right"} <= distinct:
        return "both"
    return distinct.pop() if distinct else "both" if plural else "unknown"


def _rating(piece: str, clause: _Clause) -> tuple[float | None, bool]:
    """A rating out of ten, or a bare number of 0 to 10 beside a site in a clause that speaks of pain or is nothing but
    site and number ("elbow 4")."""
    match = _OUT_OF_TEN.search(piece)
    if match is None and clause.sites and (clause.kind or clause.is_bare):
        found = [one for one in _BESIDE_PAIN.finditer(piece) if _may_follow(piece[: one.start()], clause)]
        match = found[0] if len(found) == 1 else None
    if match is None:
        return None, False
    values = [float(value.replace(",", ".")) for value in match.groups() if value]
    value = max(values)
    return (value, len(values) > 1) if value <= 10 else (None, False)


_BEFORE_A_RATING = {
    "at",
    "about",
    "of",
    "a",
    "ca",
    "is",
    "was",
    "nrs",
    "level",
    "rated",
    "score",
    "auf",
    "bei",
    "around",
    "to",
}


def _may_follow(text: str, clause: _Clause) -> bool:
    """Whether a bare number behind `text` can be a rating: beside a word of pain, site or side, not "set 3"."""
    words = words_of(text)
    return not words or words[-1] in clause.speaking or words[-1] in _BEFORE_A_RATING


def _reports(clause: _Clause, rating: float | None, is_range: bool, evidence: str) -> list[NotePain]:
    if not clause.sites or clause.is_elsewhere:
        return []
    kind = clause.kind or "pain"
    severity = clause.severities[0] if clause.severities else None
    if rating is None:
        if clause.is_pain_free != (clause.is_negated and clause.kind == "pain"):  # both together deny one another
            return [] if severity else [_none_at(site, clause, evidence) for site in clause.sites]
        if clause.is_negated or clause.is_pain_free or clause.kind is None or severity is None:
            return []
    elif rating > 0 and (clause.is_negated or clause.is_pain_free):
        return []  # "not more than 4/10", "no longer 4/10": what it is now stays open
    return [
        NotePain(
            site, clause.side, rating, None if rating is not None else severity, kind, clause.moment, evidence, is_range
        )
        for site in clause.sites
    ]


def _none_at(site: str, clause: _Clause, evidence: str) -> NotePain:
    return NotePain(site, clause.side, 0.0, None, "pain", clause.moment, evidence)
