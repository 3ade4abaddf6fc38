"""Free text to pain reports: only with a site and a rating or severity word, about this day and this person.

"no elbow pain" is a report of 0; "if the elbow hurts" and "partner's elbow" are none. Silence is missing, not 0.
"""

import re
from dataclasses import dataclass, replace

from preflare.reading.lexicon import Lexicon
from preflare.reading.text import fold, words_of

_CLAUSE = re.compile(r"[.;!\n]+(?!\d)|,(?!\d)|\s(?:but|aber|mais|pero|ma|maar|ale|men|mas|however)\s", re.I)
_OUT_OF_TEN = re.compile(
    r"(?<![\d/.,x@])(\d{1,2}(?:[.,]5)?)(?:\s*[-–]\s*(\d{1,2}))?"
    r"\s*(?:/\s*10|(?:out of|von|sur|de|su|av|af|na) 10)(?![\d/])",
    re.I,
)
_SCALE = re.compile(
    r"[(\[]?(?<![\d.,/])0\s*(?:-|–|to|bis|a|à|al|do|til|till|tot)\s*10(?![\d/])[)\]]?", re.I
)  # no rating
_BESIDE_PAIN = re.compile(
    r"(?<![\d/.,x@:])(\d{1,2})(?:\s*[-–]\s*(\d{1,2}))?(?![\d/.,x@:%]|\s*(?:kg|lb|reps?|sets?|x|min|h\b|s\b|st\b|nd\b|rd\b|th\b|days?|weeks?))",
    re.I,
)
# Letters for sides beside a site: left and right, links and rechts, höger and vänster, droit and gauche. The second
# row only as capitals, being words too: izquierdo, esquerdo, sinistro, prawy.
_LETTER_SIDES = {"l": "left", "r": "right", "h": "right", "v": "left", "d": "right", "g": "left"}
_CAPITAL_SIDES = {"i": "left", "e": "left", "s": "left", "p": "right"}


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
    is_moment_first: bool  # it stands before the site
    words: list[str]
    speaking: frozenset[str]  # the words for site, side, kind and severity
    is_bare: bool  # nothing but site, side, moment and numbers
    is_timed: bool  # nothing but a moment and numbers
    is_bare_word: bool  # nothing but site, side, moment and one word of severity
    is_close: bool  # a number right behind a site or its side, which is no word for an exercise too


def pain_in_note(text: str, lexicon: Lexicon) -> list[NotePain]:
    """Every pain report in a note, clause by clause. A clause without a site takes none from its neighbours, save that
    a rating may follow its site after a comma ("left elbow sore, 4/10")."""
    reports: list[NotePain] = []
    waiting: tuple[_Clause, str] | None = None
    last_word: tuple[_Clause, str] | None = None  # the clause before, if it held a site and a word of severity alone
    last: _Clause | None = None  # the clause before, if it held a site and a rating
    leading: str | None = None  # the moment that a sentence begins with: it holds for all of it
    for piece, begins in _clauses_of_sentences(text):
        spelt = _spelt(piece, lexicon)
        clause = _read_clause(spelt, lexicon)
        if begins:
            leading = clause.moment if clause.is_moment_first else None
        elif clause.moment is not None:
            leading = None
        elif clause.sites and leading is not None:
            clause = replace(clause, moment=leading)
        rating, is_range = _rating(spelt, clause)
        if rating is None and last is not None:
            rating, is_range = _rating_alone(spelt, clause)
        if waiting is not None and not clause.sites and rating is not None and len(clause.words) <= 5:
            reports = [report for report in reports if report.evidence != waiting[1]]
            both = _with_side_of(waiting[0], clause)
            reports += _reports(both, rating, is_range, f"{waiting[1]}, {piece.strip()}")
            waiting = None
            continue
        if last is not None and rating is not None and clause.moment and not clause.sites and len(clause.words) <= 5:
            again = replace(last, moment=clause.moment)  # "elbow 2/10 before, 1/10 after"
            reports += _reports(again, rating, is_range, piece.strip())
            continue
        if last is not None and clause.sites and clause.side == "unknown" and _ALSO & set(clause.words):
            clause = replace(clause, side=last.side)  # "L elbow 6/10, upper arm too 3/10"
        if last_word is not None and clause.moment and not clause.sites and len(clause.words) <= 2:
            reports = [report for report in reports if report.evidence != last_word[1]]
            reports += _reports(replace(last_word[0], moment=clause.moment), None, False, last_word[1])
            continue
        found = _reports(clause, rating, is_range, piece.strip())
        last_word = (clause, piece.strip()) if found and clause.is_bare_word and not clause.moment else None
        reports += found
        last = clause if clause.sites and rating is not None else None
        waiting = (
            (clause, piece.strip())
            if clause.sites and rating is None and not clause.is_elsewhere and not clause.is_negated
            else None
        )
    return reports


