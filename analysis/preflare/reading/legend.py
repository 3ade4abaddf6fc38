"""What a file explains of itself, as one record, and the vocabulary of that file: its own words above the general ones.

What a legend says holds for its file, for the other files of its folder where a file of its own explains them, and
nowhere else. Everything taken from it is said, with its words.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields

from preflare.reading.legend_blanks import blank_load_as_above, blank_reps_not_done, brackets_not_done
from preflare.reading.legend_corrections import corrections_in, rewrites_of_corrections
from preflare.reading.legend_firsts import FirstSets, first_sets
from preflare.reading.legend_habits import (
    AS_LAST,
    Bare,
    Default,
    bare_bars,
    defaults_of,
)
from preflare.reading.legend_lines import Line
from preflare.reading.legend_loads import WarmUpReps, unit_of_lines, warm_up_in_brackets, without_bar
from preflare.reading.legend_meanings import Term, Unclear
from preflare.reading.legend_pain import PainHabit, pain_habit
from preflare.reading.legend_sides import UsualSide, usual_sides
from preflare.reading.legend_strokes import BEFORE_STROKE, strokes_in
from preflare.reading.legend_terms import terms_of
from preflare.reading.lexicon import Lexicon, Phrases
from preflare.reading.marks import marks_in
from preflare.reading.text import fold, words_of
from preflare.reading.words import Gear, WordReader

_PERSON = re.compile(
    r"(?<![^\W\d_])(?P<name>[A-ZÀ-Þ][^\W\d_]+(?:[ -][A-ZÀ-Þ][^\W\d_]+){1,2})\s*\(\s*(?P<letter>[A-ZÀ-Þ]{1,3})\s*[,;)]"
)
_TABLES = ("exercise", "bar", "width", "style", "position", "side", "site", "moment", "severity", "work")
_WORDS_OF_THEIR_OWN = frozenset({"e", "y", "a", "o", "i", "w", "z", "u"})  # "and", "in", "with": no letters for sides
_GEAR = frozenset({"bar", "position", "width", "style"})
_SMALL_WORDS = frozenset({"at", "of", "part"})
_SHOWN = {
    "same": "the same as above", "missing": "nothing recorded", "rest": "not there", "as_planned": "done as planned",
    "reserve": "repetitions in reserve", "warm_up": "warm-up", "bodyweight": "body weight", "reps": "repetitions",
    "wide": "wide grip", "medium": "medium grip", "narrow": "narrow grip", "high": "high bar", "low": "low bar",
    "straight": "straight bar", "safety": "safety bar", "cambered": "cambered bar", "lb": "pounds", "kg": "kilograms",
    BEFORE_STROKE: "warm-ups before it", "corrected": "a correction, of which the second holds",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Legend:
    """Everything that the lines of a file explain."""

    lines: tuple[Line, ...] = ()
    terms: tuple[Term, ...] = ()
    unclear: tuple[Unclear, ...] = ()
    people: tuple[tuple[str, str], ...] = ()  # letter -> name
    defaults: tuple[Default, ...] = ()
    bare: tuple[Bare, ...] = ()
    unit: str | None = None
    unit_said: str = ""
    pain: PainHabit | None = None
    without_bar: str = ""  # the sentence by which loads leave the bar out
    warm_up_reps: WarmUpReps | None = None  # of loads in brackets
    shared_from: str = ""  # the file of the same series that explains this one
    blank_load: str = ""  # the sentence by which a blank load is that of the set above
    firsts: tuple[FirstSets, ...] = ()  # lifts whose first set is a warm-up
    sides: tuple[UsualSide, ...] = ()
    blank_reps: str = ""  # the sentence by which a set without repetitions was not done
    undone_brackets: str = ""  # the sentence by which sets in brackets were not done

    @property
    def is_carried(self) -> bool:
        """Whether something that is open is as it was the last time, so that rows are read one after another."""
        return bool(self.firsts) or any(one.value == AS_LAST for one in self.defaults)

    def sentences(self) -> list[str]:
        """What to tell the user was understood, one sentence a matter."""
        told = []
        if self.shared_from:
            told.append(f'The legend of "{self.shared_from}" was taken to hold for this file of the same series.')
        new = [term for term in self.terms if term.before is None]
        if new:
            told.append(f"From the legend: {'; '.join(f'{term.written} = {shown(term)}' for term in new)}.")
        told += [
            f'From the legend: "{term.written}" means {shown(term)} in this file, though it usually means '
            f"{_SHOWN.get(term.before or '', term.before)}."
            for term in self.terms
            if term.before is not None
        ]
        if self.unclear:
            signs = "; ".join(f'"{one.written}" ("{one.said}")' for one in self.unclear)
            told.append(f"The legend explains {signs}, which is not known; nothing was taken from it.")
        if self.unit is not None:
            told.append(f'From the legend ("{self.unit_said}"): loads without a unit are in {_SHOWN[self.unit]}.')
        if self.pain is not None:
            about = f"about the {self.pain.site}" if self.pain.site else ""
            when = _WHEN[self.pain.moment] if self.pain.moment else ""
            what = " and ".join(part for part in (about, when) if part)
            told.append(f'From the legend ("{self.pain.sentence}"): ratings that say nothing else are {what}.')
        return told


_WHEN = {
    "before": "from before the session", "during": "from during the session", "after": "from after the session",
    "next morning": "from the next morning",
}  # fmt: skip


def shown(term: Term) -> str:
    """A meaning as the user reads it."""
    gear = [part for part in (term.gear.bar, term.gear.position, term.gear.width, term.gear.style) if part]
    value = (
        term.value
        if term.kind in {"exercise", "side", "site"}
        else _SHOWN.get(term.value, term.value.replace("_", " "))
    )
    value = "repetitions in reserve" if term.kind == "reserve" else value
    return ", ".join([value, *(_SHOWN.get(part, part) for part in gear)])


def read_legend(lines: Sequence[Line], reader: WordReader, letters: dict[str, str]) -> Legend:
    """What lines explain. letters: signs that stand for people, and so for nothing else."""
    lexicon = reader.lexicon
    found = [
        one
        for line in lines
        for one in terms_of(line, reader)
        if line.is_sure or (isinstance(one, Term) and one.before is None)  # a remark turns no word that is known
    ]
    found += [*corrections_in(lines, lexicon), *strokes_in(lines, lexicon)]
    signs = {one.written for one in found if isinstance(one, Term)}
    letters = {letter: name for letter, name in letters.items() if letter not in signs}
    people = letters | people_in_brackets((line.text for line in lines if line.is_sure), lexicon)
    marks = marks_in([line.text for line in lines], lexicon)
    is_mark = {one.written for one in found if isinstance(one, Unclear) and one.written.casefold() in marks}
    found = [one for one in found if one.written not in people and one.written not in is_mark]
    found = [one for one in found if not (isinstance(one, Unclear) and one.written.isdecimal())]  # "3/5 = 3 of 5"
    terms, unclear = _settled([one for one in found if not _tells_of_body(one, reader.lexicon)])
    own_lexicon = lexicon_with(terms, people, lexicon)
    own = reader if own_lexicon is lexicon else WordReader(own_lexicon)
    names = frozenset(fold(letter) for letter in people) | frozenset(
        w for name in people.values() for w in words_of(name)
    )
    unit = unit_of_lines(lines, names)
    new = tuple(term for term in terms if not _is_usual(term, lexicon))
    return Legend(
        tuple(lines), new, tuple(unclear), tuple(people.items()), tuple(defaults_of(lines, own)),
        tuple(bare_bars(lines, own.lexicon)), unit[0] if unit else None, unit[1] if unit else "",
        pain_habit(lines, own.lexicon),
        without_bar(lines),
        warm_up_in_brackets(lines, own.lexicon),
        firsts=first_sets(lines, own.lexicon),
        sides=usual_sides(lines, own.lexicon),
        blank_load=blank_load_as_above(lines, own.lexicon),
        blank_reps=blank_reps_not_done(lines, own.lexicon),
        undone_brackets=brackets_not_done(lines, own.lexicon),
    )  # fmt: skip


def people_in_brackets(texts: Iterable[str], lexicon: Lexicon) -> dict[str, str]:
    """Letters in brackets behind full names: "Renzo Albarelli (R, che sono io) e Dario Tosetto (D)"."""
    found = {match["letter"]: match["name"] for text in texts for match in _PERSON.finditer(text)}
    known = {
        *lexicon.bar.known,
        *lexicon.work.known,
        *lexicon.exercise.known,
        *lexicon.width.known,
        *lexicon.headings_of,
    }
    return {letter: name for letter, name in found.items() if not {fold(name), *words_of(name)} & known}


def _tells_of_body(one: Term | Unclear, lexicon: Lexicon) -> bool:
    """Whether a sign for the weight of the body is explained with the lift that is done so: "BW: chin-ups at body
    weight"; it is no other word for that lift."""
    if not isinstance(one, Term) or one.kind != "exercise" or lexicon.work.exact(one.written) != "bodyweight":
        return False
    return any(hit == "bodyweight" for _, _, hit in lexicon.work.find(words_of(one.said)))


