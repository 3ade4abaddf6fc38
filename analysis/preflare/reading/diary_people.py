"""Whose a line of a diary is, and whose each part of a line: letters of a legend, names before a colon, the writer."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from preflare.reading.companions import companions
from preflare.reading.context import SheetContext
from preflare.reading.diary_lines import has_sets, without_bullet
from preflare.reading.diary_words import begins_with, says
from preflare.reading.owners import may_be_person
from preflare.reading.text import fold, words_of

_GIVEN = r"[A-ZÀ-ÞŁŚŻŹĆĄĘ][^\W\d_]+(?:-[A-ZÀ-Þ][^\W\d_]+)?"
_NAME_ALONE = re.compile(rf"[\W_]*(?P<name>{_GIVEN}(?:\s{_GIVEN}|\s[A-ZÀ-Þ]\.?)?)\s*[:\W_]*")
_CLAUSE_BEFORE = re.compile(r"(?:^|[.;,:(/|!–—-]|\b(?:and|und|et|y|e|en|i|og|och)\s)\s*$", re.I)
_OF_BEFORE = re.compile(r"(?<![^\W_])(?:of|von|bei|de|du|di|da|do|van|bij|u|hos|til|av|af|à|per)\s+$|d['’]$", re.I)
_WITH_BEFORE = re.compile(
    r"(?<![^\W_])(?:with|w/|mit|avec|con|com|met|samen met|z|ze|med|sammen med|tillsammans med)\s+$", re.I
)
_AND = re.compile(r"[\s,;:/&+.-]*(?:(?:and|und|et|y|e|en|i|og|och)[\s,;:/&+.-]*)?", re.I)
_LETTER_IS = re.compile(r"(?<![^\W_])(?P<letter>[A-ZÀ-Þ]{1,2})\s*(?:=|:|[-–—])\s*(?P<said>[^,;.()=]+)")
_EDGES = " \t,;/&.–—-:"
_LEAST_OF_GROUP = 2  # people who stand so, among whom a name that stands so once is another
_LEAST_ALONE = 2  # times that a name nobody knows stands in a line of its own before it is one


@dataclass(frozen=True, slots=True)
class People:
    """named: as written in lines -> the person's name. owner: the writer, where known. others: whether lines of other
    people than the writer are to be expected."""

    named: dict[str, str]
    owner: str | None
    letters_of_owner: set[str] = field(default_factory=set)  # in lines of their own: "R wrist 2" is a right one

    def pattern(self) -> re.Pattern[str] | None:
        """Finds a person in a text: a letter or a name, with a colon or 's behind it."""
        if not self.named:
            return None
        any_name = "|".join(sorted(map(re.escape, self.named), key=len, reverse=True))
        return re.compile(rf"(?<![^\W_’'-])(?P<name>{any_name})(?![^\W_])(?P<mark>\s*:|['’]s(?=\s)|\.(?=\s))?")


def people_in(context: SheetContext, lines: Sequence[str], n_titles: int) -> People:
    """Everybody whom a diary's lines speak of."""
    known = [name for athlete in context.settings.athlete for name in (athlete.name, *athlete.aliases)]
    roster = [*context.out.roster, *known, *context.letters.values()]
    plain = [without_bullet(line) for line in lines[n_titles:]]
    told = [*lines[:n_titles], *(line.text for line in context.legend.lines if line.is_sure)]
    named = dict(context.letters)
    named |= {name.split()[0]: name for name in context.letters.values()}
    named |= {name: name for name in companions(plain, roster, context.lexicon)}
    named |= {name: name for name in _names_alone(plain, roster, _names_told(told, context), context)}
    named |= {name: name for name in _of_titles(told, plain, context)}
    owner = context.person if not context.is_unnamed else _writer(context, lines[:n_titles])
    if owner in context.letters.values() and len(set(context.letters.values())) > 1:
        owner = _writer(context, lines[:n_titles])  # a list of people names no writer
    if owner is not None and len({name for name in named if set(fold(name).split()) <= set(fold(owner).split())}) > 1:
        owner = None  # "Ada e Bo" are two people
    if owner is not None:
        named |= {owner: owner, owner.split()[0]: owner}
    if owner is None and len(set(named.values())) < 1:
        owner = context.person  # one person whom nothing names
    return People(named, owner, _letters_of_writer(told) - set(named) if owner is not None else set())


def _writer(context: SheetContext, titles: Iterable[str]) -> str | None:
    """The person beside whose letter a title says "me": "Renzo Albarelli (R, che sono io)", "R = me (Renzo)"."""
    for title in titles:
        for letter, name in context.letters.items():
            inside = re.search(rf"\(\s*{re.escape(letter)}\s*[,;]\s*([^()]*)\)", title)
            if inside and says("me", inside[1]):
                context.assume(f'"{title.strip()}" says that {name} writes this diary.')
                return name
    return None


def _letters_of_writer(told: Iterable[str]) -> set[str]:
    """The letters that a title or legend says to be "me": "R = me, N = Nomsa", "K: ich"."""
    found = (match for line in told for match in _LETTER_IS.finditer(line))
    return {one["letter"] for one in found if begins_with("me", one["said"]) == len(words_of(one["said"])) > 0}


