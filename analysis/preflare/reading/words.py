"""Written words to canonical words: exercises with what is said beside them, bars, grips, sites, moments, severity.

Every decision is recorded once a sheet in a ChoiceBook, so that the user sees what each word was taken for.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Literal, cast

from preflare.reading.lexicon import Lexicon, Phrases
from preflare.reading.lift_names import (
    by_beginnings,
    by_letters,
    cut_words,
    part_words,
    stem,
    stemmed,
    the_one_lift,
)
from preflare.reading.rows import Bar, BarPosition, Choice, GripWidth
from preflare.reading.text import fold, words_of

Kind = Literal["exercise", "bar", "bar position", "grip", "site", "person", "column", "moment", "severity"]
GearColumn = Literal["bar", "position", "grip"]
How = Literal["exact", "vocabulary", "season.toml", "unambiguous", "assumed", "not known"]


@dataclass(slots=True)
class ChoiceBook:
    """What each written word was taken for, counted by file and sheet."""

    seen: dict[tuple[str, str, Kind, str], list[object]] = field(default_factory=dict)

    def note(
        self, file: str, sheet: str, kind: Kind, written: str, understood: str | None, how: How, nearest: str | None
    ) -> None:
        """Count one use of a word. The first decision about a word in a sheet stands."""
        entry = self.seen.setdefault((file, sheet, kind, written), [understood, how, nearest, 0])
        entry[3] = cast(int, entry[3]) + 1

    def choices(self) -> list[Choice]:
        """The decisions in reading order."""
        return [
            Choice(
                file,
                sheet,
                kind,
                written,
                cast("str | None", entry[0]),
                cast(How, entry[1]),
                cast("str | None", entry[2]),
                cast(int, entry[3]),
            )
            for (file, sheet, kind, written), entry in self.seen.items()
        ]


@dataclass(frozen=True, slots=True)
class Gear:
    """Bar, its place and the grip, as far as words said so."""

    bar: Bar | None = None
    bar_written: str | None = None
    position: BarPosition | None = None
    width: GripWidth | None = None
    style: str | None = None
    grip_written: str | None = None

    def over(self, other: "Gear") -> "Gear":
        """This gear, with what it leaves open taken from `other`."""
        return Gear(
            self.bar or other.bar, self.bar_written or other.bar_written, self.position or other.position,
            self.width or other.width, self.style or other.style, self.grip_written or other.grip_written,
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Named:
    """An exercise as written: what it is, the gear named with it, and the words that nothing knew."""

    exercise: str
    gear: Gear
    how: How
    unknown: str
    nearest: str | None
    is_warm_up: bool = False  # "Squat w/u"
    is_several: bool = False  # two exercises are named, so that neither can be meant alone


# "Bíceps c/ barra", "row w/ straps", "curl m/ stang": "with" in short
_WITH = re.compile(r"(?<![^\W_])[cwm]/\s*(?=[^\W\d_])", re.I)
_BRACKETS = re.compile(r"[(\[][^()\[\]]*[)\]]")


_GEAR_KINDS = frozenset({"bar", "position", "width", "style"})
_SITES_OF_NO_LIFT = frozenset({"elbow", "wrist", "knee"})  # "front", "back" and "chest" tell lifts apart


@dataclass(slots=True)
class WordReader:
    """Reads single cells' words with one lexicon."""

    lexicon: Lexicon
    _mixed: Phrases = field(default_factory=Phrases)
    _merged: dict[tuple[str, ...], Phrases] = field(default_factory=dict)
    _exercises: dict[str, Named] = field(default_factory=dict)
    _gear: dict[tuple[str, str], tuple[Gear, str]] = field(default_factory=dict)
    _near: dict[str, str | None] = field(default_factory=dict)
    slips: set[str] = field(default_factory=set)  # cells of bars and grips in which a word was put right
    _known_words: frozenset[str] = frozenset()
    _stems: Phrases | None = None

    def __post_init__(self) -> None:
        order = (
            ("exercise", self.lexicon.exercise),
            *((kind, Phrases(table.letters)) for kind, table in self._gear_tables()),
            ("position", self.lexicon.position),
            ("modifier", self.lexicon.modifier),
            ("bar", self.lexicon.bar),
            ("width", self.lexicon.width),
            ("style", self.lexicon.style),
            ("part", _part_phrases()),
            ("modifier", _names_of_gear(self.lexicon)),
        )
        self._mixed = _merge(order)
        self._known_words = frozenset(word for phrase in self._mixed.known for word in phrase.split())

    def _gear_tables(self) -> tuple[tuple[str, Phrases], ...]:
        """The tables whose letters a legend may have explained: they hold beside a lift as well ("squat n")."""
        lexicon = self.lexicon
        return (("position", lexicon.position), ("bar", lexicon.bar), ("width", lexicon.width))

    def exercise(self, written: str) -> Named:
        """The exercise that `written` names, with bar, position and grip named in the same cell."""
        if written not in self._exercises:
            found = self._read_exercise(written)
            if found.exercise == "unknown" and (outside := self._outside_brackets(written)) is not None:
                beside = self._read_exercise(outside)
                found = replace(beside, how="assumed") if beside.exercise != "unknown" else found
            if (bare := self._without_warm_up(written)) is not None:
                plain = self._read_exercise(bare) if found.exercise == "unknown" else found
                found = replace(plain if plain.exercise != "unknown" else found, is_warm_up=plain.exercise != "unknown")
            self._exercises[written] = found
        return self._exercises[written]

    def _outside_brackets(self, written: str) -> str | None:
        """ "DB row (each arm)" without its brackets, where none of their words may tell another lift; else None.

        Words for since when and why count for nothing: "Squat (safety bar since 10 Oct.)" keeps what names a bar.
        """
        inside = [word for group in _BRACKETS.findall(written) for word in words_of(group)]
        outside = _BRACKETS.sub(" ", written).strip()
        if not inside or not outside:
            return None
        left = [word for word in inside if not self._is_when_or_why(word)]
        if len(left) == len(inside) or not set(left) & self._known_words:
            return None if set(left) & self._known_words else outside
        hits = list(self._mixed.find(left))
        is_gear = all(hit.split(":", 1)[0] in _GEAR_KINDS for _, _, hit in hits) and bool(hits)
        return " ".join([outside, *left]) if is_gear and sum(b - a for a, b, _ in hits) == len(left) else None

    def _is_when_or_why(self, word: str) -> bool:
        """Whether a word beside a lift tells a day, since when, or the place that hurts."""
        lexicon = self.lexicon
        is_day = word.isdecimal() or bool(lexicon.month.exact(word) or lexicon.weekday.exact(word))
        return is_day or lexicon.sheet_word(word, "since") or lexicon.site.known.get(word) in _SITES_OF_NO_LIFT

    def _without_warm_up(self, written: str) -> str | None:
        """The words of an exercise without those for a warm-up; None when there are none, or nothing else."""
        words = words_of(written)
        hits = [(start, end) for start, end, hit in self.lexicon.work.find(words) if hit == "warm_up"]
        taken = {i for start, end in hits if len("".join(words[start:end])) > 1 for i in range(start, end)}
        left = [word for i, word in enumerate(words) if i not in taken]
        return " ".join(left) if taken and left else None

    def _read_exercise(self, written: str) -> Named:
        written = _WITH.sub(" ", self.lexicon.rewritten(written))
        whole = self.lexicon.exercise.exact(written)
        if whole:
            return Named(
                whole,
                Gear(),
                "season.toml" if fold(written) in self.lexicon.exercise.taught else "vocabulary",
                "",
                None,
            )
        may_be_name = may_be_a_name_alone(written)
        words, is_repaired = self._repaired(words_of(written)) if not may_be_name else (words_of(written), False)
        named = self._put_together(written, words, self._mixed, is_repaired)
        if may_be_name:
            return named
        if named.exercise == "unknown" and (slip := self._slipped(words)) is not None:
            return Named(slip, Gear(), "assumed", "", None)
        if named.exercise == "unknown" and (short := self._cut_short(written)) is not None:
            return Named(short, named.gear, "assumed", "", None)
        if named.exercise == "unknown" and not named.is_several:
            if self._stems is None:
                self._stems = stemmed(self._mixed)
            stems = [stem(word) for word in words]
            if len(words) == 1 and len(words[0]) - len(stems[0]) > 1 and len(stems[0]) < _LEAST_LETTERS_ALONE:
                return named  # "Markus" is no form of "mark"
            bent = self._put_together(written, stems, self._stems, True)
            return bent if bent.exercise != "unknown" else named
        return named

    def _cut_short(self, written: str) -> str | None:
        """The exercise whose name is written in beginnings of words or in letters with dots."""
        words = words_of(written)
        phrases = self.lexicon.exercise
        return by_letters(words, phrases) or by_beginnings(words, phrases, cut_words(written))

    def _put_together(self, written: str, words: list[str], table: Phrases, is_assumed: bool) -> Named:
        """The exercise and the gear that the phrases of `table` find in the words."""
        found: dict[str, str] = {}
        lifts: list[tuple[str, str]] = []
        covered = [False] * len(words)
        for start, end, hit in table.find(words):
            kind, canonical = hit.split(":", 1)
            found.setdefault(kind, canonical)
            if kind == "exercise":
                lifts.append((" ".join(words[start:end]), canonical))
            covered[start:end] = [True] * (end - start)
        gear = Gear(
            cast("Bar | None", found.get("bar")),
            written if "bar" in found else None,
            cast("BarPosition | None", found.get("position")),
            cast("GripWidth | None", found.get("width")),
            found.get("style"),
            written if "width" in found or "style" in found else None,
        )
        unknown = " ".join(w for w, is_known in zip(words, covered, strict=True) if not is_known and not w.isdecimal())
        exercise = the_one_lift(lifts, written, words, found.get("width")) if lifts else None
        if lifts and exercise is None:
            return Named("unknown", Gear(), "not known", unknown, lifts[0][1], is_several=True)
        if exercise is None and found.get("bar") in {"safety", "cambered"} and not unknown:
            return Named("back squat", gear, "assumed", "", None)  # "SSB" alone: these are squat bars
        if exercise is None and "position" in found and not unknown and len(words) > 1:
            return Named("back squat", gear, "assumed", "", None)  # "low bar" alone: so a bar lies on the back
        if exercise is None or unknown:
            return Named("unknown", Gear(), "not known", unknown, exercise or self.lexicon.exercise.nearest(written))
        return Named(exercise, gear, "assumed" if is_assumed else "vocabulary", "", None)

    def _repaired(self, words: list[str]) -> tuple[list[str], bool]:
        """The words with each unknown one that is a slip or a beginning of one known word put right; whether any was.

        The stated risk: one letter more, less, changed or two turned, in a word of five letters or more, and only where
        every word that near means the same.
        """
        fixed = [_PLACES_BESIDE_A_LIFT.get(word, word) if i else word for i, word in enumerate(words)]
        fixed = [w if w in self._known_words or len(w) < 3 or w.isdecimal() else self._near_word(w) or w for w in fixed]
        if len(words) == 1 and len(fixed[0]) < _LEAST_LETTERS_ALONE:
            fixed = words  # "Marek" is no slip of "mark"
        return fixed, any(a != b and a not in _PLACES_BESIDE_A_LIFT for a, b in zip(words, fixed, strict=True))

    def _slipped(self, words: list[str]) -> str | None:
        """The exercise whose name has these words but for a slip in one of them: "panca paina" for "panca piana"."""
        from rapidfuzz.distance import OSA

        strange = [i for i, word in enumerate(words) if word not in self._known_words]
        if len(words) < 2 or len(strange) != 1 or len(words[strange[0]]) < 5:
            return None
        at, word = strange[0], words[strange[0]]
        names = (phrase.split() for phrase in self.lexicon.exercise.known if phrase.count(" ") == len(words) - 1)
        alike = [name for name in names if name[:at] == words[:at] and name[at + 1 :] == words[at + 1 :]]
        near = [name for name in alike if OSA.distance(word, name[at], score_cutoff=1) == 1]
        near = [name for name in near if sorted(name[at]) == sorted(word)] or near
        lifts = {self.lexicon.exercise.known[" ".join(name)] for name in near}
        return lifts.pop() if len(lifts) == 1 else None

    def _near_word(self, word: str) -> str | None:
        if word not in self._near:
            self._near[word] = nearest_word(word, self._mixed)
        return self._near[word]

    def gear(self, written: str, column: GearColumn) -> tuple[Gear, str]:
        """(gear, words that nothing knew) of a cell in a bar, position or grip column."""
        key = (written, column)
        if key not in self._gear:
            self._gear[key] = self._read_gear(written, column)
        return self._gear[key]

    def _bar_of_kind(self, written: str) -> str | None:
        """The bar that one word names beside the word for a bar: "direita" in a column of bars is "barra direita"."""
        if len(words_of(written)) != 1 or fold(written) in self.lexicon.bar.letters:
            return None
        whole = [phrase for bar in _BAR_WORDS for phrase in (f"{bar} {written}", f"{written} {bar}")]
        named = {hit for phrase in whole if (hit := self.lexicon.bar.exact(phrase)) is not None}
        return named.pop() if len(named) == 1 else None

    def _read_gear(self, written: str, column: str) -> tuple[Gear, str]:
        order = {"bar": ("bar", "position", "width", "style"), "position": ("position", "bar", "width", "style"),
                 "grip": ("width", "style", "position", "bar")}[column]  # fmt: skip
        tables: dict[str, Phrases] = {
            "bar": self.lexicon.bar,
            "position": self.lexicon.position,
            "width": self.lexicon.width,
            "style": self.lexicon.style,
        }
        found: dict[str, str] = {}
        is_told = fold(written) in tables[order[0]].letters
        short = _SHORT_POSITIONS.get(fold(written)) if column == "position" and not is_told else None
        if whole := short or tables[order[0]].exact(written) or (column == "bar" and self._bar_of_kind(written)):
            found[order[0]] = whole
            unknown = ""
        else:
            if order not in self._merged:
                self._merged[order] = _merge([(kind, tables[kind]) for kind in order], with_letters=True)
            mixed = self._merged[order]
            words = [_PLACES_IN_GEAR.get(word, word) for word in words_of(written)]
            fixed = [w if w in mixed.known or len(w) < 3 else nearest_word(w, mixed) or w for w in words]
            if fixed != words:
                self.slips.add(written)
            words = fixed
            covered: set[int] = set()
            for start, end, hit in mixed.find(words):
                kind, canonical = hit.split(":", 1)
                found.setdefault(kind, canonical)
                covered |= set(range(start, end))
            left = [w for i, w in enumerate(words) if i not in covered and w not in self.lexicon.modifier.known]
            unknown = " ".join(left)
        is_grip = column == "grip" or "width" in found or "style" in found
        return Gear(
            cast("Bar | None", found.get("bar")),
            written if column == "bar" or "bar" in found else None,
            cast("BarPosition | None", found.get("position")),
            cast("GripWidth | None", found.get("width")),
            found.get("style"),
            written if is_grip else None,
        ), unknown


