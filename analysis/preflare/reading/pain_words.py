"""The words and numbers of a text about pain, each marked with what it can be; nothing is decided here."""

import re
from collections.abc import Mapping
from datetime import date

from preflare.reading.lexicon import Lexicon, Phrases
from preflare.reading.pain_days import by_day
from preflare.reading.pain_marks import Hit, Marked
from preflare.reading.pain_numbers import mark_numbers
from preflare.reading.side_letters import LETTERS, WEAK
from preflare.reading.text import fold

_WORD = re.compile(r"\d+|[^\W\d_]+(?:['’][^\W\d_]+)*")
_ELISION = re.compile(r"\b((?:dell|nell|sull|dall|all|quell|un|qu|[ldjmtnc]))['’](?=\w)", re.I)
_SCALE = re.compile(
    r"[(\[]?(?<![\d.,/])0\s*(?:-|–|to|bis|a|à|al|do|til|till|tot)\s*10(?![\d/])[)\]]?", re.I
)  # "(0-10)" is no rating
_WORK = re.compile(r"\d\s*[x×@]\s*\d", re.I)
_STOP = re.compile(r"[;!\n]+|\.+(?![\d:])|\s(?:but|aber|mais|pero|ma|maar|ale|men|mas|however)\s", re.I)
_ABBREVIATED = re.compile(
    r"(?:\b[^\W\d_]|\b(?:hø|ve|vä|hö|li|re|bds|der|izq|izqda|izda|dcho|dcha|dx|sx|dir|esq|pr|lew|ap|av|ca|env|aprox|nach"
    r"|vorm|morg|ell|ellb|ob|approx|right|left|lt|rt|pt|sol|tyd|kol|łok|lok|alb|sk|skul|und|rec|ant|lun|mar|mer|jeu|ven"
    r"|sam|dim|nast|nä|näst|nst|følg|sig|seg|volg|prox|próx))$",
    re.I,
)  # a full stop behind these ends no sentence, if the next letter is small or a digit
_SOFT = re.compile(r"[/|+&\t]|\s[-–—]\s")
_PARTNERS = {frozenset(pair) for pair in ("lr", "dg", "di", "de", "ds", "pl", "hv")}


def mark(
    text: str,
    lexicon: Lexicon,
    people: Mapping[str, str] | None = None,
    day: date | None = None,
    is_asked: bool = False,
) -> Marked:
    """Mark the words of a text. people: letters and names -> person; is_asked: letters and bare numbers count alone."""
    plain = _ELISION.sub(r"\1 ", text)
    plain = _SCALE.sub(lambda found: " " * len(found[0]), plain)
    found = list(_WORD.finditer(plain))
    words = [fold(one[0]) or "_" for one in found]
    marked = Marked(text, words, [one.span() for one in found], has_work=_WORK.search(plain) is not None)
    for i, site in ({} if is_asked else _slips(words, lexicon)).items():
        marked.slips[words[i]] = lexicon.site.known[site]
        words[i] = site
    _mark_names(marked, plain, people or {})
    _mark_places_and_times(marked, lexicon, plain, day)
    _mark_letters(marked, plain, is_asked)
    _mark_talk(marked, lexicon, plain)
    mark_numbers(marked, plain, lexicon, is_asked)
    _mark_cuts(marked, plain, is_asked)
    return marked


def names_site(text: str, lexicon: Lexicon) -> bool:
    """Whether a site of the body stands in a text, or may stand in it with a slip of the pen."""
    words = [fold(word) for word in _WORD.findall(_ELISION.sub(r"\1 ", text))]
    return next(lexicon.site.find(words), None) is not None or bool(_slips(words, lexicon))


def _slips(words: list[str], lexicon: Lexicon) -> dict[int, str]:
    """Word -> the site that it is a slip of ("right elobw 2"): beside a side in words, with a number behind."""
    if not any(word.isdecimal() for word in words):
        return {}
    from rapidfuzz.distance import OSA

    sides = {i for start, end, _ in lexicon.sides_in(words) for i in range(start, end) if len(words[i]) > 1}
    near = {i + step for i in sides for step in (-1, 1)} - sides
    found = {}
    known = (lexicon.site, lexicon.kind, lexicon.severity, lexicon.moment, lexicon.negation)
    for i in sorted(i for i in near if 0 <= i < len(words) and len(words[i]) >= 5):
        if any(words[i] in table.known for table in known):
            continue
        meant = [site for site in lexicon.site.known if " " not in site and OSA.distance(words[i], site) == 1]
        is_rated = any(word.isdecimal() for word in words[i + 1 : i + 4])
        if is_rated and words[i] not in lexicon.lift_words and len({lexicon.site.known[site] for site in meant}) == 1:
            found[i] = meant[0]
    return found