def is_pain_alone(text: str, lexicon: Lexicon) -> bool:
    """Whether every clause with a number in it is a report of pain, and nothing looks like sets."""
    told = [piece for piece in _clauses(text) if any(map(str.isdigit, piece))]
    return (
        bool(told)
        and re.search(r"\d\s*[x×@]\s*\d", text) is None
        and all(pain_in_note(piece, lexicon) for piece in told)
    )


_ALSO = {"too", "also", "auch", "aussi", "tambien", "anche", "tambem", "ook", "tez", "takze", "ogsa", "ocksa", "well"}


def _with_side_of(clause: _Clause, other: _Clause) -> _Clause:
    """The clause, with the side that its rating's clause names where it names none ("shoulder pinchy, 2/10 left")."""
    side = clause.side if clause.side != "unknown" else other.side
    return replace(clause, side=side, moment=clause.moment or other.moment)


_HALF_DAY = re.compile(r"\b([ap])\.\s?m\.?(?!\w)", re.I)


def _clauses(text: str) -> list[str]:
    """The clauses of a note; the dots of "a.m." end none."""
    return [piece for piece, _ in _clauses_of_sentences(text)]


def _clauses_of_sentences(text: str) -> list[tuple[str, bool]]:
    """(clause, whether it begins a sentence), in order; blank ones are left out."""
    text, found, start, begins = _HALF_DAY.sub(r"\1m", text), [], 0, True
    for match in (*_CLAUSE.finditer(text), None):
        piece = text[start : match.start() if match else len(text)]
        if piece.strip():
            found.append((piece, begins))
            begins = False
        if match is not None:
            start, begins = match.end(), begins or any(mark in match[0] for mark in ".;!\n")
    return found


def _read_clause(piece: str, lexicon: Lexicon) -> _Clause:
    words = words_of(piece)
    spots = list(lexicon.site.find(words))
    sites = list(dict.fromkeys(hit for _, _, hit in spots))
    sides = [hit for start, end, hit in lexicon.sides_in(words) if end - start > 1 or len(words[start]) > 1]
    letters = _letters_for_sides(piece, words, spots)
    sides += [_side_of_letter(words[i]) for i in letters]
    kinds = [hit for _, _, hit in lexicon.kind.find(words)]
    severities = [hit for _, _, hit in lexicon.severity.find(words)]
    negations = [(start, hit) for start, _, hit in lexicon.negation.find(words)]
    at_sites = {i for start, end, _ in spots for i in range(start, end)}
    at_lifts = {i for start, end, _ in lexicon.exercise.find(words) if end - start > 1 for i in range(start, end)}
    at_names = at_sites | at_lifts  # "avant-bras", "good mornings"
    times = [hit for hit in lexicon.moments_in(piece) if not at_names & set(range(hit[0], hit[1]))]
    moments = [hit for _, _, hit in times]
    plural = any(words[start].endswith("s") and hit in {"elbow", "forearm", "upper arm"} for start, _, hit in spots)
    owner = re.search(r"(?:partner|mate|friend|kollege|copain|amigo)\w*['’]?s?\b", piece, re.I) is not None
    as_sides = [*lexicon.sides_in(words), *((i, i + 1, "") for i in letters)]
    known = [*spots, *as_sides, *times]
    covered = {index for start, end, _ in known for index in range(start, end)} | {
        i for i, word in enumerate(words) if word.isdecimal()
    }
    # Swedish "om" (if) and Danish "øm" (sore) fold to the same word.
    spoken = [*spots, *as_sides, *lexicon.kind.find(words), *lexicon.severity.find(words)]
    negations = [(start, hit) for start, hit in negations if not _is_in_the(words, start, spots, lexicon)]
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
        is_moment_first=bool(times and spots) and len(times) == 1 and times[0][0] < spots[0][0],
        words=words,
        speaking=frozenset(words[i] for start, end, _ in spoken for i in range(start, end)),
        is_timed={i for i, word in enumerate(words) if not word.isdecimal()}
        <= {i for start, end, _ in times for i in range(start, end)} | _lifts_behind(words, times, lexicon),
        is_bare_word=_is_bare_word(words, covered | _lifts_behind(words, times, lexicon), spots, as_sides, lexicon),
        is_bare=len(covered) == len(words) and not _name_exercises(words, spots, lexicon),
        is_close=_is_close(words, spots, as_sides, lexicon),
    )