def _names_told(titles: Iterable[str], context: SheetContext) -> set[str]:
    """The words in title lines that may be somebody's name."""
    found = {match[0] for title in titles for match in re.finditer(_GIVEN, title)}
    explained = {one.written for one in context.legend.terms}  # "LR" is a lift
    explained |= {one.written for one in context.legend.unclear}
    return {word for word in found - explained if may_be_person([word], context.lexicon)}


def _of_titles(titles: Iterable[str], lines: Sequence[str], context: SheetContext) -> set[str]:
    """The names in title lines with which lines begin: before a colon, or before sets."""
    told = _names_told(titles, context)
    begins = (re.match(rf"(?P<name>{_GIVEN})(?:\s*:|\s+[-–—]\s|\s)(?P<rest>.*)", line) for line in lines)
    return {match["name"] for match in begins if match and match["name"] in told and has_sets(match["rest"])}


def _names_alone(lines: Sequence[str], roster: Iterable[str], told: set[str], context: SheetContext) -> set[str]:
    """Names that stand in a line of their own above sets: known ones, or two capitalised unknown words, or one that
    does so more than once, or once among two such. told: words in title lines that may be names: enough once."""
    known = {part for name in roster for part in fold(name).split()}
    filled = [line for line in lines if line.strip()]
    counts: dict[str, int] = {}
    for line, below in zip(filled, [*filled[1:], ""], strict=True):
        match = _NAME_ALONE.fullmatch(line)
        if match is None or not may_be_person(match["name"].replace(".", " ").split(), context.lexicon):
            continue
        if context.words.exercise(match["name"]).how != "not known" or not (has_sets(below) or below == ""):
            named = context.words.exercise(re.split(r"[:,(]", below)[0])
            if named.how == "not known":
                continue
        counts[match["name"]] = counts.get(match["name"], 0) + 1
    sure = {name for name, n in counts.items() if n >= _LEAST_ALONE or name in told or set(fold(name).split()) & known}
    return set(counts) if len(sure) >= _LEAST_OF_GROUP else sure


def name_alone(text: str, people: People) -> str | None:
    """The person whom a line names and nothing else ("Anna", "== Bo ==", "R:")."""
    bare = text.strip(" =#*_~|-–—:\t.")
    return people.owner if bare in people.letters_of_owner else people.named.get(bare)


def head_of_person(text: str, people: People) -> tuple[str, str] | None:
    """(person, rest) of a line that begins with a person and a colon or dash: "R: risc 60x5", "Anna - 60x5"."""
    pattern = people.pattern()
    match = pattern.match(text) if pattern else None
    if match is None:
        return None
    rest = text[match.end() :]
    is_led = (match["mark"] or "").strip() in {":", "."} or re.match(r"\s*[-–—]\s|\s*$|\s*\(", rest)
    is_before_sets = re.match(r"\s+\S*\d", rest) or (len(match["name"]) > 1 and has_sets(rest))
    if not is_led and not is_before_sets and not begins_with("same_as", rest):
        return None
    return people.named[match["name"]], rest.strip(" \t:–—-")


def shares(text: str, people: People, is_work: bool = False) -> list[tuple[str | None, str]]:
    """(person, part) of a line; None: the writer's. What stands before the first person, as a place that hurts or a
    time, belongs to every part where it ends in a colon. In work only a name with a colon is a person: "85x4 F"."""
    pattern = people.pattern()
    found = [] if pattern is None else [one for one in pattern.finditer(text) if _is_mention(text, one, is_work)]
    if not found:
        return [(None, text)]
    whose = {people.named[one["name"]] for one in found}
    lead = text[: found[0].start()]
    if len(whose) == 1 and lead.strip(_EDGES) and not lead.rstrip().endswith(":"):
        return [(whose.pop(), _without(text, found))]
    ends = [one.start() for one in found[1:]] + [len(text)]
    parts = [(people.named[one["name"]], text[one.end() : end]) for one, end in zip(found, ends, strict=True)]
    shared: list[tuple[str | None, str]] = []
    for at, (person, part) in enumerate(parts):
        own = (
            part if _AND.fullmatch(part) is None else next((p for _, p in parts[at:] if _AND.fullmatch(p) is None), "")
        )
        shared.append((person, f"{lead.strip()} {own.strip(_EDGES)}".strip()))
    return shared


def _is_mention(text: str, match: re.Match[str], is_work: bool) -> bool:
    before = text[: match.start()]
    if _WITH_BEFORE.search(before):
        return False
    if is_work:
        return (match["mark"] or "").strip() == ":"
    return len(match["name"]) < 3 or bool(_CLAUSE_BEFORE.search(before) or _OF_BEFORE.search(before))


def _without(text: str, found: Sequence[re.Match[str]]) -> str:
    for one in reversed(found):
        text = f"{text[: one.start()]} {text[one.end() :]}"
    return re.sub(r"\s{2,}", " ", text).strip()