def _find(marked: Marked, phrases: Phrases, *taken: str) -> list[Hit]:
    """The phrases of a table among the words that the roles `taken` have left."""
    gone = {i for role in taken for start, end, _ in marked.hits.get(role, []) for i in range(start, end)}
    return list(phrases.find([("\0" if i in gone else word) for i, word in enumerate(marked.words)]))


def _mark_names(marked: Marked, plain: str, people: Mapping[str, str]) -> None:
    """Letters (as capitals) and names of people."""
    known = {fold(written): person for written, person in people.items()}
    names = Phrases({name: person for name, person in known.items() if name}, longest=max(map(len, known), default=1))
    hits = []
    for start, end, person in names.find(marked.words):
        a, b = marked.spans[start][0], marked.spans[end - 1][1]
        if plain[a:b].isupper() or b - a > 1:
            hits.append((start, end, person))
    marked.hits["person"] = hits


def _mark_places_and_times(marked: Marked, lexicon: Lexicon, plain: str, day: date | None) -> None:
    """Exercises of two words and more hide what else their words could be ("good mornings", "back squat")."""
    lifts = [hit for hit in _find(marked, lexicon.exercise, "person") if hit[1] - hit[0] > 1]
    marked.hits["lift"] = lifts
    marked.hits["site"] = _find(marked, lexicon.site, "person", "lift")
    marked.hits["plural"] = _find(marked, lexicon.talk["plural"], "person", "lift")
    is_for = not any(word in plain.casefold() for word in ("før", "för"))
    times = _find(marked, lexicon.moment, "person", "lift", "site")
    times = [hit for hit in times if not (is_for and marked.words[hit[0] : hit[1]] == ["for"])]
    # German "nach" before a direction is "towards".
    times = [hit for hit in times if not (marked.words[hit[1] - 1] == "nach" and _at(marked, hit[1]) in _DIRECTIONS)]
    marked.hits["moment"], marked.hits["other day"] = by_day(marked, lexicon, times, day)
    sides = lexicon.sides_in(marked.words)
    taken = {i for role in ("person", "lift", "site") for a, b, _ in marked.hits[role] for i in range(a, b)}
    marked.hits["side"] = [
        hit for hit in sides if hit[0] not in taken and _is_side(marked, hit) and not _is_article(marked, hit)
    ]


_DIRECTIONS = {"innen", "aussen", "vorne", "vorn", "hinten", "unten", "oben", "links", "rechts"}


def _at(marked: Marked, index: int) -> str:
    """The word at an index, "" behind the last."""
    return marked.words[index] if index < len(marked.words) else ""


def _is_side(marked: Marked, hit: Hit) -> bool:
    """A side in letters is settled apart."""
    return hit[1] - hit[0] > 1 or len(marked.words[hit[0]]) > 1


def _is_article(marked: Marked, hit: Hit) -> bool:
    """German "der" before a noun; Spanish "der" for the right stands behind its site."""
    start, end, _ = hit
    sites = marked.hits["site"]
    return (
        marked.words[start:end] == ["der"]
        and end < len(marked.words)
        and not marked.words[end].isdecimal()
        and not any(site[1] == start for site in sites)
    )


def _mark_letters(marked: Marked, plain: str, is_asked: bool) -> None:
    """Single letters for sides: beside a site or a number, as capitals L or R anywhere beside a site, or in pairs."""
    taken = {i for role in ("person", "lift", "site", "moment") for a, b, _ in marked.hits[role] for i in range(a, b)}
    near = {i for start, end, _ in marked.hits["site"] for i in (start - 1, end)}
    before_number = {i for i in range(len(marked.words) - 1) if marked.words[i + 1].isdecimal()}
    behind_number = {i for i in range(1, len(marked.words)) if marked.words[i - 1].isdecimal()}
    elided = {i for i, (_, end) in enumerate(marked.spans) if marked.text[end : end + 1] in {"'", "’"}}
    letters = {
        i for i, word in enumerate(marked.words) if len(word) == 1 and word.isalpha() and i not in taken | elided
    }
    present = {marked.words[i] for i in letters}
    for i in sorted(letters):
        word, is_capital = marked.words[i], plain[marked.spans[i][0]].isupper()
        side = LETTERS.get(word) or WEAK.get(word)
        if side is None:
            continue
        is_weak = word in WEAK  # so only as a capital or beside a partner
        has_partner = any({word} | {other} == pair for pair in _PARTNERS for other in present - {word})
        beside = i in near or (i in before_number | behind_number and (is_asked or (is_capital and bool(near))))
        beside = beside or (is_asked and (len(marked.words) <= 3 or (has_partner and (is_capital or not is_weak))))
        anywhere = bool(near) and word in "lr" and is_capital
        if (beside and (not is_weak or is_capital or (has_partner and is_asked))) or anywhere:
            marked.hits["side"].append((i, i + 1, side))
        elif is_asked and word == "b" and beside:
            marked.hits["side"].append((i, i + 1, "both"))
    marked.hits["side"].sort()
    spelt = {start for start, end, _ in marked.hits["side"] if start not in letters}
    marked.has_people = any(i + 1 in spelt for i in letters)
    marked.hits["letter"] = [hit for hit in marked.hits["side"] if hit[1] - hit[0] == 1 and hit[0] in letters]