def _settled(found: list[Term | Unclear]) -> tuple[list[Term], list[Unclear]]:
    """The terms, each sign once for each kind of thing; a sign that two lines explain differently is unclear."""
    by_sign: dict[tuple[str, str], Term] = {}
    unclear: dict[str, Unclear] = {}
    for one in found:
        if isinstance(one, Unclear):
            unclear.setdefault(one.written, one)
            continue
        first = by_sign.setdefault((fold(one.written) or one.written, one.kind), one)
        if first.value != one.value:
            unclear.setdefault(one.written, Unclear(one.written, f"{first.said}; {one.said}"))
    known = {sign for sign, _ in by_sign}
    twice = {fold(sign) for sign, one in unclear.items() if ";" in one.said}
    lifts = {sign for sign, kind in by_sign if kind == "exercise"}  # "CH = chins", "CH is body weight": how it is done
    by_sign = {key: term for key, term in by_sign.items() if key[0] not in lifts or term.value != "bodyweight"}
    terms = [term for (sign, _), term in by_sign.items() if sign not in twice]
    return terms, [one for one in unclear.values() if fold(one.written) not in known or ";" in one.said]


def _is_usual(term: Term, lexicon: Lexicon) -> bool:
    """Whether the general vocabulary knows the sign so anyway, or a mark of one letter is read as such elsewhere."""
    sign = fold(term.written)
    if term.kind in _TABLES:
        if term.kind in {"work", "severity"} and len(sign) < 2:
            return True
        if term.kind in _GEAR and (lexicon.work.known.get(sign) in _SMALL_WORDS or sign in lexicon.modifier.known):
            return False  # "med" is "with" elsewhere
        table: Phrases = getattr(lexicon, term.kind)
        return table.exact(term.written) == term.value
    if term.kind == "heading":
        return term.value in lexicon.headings_of.get(sign, [])
    if term.kind in {"same", "missing", "rest", "as_planned"}:
        return not sign or lexicon.sheet_word(term.written, term.kind)
    if term.kind == "unit":
        return not sign or sign in {"kg", "lb", "lbs"}
    return term.kind == "reserve" and sign in {"rir", "buffer"}