_SMALL_WORDS = frozenset(
    {
        "the",
        "my",
        "all",
        "den",
        "dem",
        "der",
        "die",
        "das",
        "les",
        "la",
        "le",
        "du",
        "de",
        "des",
        "el",
        "los",
        "las",
        "del",
    }
    | {"da", "do", "dos", "as", "o", "os", "il", "lo", "gli", "i", "della", "dello", "het", "een", "seti", "bij"}
)


def _lifts_behind(words: list[str], times: list[tuple[int, int, str]], lexicon: Lexicon) -> set[int]:
    """The words behind a moment that say which lift it was ("after chins", "depois da rosca"); none if others come."""
    start = max((end for _, end, _ in times), default=len(words))
    known = _words_of_lifts(lexicon)
    rest = range(start, len(words))
    return set(rest) if all(words[i] in known or words[i].rstrip("s") in known for i in rest) else set()


def _words_of_lifts(lexicon: Lexicon) -> frozenset[str]:
    if not lexicon.lift_words:
        lexicon.lift_words = _SMALL_WORDS | {word for phrase in lexicon.exercise.known for word in phrase.split()}
    return lexicon.lift_words


def _is_bare_word(
    words: list[str],
    covered: set[int],
    spots: list[tuple[int, int, str]],
    sides: list[tuple[int, int, str]],
    lexicon: Lexicon,
) -> bool:
    """Whether a clause is a site with its side and a word of severity, and nothing else: "Knie li leicht"."""
    weighed = [hit for hit in lexicon.severity.find(words) if hit[2] != "none"]
    all_covered = covered | {index for start, end, _ in weighed for index in range(start, end)}
    is_all = len(all_covered) == len(words) and not any(word.isdecimal() for word in words)
    return is_all and len(weighed) == 1 and bool(spots and sides) and not _name_exercises(words, spots, lexicon)


def _spelt(piece: str, lexicon: Lexicon) -> str:
    """The clause with the one word put right that is a slip of a site, beside a side and with a rating."""
    from rapidfuzz.distance import OSA

    words = words_of(piece)
    sides = [i for start, end, _ in lexicon.sides_in(words) for i in range(start, end)]
    if len(words) > 8 or not sides or not any(word.isdecimal() for word in words) or any(lexicon.site.find(words)):
        return piece
    near = {i + step for i in sides for step in (-1, 1)} - set(sides)
    for at in sorted(i for i in near if 0 <= i < len(words) and len(words[i]) >= 5):
        meant = [site for site in lexicon.site.known if " " not in site and OSA.distance(words[at], site) == 1]
        if words[at] not in _words_of_lifts(lexicon) and len({lexicon.site.known[site] for site in meant}) == 1:
            return _with_word(piece, words[at], meant[0])
    return piece


def _with_word(text: str, folded: str, instead: str) -> str:
    """The text with another word for one that is given folded."""
    return re.sub(r"[^\W\d_]+", lambda match: instead if fold(match[0]) == folded else match[0], text)


def _name_exercises(words: list[str], spots: list[tuple[int, int, str]], lexicon: Lexicon) -> bool:
    """Whether a site is a word for an exercise too: "biceps 3, triceps 4" are sets, not ratings."""
    return any(" ".join(words[start:end]) in lexicon.exercise.known for start, end, _ in spots)