_TALK = ("also", "and", "lead", "correction", "rejection", "comparison", "fine", "change", "degree", "discomfort")


def _mark_talk(marked: Marked, lexicon: Lexicon, plain: str) -> None:
    hidden = ("person", "lift", "moment", "side")
    marked.hits["kind"] = _find(marked, lexicon.kind, *hidden)
    severities = _find(marked, lexicon.severity, *hidden, "site")
    marked.hits["severity"] = [hit for hit in severities if marked.words[hit[0] : hit[1]] != ["n"]]  # "n/a"
    denied = _find(marked, lexicon.negation, "person", "moment")
    # Swedish "om" (if) and Danish "øm" (sore) fold to the same word.
    is_sore = "øm" in plain.casefold()
    denied = [hit for hit in denied if not (is_sore and marked.words[hit[0] : hit[1]] == ["om"])]
    denied = [hit for hit in denied if not _is_in_the(marked, hit[0], lexicon)]
    for role in ("not", "pain free", "not now"):
        marked.hits[role] = [hit for hit in denied if hit[2] == role]
    for role in _TALK:
        marked.hits[role] = _find(marked, lexicon.talk[role], "person", "lift", "site", "letter")


def _is_in_the(marked: Marked, start: int, lexicon: Lexicon) -> bool:
    """Portuguese "no" before a site is "in the", and denies nothing: the site is named so in Portuguese alone, or
    the pain is ("dor no bíceps")."""
    behind = next((" ".join(marked.words[a:b]) for a, b, _ in marked.hits["site"] if a == start + 1), "")
    languages = lexicon.site.languages.get(behind, set())
    felt = (lexicon.kind.languages.get(" ".join(marked.words[a:b])) for a, b, _ in marked.hits["kind"])
    is_portuguese = languages == {"pt"} or ("pt" in languages and any(told == {"pt"} for told in felt))
    return marked.words[start] == "no" and is_portuguese


def _mark_cuts(marked: Marked, plain: str, is_asked: bool) -> None:
    """Where sentences end, where commas stand, and where a stroke, a dash or an "and" may part two ratings."""
    inside = [(marked.spans[value.first][0], marked.spans[value.last - 1][1]) for value in marked.values]
    said = [hit for role in ("severity", "fine", "not", "pain free") for hit in marked.hits[role]]
    told = inside + [(marked.spans[a][0], marked.spans[b - 1][1]) for a, b, _ in said]

    def cut(start: int, end: int, kind: str) -> None:
        if any(a < end and start < b for a, b in inside):
            return
        index = next((i for i, (a, _) in enumerate(marked.spans) if a >= end), None)
        if index:
            known = marked.cuts.get(index)
            marked.cuts[index] = kind if known is None or kind == "stop" or known == "soft" else known

    for found in _STOP.finditer(plain):
        is_short = is_asked and not any(a < found.start() for a, _ in told)  # "vorh. 3"
        if not (found[0] == "." and (is_short or _goes_on(plain, found.start(), found.end()))):
            cut(found.start(), found.end(), "stop")
    for found in re.finditer(r",(?!\d)|(?<!\d),", plain):
        cut(found.start(), found.end(), "comma")
    for found in _SOFT.finditer(plain):
        cut(found.start(), found.end(), "soft")
    for start, end, _ in marked.hits["and"]:
        cut(marked.spans[start][0], marked.spans[end - 1][1], "soft")


def _goes_on(plain: str, start: int, end: int) -> bool:
    """Whether a full stop belongs to a short form ("hø. skulder", "next a.m. R elbow")."""
    behind = plain[end:].lstrip()[:1]
    if re.search(r"\b[ap]\.?m$", plain[:start], re.I) or re.match(r"[ap]\.?m\b", plain[end:], re.I):
        return True
    is_short = _ABBREVIATED.search(plain[:start]) is not None
    return is_short and (behind.islower() or behind.isdecimal() or re.match(r"\s*[A-Z]\s", plain[end:]) is not None)