def _has(gear: Gear) -> bool:
    return gear != Gear()


# The vocabulary of one file -----------------------------------------------------------------------------------------


def lexicon_with(terms: Sequence[Term], people: dict[str, str], lexicon: Lexicon) -> Lexicon:
    """A copy of the vocabulary with a legend's words above its own; the very same where there are none."""
    if not terms and not people:
        return lexicon
    own = lexicon.changed(headings_of=dict(lexicon.headings_of), own_words={}, rewrites=(), pain_rewrites=())
    for name in (*_TABLES, "heading", "modifier"):
        setattr(own, name, _copy(getattr(lexicon, name)))
    for letter in people:
        own.work.known.pop(fold(letter), None)  # "BW" may be somebody's initials
    for term in terms:
        _add(own, term)
    return own.changed()  # nothing that was read with half of the words


def _copy(phrases: Phrases) -> Phrases:
    kept = {field.name: getattr(phrases, field.name) for field in fields(phrases) if field.name != "_folded"}
    return Phrases(**kept | {"known": dict(phrases.known), "letters": dict(phrases.letters)})


def _add(lexicon: Lexicon, term: Term) -> None:
    """Let one sign mean what its legend says."""
    sign = fold(term.written)
    if term.kind in _GEAR:
        if lexicon.work.known.get(sign) in _SMALL_WORDS:
            del lexicon.work.known[sign]
        lexicon.modifier.known.pop(sign, None)
        _add_gear(getattr(lexicon, term.kind), sign, term.value)
        lexicon.exercise.known.pop(sign, None)  # elsewhere "BD" may be a lift
    elif term.kind == "exercise":
        _add_exercise(lexicon, term, sign)
    elif term.kind in {"side", "site", "severity", "moment", "work"}:
        is_letter = len(sign) < 2
        if is_letter and term.kind == "moment" and sign.isalpha():
            lexicon.pain_rewrites += _moment_beside_ratings(term.written.strip(), term.value)
        if sign and not (is_letter and (term.kind != "side" or sign in _WORDS_OF_THEIR_OWN)):
            _put(getattr(lexicon, term.kind), sign, term.value)
        if term.kind == "work" and term.value == "bodyweight" and sign == "kg":
            lexicon.rewrites += ((re.compile(r"(?<![\d.,\s])(\s*)\bKG\b"), r"\1BW"),)
    elif term.kind == "reserve":
        _add_reserve(lexicon, term.written)
    elif term.kind == BEFORE_STROKE:
        lexicon.own_words[BEFORE_STROKE] = frozenset({term.written})
    elif term.kind == "correction":
        lexicon.rewrites += rewrites_of_corrections()
    elif term.kind == "unit" and len(sign) > 1:
        lexicon.rewrites += ((re.compile(rf"(?<=\d)\s*{re.escape(term.written)}(?![^\W_])", re.I), f" {term.value}"),)
    elif term.kind in {"same", "missing", "rest", "as_planned"} and sign:
        lexicon.own_words[term.kind] = lexicon.own_words.get(term.kind, frozenset()) | {sign}
    elif term.kind in {"heading", "pain"} and sign:
        role = "pain" if term.kind == "pain" else term.value
        lexicon.headings_of[sign] = [role, *(one for one in lexicon.headings_of.get(sign, []) if one != role)]
        if len(sign) > 1:
            lexicon.heading.known[sign] = role
        if term.kind == "pain":
            _put(lexicon.site, sign, term.value)