# Words for the bar itself, which the heading of a column of bars says and its cells leave out.
_BAR_WORDS = ("bar", "stange", "hantel", "barre", "barra", "bilanciere", "stang", "halter", "gryf", "sztanga", "stång")


_LEAST_LETTERS_ALONE = 5


def may_be_a_name_alone(written: str) -> bool:
    """Whether a text is one word of three or four letters without a dot: "Bram", "Fen". By its beginning or stem it
    could be a lift, and a person just as well; it is a lift only where the vocabulary has it so."""
    text = written.strip()
    return text.isalpha() and 2 < len(text) < _LEAST_LETTERS_ALONE


# Letters that mean a place of the bar only in a column of such places: high, alta, wysoko; low, bassa, tief, nisko.
_SHORT_POSITIONS = {"hb": "high", "lb": "low", "h": "high", "a": "high", "w": "high"} | dict.fromkeys("lbtn", "low")


_PLACES_BESIDE_A_LIFT = {"lb": "low", "hb": "high"}  # beside words, where no load stands, these are no pounds
_PLACES_IN_GEAR = {**_PLACES_BESIDE_A_LIFT, "hi": "high", "lo": "low"}  # "lo" is an article elsewhere


def nearest_word(word: str, phrases: Phrases) -> str | None:
    """The known single word that `word` is a slip of, or the beginning of; None when it may be two things."""
    from rapidfuzz.distance import OSA

    singles = {phrase: hit for phrase, hit in phrases.known.items() if " " not in phrase}
    if len(word) >= 5:
        near = [phrase for phrase in singles if abs(len(phrase) - len(word)) <= 1 and OSA.distance(word, phrase) == 1]
        near = [phrase for phrase in near if sorted(phrase) == sorted(word)] or near  # "sqaut": two letters turned
        if near and len({singles[phrase] for phrase in near}) == 1:
            return near[0]
    begun = [phrase for phrase in singles if len(word) >= 4 and phrase.startswith(word) and len(phrase) > len(word)]
    return begun[0] if begun and len({singles[phrase] for phrase in begun}) == 1 else None


def _part_phrases() -> Phrases:
    phrases = Phrases()
    phrases.add("part", part_words())
    return phrases


def _names_of_gear(lexicon: Lexicon) -> Phrases:
    """The words that name bar, grip and the bar's place; beside a lift they change nothing ("squat, pos. low")."""
    names = Phrases()
    for phrase, roles in lexicon.headings_of.items():
        if {"bar", "grip", "bar_position"} & set(roles):
            names.add("modifier", [phrase])
    return names


def _merge(tables: Iterable[tuple[str, Phrases]], with_letters: bool = False) -> Phrases:
    """One table whose canonical words carry their subject ("bar:safety"); earlier tables win."""
    merged = Phrases()
    for kind, phrases in tables:
        for phrase, canonical in {**phrases.known, **(phrases.letters if with_letters else {})}.items():
            merged.known.setdefault(phrase, f"{kind}:{canonical}")
        merged.longest = max(merged.longest, phrases.longest)
    return merged