def _is_in_the(words: list[str], start: int, spots: list[tuple[int, int, str]], lexicon: Lexicon) -> bool:
    """Portuguese "no" before a site is "in the", and denies nothing."""
    behind = next((" ".join(words[a:b]) for a, b, _ in spots if a == start + 1), "")
    return words[start] == "no" and lexicon.site.languages.get(behind, set()) == {"pt"}


def _is_close(
    words: list[str], spots: list[tuple[int, int, str]], sides: list[tuple[int, int, str]], lexicon: Lexicon
) -> bool:
    """Whether a number stands right behind a site, or a site and its side ("coude droit 3 avant de commencer")."""
    ends = {end for start, end, _ in spots if lexicon.exercise.known.get(" ".join(words[start:end])) is None}
    ends |= {end for start, end, _ in sides if start in ends}
    return any(end < len(words) and words[end].isdecimal() for end in ends)


def _letters_for_sides(piece: str, words: list[str], spots: list[tuple[int, int, str]]) -> list[int]:
    """Where single letters stand for a side: beside a site, or a capital L or R anywhere in a clause with a site."""
    near = {i for start, end, _ in spots for i in (start - 1, end)}
    capitals = {letter.casefold() for letter in re.findall(r"(?<![\w'’])[A-Z](?![\w'’])", piece)}
    return [
        i
        for i, word in enumerate(words)
        if (i in near and word in _LETTER_SIDES)
        or (i in near and word in _CAPITAL_SIDES and word in capitals)
        or (spots and word in {"l", "r"} and word in capitals)
    ]


def side_of_letter(text: str) -> str | None:
    """The side that a text of one letter stands for where sides stand ("P": prawy); None for any other text."""
    letter = text.strip(" .()").casefold()
    return _LETTER_SIDES.get(letter) or _CAPITAL_SIDES.get(letter)


def _side_of_letter(letter: str) -> str:
    return _LETTER_SIDES.get(letter) or _CAPITAL_SIDES[letter]


def _one_side(sides: list[str], plural: bool) -> str:
    distinct = set(sides)
    if "both" in distinct or {"left", "right"} <= distinct:
        return "both"
    return distinct.pop() if distinct else "both" if plural else "unknown"


def _rating(piece: str, clause: _Clause) -> tuple[float | None, bool]:
    """A rating out of ten, or a bare number of 0 to 10 beside a site in a clause that speaks of pain or is nothing but
    site and number ("elbow 4")."""
    piece = _SCALE.sub(" ", piece)
    match = _OUT_OF_TEN.search(piece)
    if match is None and clause.sites and (clause.kind or clause.is_bare or clause.is_close):
        found = [one for one in _BESIDE_PAIN.finditer(piece) if _may_follow(piece[: one.start()], clause)]
        match = found[0] if len(found) == 1 else None
    if match is None:
        return None, False
    values = [float(value.replace(",", ".")) for value in match.groups() if value]
    value = max(values)
    return (value, len(values) > 1) if value <= 10 else (None, False)


def _rating_alone(piece: str, clause: _Clause) -> tuple[float | None, bool]:
    """The rating of a clause that is nothing but a number and a moment, behind one that named its site: "3 after"."""
    found = list(_BESIDE_PAIN.finditer(piece))
    n_words = len(clause.words) - sum(word.isdecimal() for word in clause.words)
    if clause.sites or not clause.moment or not clause.is_timed or len(found) != 1 or n_words > 4:
        return None, False
    values = [float(value) for value in found[0].groups() if value]
    return (max(values), len(values) > 1) if max(values) <= 10 else (None, False)


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
    if kind == "soreness" and set(clause.sites) == {"other"}:
        return []  # legs that are sore from training are no complaint
    severity = clause.severities[0] if clause.severities else None
    if rating is None:
        if clause.is_pain_free != (clause.is_negated and clause.kind == "pain"):  # both together deny one another
            return [] if severity else [_none_at(site, clause, evidence) for site in clause.sites]
        is_spoken = clause.kind is not None or clause.is_bare_word
        if clause.is_negated or clause.is_pain_free or not is_spoken or severity is None:
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