def _moment_beside_ratings(letter: str, moment: str) -> tuple[tuple[re.Pattern[str], str], ...]:
    """ "v1 n2", "1v 2n": a letter for a moment right before ratings, or close behind them, written out before them."""
    plain = moment if " " in moment else f"{moment} training"
    before = re.compile(rf"(?<![^\W_]){re.escape(letter)}[ :=]{{0,2}}(?=\d)")
    behind = re.compile(rf"(?<![\w.,/-])(\d{{1,2}}(?:[.,]5)?(?:\s?[-–]\s?\d{{1,2}})?){re.escape(letter)}(?![^\W_])")
    return (before, f"{plain} "), (behind, rf"{plain} \1")


def _put(phrases: Phrases, sign: str, value: str) -> None:
    phrases.known[sign] = value
    phrases.longest = max(phrases.longest, sign.count(" ") + 1)


def _add_gear(phrases: Phrases, sign: str, value: str) -> None:
    """A letter for gear holds in columns of its kind; a longer word wherever gear may be written."""
    if len(sign) < 2:
        phrases.letters[sign] = value
    elif sign:
        _put(phrases, sign, value)
        phrases.from_legend |= {sign}


def _add_exercise(lexicon: Lexicon, term: Term, sign: str) -> None:
    """A sign for an exercise; one that stands for a bar or place of the bar as well is written out where it is met."""
    if not sign or len(sign) < 2:
        return
    for name in ("weekday", "month"):  # "dom" may be Sunday elsewhere
        if sign in (table := getattr(lexicon, name)).known:
            own = _copy(table)
            del own.known[sign]
            setattr(lexicon, name, own)
    if _has(term.gear):
        lexicon.rewrites += ((re.compile(rf"(?<![^\W_]){re.escape(term.written)}(?![^\W_])"), term.said),)
    else:
        _put(lexicon.exercise, sign, term.value)


def _add_reserve(lexicon: Lexicon, written: str) -> None:
    """ "b2" or "b" for repetitions in reserve, "@" for them too: the number behind the sign is theirs.

    A longer sign may head a column of them.
    """
    if len(heading := fold(written)) > 1 and heading.isalpha() and "rir" not in lexicon.headings_of.get(heading, []):
        lexicon.headings_of[heading] = ["rir", *lexicon.headings_of.get(heading, [])]
        lexicon.heading.known[heading] = "rir"
    sign = re.escape(re.sub(r"[\d\s.]+$", "", written))
    if sign:
        edge = r"(?<![^\W_])" if sign[0].isalpha() else ""
        pattern = re.compile(rf"{edge}{sign}\s?(\d(?:[.,]5)?)(?![\d.,]*\s*[x×])(?![^\W_])", re.I)
        lexicon.rewrites += ((pattern, r" RIR \1"),)
