"""Whole sentences of a legend: what holds where nothing is written, which unit loads have, how pain is asked.

"Back squat is straight bar, high bar, unless the Bar line says SSB"; "Rien d'écrit = BD"; "Charges en livres";
"Elbow = I ask at the end, 0-10". A sentence that leaves two answers open gives none.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import takewhile
from typing import Literal

from preflare.reading.legend_lines import Line, legend_words, says, says_as_last
from preflare.reading.legend_terms import sentences
from preflare.reading.lexicon import Lexicon, Phrases
from preflare.reading.text import fold, words_of
from preflare.reading.vocabulary import back_squats
from preflare.reading.words import WordReader

Part = Literal["bar", "position", "width"]
AS_LAST = "as the last time with that bar"
_MOSTLY = 0.75  # of a sentence's words
_PARTS: tuple[Part, ...] = ("bar", "position", "width")
_GEAR = frozenset({"bar", "grip", "bar_position"})
_ROLES: dict[str, Part] = {"bar": "bar", "bar_position": "position", "grip": "width"}
SIGN = re.compile(r"\s*(?:=|:|→|⇒)\s*")
_FULL_STOP = re.compile(r"(?<=[^\s.]{3})(?<!incl)(?<!inkl)(?<!excl)\.\s+(?=[A-ZÀ-Þ«\"“])")


@dataclass(frozen=True, slots=True)
class Default:
    """What a back squat has where its own row says nothing of it. value: canonical, or AS_LAST. also_front: for front
    squats as well, which a sentence about bars may name. sentence: as written."""

    part: Part
    value: str
    sentence: str
    also_front: bool = False
    bar: str | None = None  # it holds with this bar alone
    lift: str | None = None  # the one lift that it is about, where that is no squat on the back
    is_title: bool = False  # a title over one sheet says so
    names_front: bool = False  # the sentence names the front squat beside the back squat, so its grip is meant too
    any_lift: bool = False  # as the last time of whichever lift it is: the line names none

    def told(self) -> str:
        """The assumption, as the user reads it."""
        part = {"bar": "bar", "position": "place of the bar", "width": "grip"}[self.part]
        is_of_front = self.also_front if self.part == "bar" else self.names_front and self.part == "width"
        lifts = "a squat" if is_of_front else "a back squat"
        lifts = lifts if self.lift is None else f"the {self.lift}"
        lifts = "a lift" if self.any_lift else lifts
        as_last = "as it was the last time" + (" with that bar" if self.part != "bar" else "")
        value = as_last if self.value == AS_LAST else self.value
        assumed = f"where nothing says the {part} of {lifts}, it was taken to be {value}"
        with_bar = f" where the bar is {self.bar}" if self.bar else ""
        source = "a title" if self.is_title else "the legend"
        return f'From {source} ("{self.sentence}"): {assumed}{with_bar}.'


@dataclass(frozen=True, slots=True)
class Bare:
    """A bar that has no grip, or no position, unless its row writes one."""

    bar: str
    parts: frozenset[Part]
    sentence: str = ""


def defaults_of(lines: Iterable[Line], reader: WordReader) -> list[Default]:
    """Every default that the sure lines name; two different ones for the same thing are none."""
    found = [
        one for line in lines if line.is_sure for text in statements(line.text) for one in _of(text, line.text, reader)
    ]
    values = {(one.lift, one.part, one.bar, one.value) for one in found}
    firsts = {(one.lift, one.part, one.bar): one for one in reversed(found)}
    kept = [key for key in firsts if sum(key == own[:3] for own in values) == 1]
    return [firsts[key] for key in sorted(kept, key=lambda key: (key[0] or "", _PARTS.index(key[1])))]


def statements(text: str) -> list[str]:
    """The statements of a line, cut at full stops and semicolons alone: their commas join what belongs together."""
    return [one for piece in sentences(text) for one in _FULL_STOP.split(piece)]


def _of(text: str, line: str, reader: WordReader) -> list[Default]:
    """The defaults of one statement; line: the whole line, which may name the squat before it."""
    subject, says_blank = _about_blank(text, reader.lexicon)
    if says_blank is not None:
        found = _where_blank(text, subject, says_blank, reader)
        if not found and says_as_last(words_of(says_blank)):
            found = [Default(part, AS_LAST, text) for part in _parts_before(line, text, reader.lexicon)]
        if (lift := _lift_alone(subject, reader.lexicon)) is not None:
            return [replace(one, lift=lift) for one in found]
        if names_back_squat(subject, reader.lexicon):  # "squat with nothing = straight, low": with no other bar
            bar = next((one.value for one in found if one.part == "bar"), None)
            found = [replace(one, bar=None if one.part == "bar" else bar) for one in found]
        is_general = not any(True for _ in reader.lexicon.exercise.find(words_of(line)))
        front = _also_front(line, reader)
        return [replace(one, also_front=front, any_lift=is_general and one.value == AS_LAST) for one in found]
    return _of_lift(text, reader.lexicon) or _always(text, reader)


def _about_blank(text: str, lexicon: Lexicon) -> tuple[str, str | None]:
    """(what is open, what that means) of "blank bar = straight", "gryf: puste = prosty"; None for other sentences."""
    sides = SIGN.split(text)
    for i in range(1, len(sides)):
        near = re.sub(r"\([^()]*\)", " ", sides[i - 1]).rsplit(",", 1)[-1]
        words = words_of(near)
        spans = [(start, end) for start, end, _ in legend_words("blank").find(words)]
        at_edge = any(start == 0 or end == len(words) for start, end in spans)
        if at_edge and not re.search(r"[()]", near) and len(words) <= 9:
            return " ".join(sides[:i]), _meant(sides[i], lexicon)
    return "", None


def _meant(text: str, lexicon: Lexicon) -> str:
    """What stands behind a sign up to its first comma, with the bar, place or grip that follows behind it."""
    first, *others = re.split(r"[,;](?!\d)", text)
    whole = ", ".join([first, *takewhile(lambda one: is_gear_alone(one, lexicon), others)])
    return whole if gear_values(whole, lexicon, []) else first  # "straight, safety": two of one kind


def _lift_alone(text: str, lexicon: Lexicon) -> str | None:
    """The one lift that a text names, with words for nothing and articles beside it; None where that is a squat on
    the back, or other words stand there ("bench", "front squat with nothing")."""
    words = words_of(text)
    found = list(lexicon.exercise.find(words))
    spans = [*found, *legend_words("blank").find(words), *legend_words("article").find(words)]
    known = {i for start, end, _ in spans for i in range(start, end)}
    lifts = {hit for _, _, hit in found}
    return lifts.pop() if len(lifts) == 1 and len(known) == len(words) and not lifts & back_squats() else None


def _of_lift(text: str, lexicon: Lexicon) -> list[Default]:
    """What "Bench = medium grip" says of a lift that is no squat on the back: its name, a sign, and gear alone."""
    sides = SIGN.split(text.strip(" ."), maxsplit=1)
    lift = _lift_alone(sides[0], lexicon) if len(sides) == 2 else None
    if lift is None or not all(is_gear_alone(one, lexicon) for one in re.split(r",(?!\d)", sides[1])):
        return []
    return [Default(part, value, text, lift=lift) for part, value in gear_values(sides[1], lexicon, []).items()]


def _where_blank(text: str, subject: str, meaning: str, reader: WordReader) -> list[Default]:
    lexicon = reader.lexicon
    parts = parts_named(subject, lexicon)
    if says_as_last(words_of(meaning)):
        return [Default(part, AS_LAST, text) for part in _PARTS if part in parts]
    values = gear_values(meaning, lexicon, parts)
    if not values or (not parts and not is_gear_alone(meaning, lexicon)):
        return []
    return [Default(part, value, text) for part, value in values.items() if not parts or part in parts]


def _parts_before(line: str, text: str, lexicon: Lexicon) -> list[Part]:
    """Bar, position or grip that a line is about before its own statement of what is blank: "Bar: kind, grip (N/W).
    Blank = as last time"; [] where its head names none of them."""
    before = line[: line.find(text)]
    head, colon, _ = before.partition(":")
    return parts_named(before, lexicon) if colon and parts_named(head, lexicon) else []


def parts_named(text: str, lexicon: Lexicon) -> list[Part]:
    """Bar, position or grip, as the words of a text name them ("Agarre y apoyo")."""
    pieces = [words_of(piece) for piece in re.sub(r"\([^()]*\)", " ", text).split(",")]  # "bar, position": two things
    roles = [role for words in pieces for _, _, role in lexicon.heading.find(words)]
    if not roles:
        roles = [role for words in pieces for word in words for role in lexicon.headings_of.get(word, [])]
    return [part for part in _PARTS if any(_ROLES.get(role) == part for role in roles)]


def gear_values(text: str, lexicon: Lexicon, parts: list[Part]) -> dict[Part, str]:
    """What a text names of bar, position and grip; {} when it names two of one kind.

    A word that may be several things ("normal") is taken for what the text is about, else for the bar.
    """
    words = words_of(text)
    tables: dict[Part, Phrases] = {"bar": lexicon.bar, "position": lexicon.position, "width": lexicon.width}
    order = [*parts, *(part for part in ("position", "width", "bar") if part not in parts)]
    if len(parts) != 1:
        order = ["position", "bar", "width"] if not _grip_word(words, lexicon) else ["position", "width", "bar"]
    found: dict[Part, set[str]] = {}
    aside = ((start, end) for start, end, _ in lexicon.modifier.find(words) if end - start > 1)
    used = {i for start, end in aside for i in range(start, end)}  # "wide stance" is no grip
    for part in order:
        table = tables[part]  # type: ignore[index]
        mixed = Phrases({**table.known, **table.letters}, longest=table.longest)
        for start, end, hit in mixed.find(words):
            if part == "position" and " ".join(words[start:end]) in legend_words("article").known:
                continue  # Italian "lo" is no low bar
            is_heading = " ".join(words[start:end]) in lexicon.headings_of
            if not used & set(range(start, end)) and not (is_heading and len(words) > end - start):
                found.setdefault(part, set()).add(hit)  # type: ignore[arg-type]
                used |= set(range(start, end))
    if any(len(hits) > 1 for hits in found.values()):
        return {}
    return {part: hits.pop() for part, hits in found.items()}


def _grip_word(words: list[str], lexicon: Lexicon) -> bool:
    return any("grip" in lexicon.headings_of.get(word, []) for word in words)


def is_gear_alone(text: str, lexicon: Lexicon) -> bool:
    """Whether a text is a word for a bar, position or grip and little else ("BD", "straight bar, high")."""
    words = words_of(text)
    spans = [hit for table in (lexicon.bar, lexicon.position, lexicon.width) for hit in table.find(words)]
    known = {i for start, end, _ in spans for i in range(start, end)}
    named = {i for i, word in enumerate(words) if _GEAR & set(lexicon.headings_of.get(word, []))}  # "medium grip"
    return bool(known) and len(known | named) >= 0.6 * len(words)


def _always(text: str, reader: WordReader) -> list[Default]:
    """ "Back squat is straight bar, high bar, unless ...", "squat sempre dietro col bilanciere dritto, ...".

    The sentence names the squat, or bar or grip, says that it holds always or but for exceptions, and holds no sign.
    """
    if re.search(r"\d\s*[x×]\s*\d", text):
        return []
    if (plain := _squat_and_gear(text, reader.lexicon)) is not None:
        front = _also_front(text, reader)
        return [
            Default(part, value, text, front, names_front=_names_front(text, reader)) for part, value in plain.items()
        ]
    if (unsaid := _only_when_not(text, reader.lexicon)) is not None:
        return [Default(*unsaid, text)]
    told, has_exception = before_unless(text)
    words = words_of(told)
    if (lift := _other_lift(told, reader.lexicon)) is not None and (says("always", words) or "=" in text):
        values = gear_values(told, reader.lexicon, ["bar"]) if _share_known(words, reader.lexicon) >= _MOSTLY else {}
        return [Default("bar", values["bar"], text, lift=lift)] if "bar" in values else []
    if "=" in told:
        return []
    if len(words) > 24 or not (has_exception or says("always", words)):
        return []
    is_squat = names_back_squat(told, reader.lexicon)
    parts = parts_named(told, reader.lexicon)
    is_plain = not any(True for _ in reader.lexicon.exercise.find(words))
    if is_plain and (bar := _bar_meant(told, reader.lexicon)) is not None:  # "Straight bar is high bar unless I say so"
        values = gear_values(told, reader.lexicon, []) if _share_known(words, reader.lexicon) >= _MOSTLY else {}
        return [Default(part, value, text, bar=bar) for part, value in values.items() if part != "bar"]
    if not is_squat and not (parts and _begins_with_gear(words, reader.lexicon)):
        return []
    if _share_known(words, reader.lexicon) < _MOSTLY:
        return []
    values = gear_values(told, reader.lexicon, [] if is_squat else parts)
    if is_squat and (bar := _bar_meant(told, reader.lexicon)) is not None:
        return [Default(part, value, text, bar=bar) for part, value in values.items() if part != "bar"]
    front = _also_front(told, reader) if is_squat else False
    named = is_squat and _names_front(told, reader)
    return [Default(part, value, text, front or named, names_front=named) for part, value in values.items()]


def _only_when_not(text: str, lexicon: Lexicon) -> tuple[Part, str] | None:
    """What "bar: only written when it is not the straight one" leaves unsaid: (bar, straight)."""
    words = words_of(re.sub(r"\([^()]*\)", " ", text))
    only = [start for start, _, _ in legend_words("only").find(words)]
    denied = [end for start, end, _ in legend_words("when_not").find(words) if only and start > only[0]]
    parts = parts_named(" ".join(words[: only[0]]), lexicon) if denied else []
    values = gear_values(" ".join(words[denied[0] :]), lexicon, parts) if parts else {}
    is_short = bool(denied) and len(words) - denied[0] <= 5
    return (parts[0], values[parts[0]]) if len(parts) == 1 and parts[0] in values and is_short else None


def _bar_meant(text: str, lexicon: Lexicon) -> str | None:
    """The bar with which alone a sentence holds: it stands beside the lift, before the word that says what is always
    so, and a grip or place behind that word ("Straight bar squats are high bar"); a comma between them says other."""
    words = words_of(text)
    verbs = [start for start, _, _ in legend_words("always").find(words)]
    bars = [(end, hit) for _, end, hit in lexicon.bar.find(words)]
    told = [start for table in (lexicon.position, lexicon.width) for start, _, _ in table.find(words)]
    if len(bars) != 1 or not verbs or not told:
        return None
    verb = min(verbs)
    before = re.split(r"[,;(]", text)[0]
    is_condition = bars[0][0] <= verb < min(told) and verb < len(words_of(before))
    return bars[0][1] if is_condition else None


def _squat_and_gear(text: str, lexicon: Lexicon) -> dict[Part, str] | None:
    """What "Squat = straight bar, low bar" says: a squat's name alone, a sign, and a bar with its place or grip."""
    sides = re.split(r"\s*[=:]\s*", text.strip(" ."), maxsplit=1)
    if len(sides) != 2 or not names_back_squat(sides[0], lexicon):
        return None
    words = words_of(sides[0])
    named = {i for start, end, _ in lexicon.exercise.find(words) for i in range(start, end)}
    values = gear_values(sides[1], lexicon, [])
    is_plain = len(named) == len(words) and "bar" in values and is_gear_alone(sides[1], lexicon)
    return values if is_plain else None


def _share_known(words: list[str], lexicon: Lexicon) -> float:
    """How much of a sentence speaks of lifts, bars and grips, and of what holds always."""
    known: set[int] = set()
    tables = (lexicon.exercise, lexicon.bar, lexicon.position, lexicon.width, lexicon.style)
    kinds = ("always", "article", "on_the_back", "in_front", "for_all", "blank")
    phrases = (*tables, *(legend_words(kind) for kind in kinds))
    for table in phrases:
        known |= {i for start, end, _ in table.find(words) for i in range(start, end)}
    known |= {i for i, word in enumerate(words) if _GEAR & set(lexicon.headings_of.get(word, []))}
    return len(known) / len(words) if words else 0.0


def before_unless(text: str) -> tuple[str, bool]:
    """(what stands before the exception, whether there is one)."""
    pieces = re.split(r"(?<=[^\W_])[\s,]+", text)
    for i in range(1, len(pieces)):
        words = words_of(" ".join(pieces[i : i + 5]))
        if any(" ".join(words[:n]) in legend_words("unless").known for n in (1, 2, 3, 4, 5)):
            return " ".join(pieces[:i]), True
    return text, False


def names_back_squat(text: str, lexicon: Lexicon) -> bool:
    """Whether a sentence is about squats, and no other lift."""
    words = words_of(text)
    lifts = {hit for _, _, hit in lexicon.exercise.find(words)}
    return bool(lifts & back_squats()) and lifts <= back_squats() | {"front squat"}


def _other_lift(text: str, lexicon: Lexicon) -> str | None:
    """The one lift that a sentence is about, with its bar named behind it, where that is no squat on the back."""
    words = words_of(text)
    found = list(lexicon.exercise.find(words))
    bars = [start for start, _, _ in lexicon.bar.find(words)]
    lifts = {hit for _, _, hit in found}
    is_other = len(lifts) == 1 and not lifts & back_squats()
    return lifts.pop() if is_other and bars and found[0][0] <= 2 and min(bars) >= found[-1][1] else None


def _begins_with_gear(words: list[str], lexicon: Lexicon) -> bool:
    return bool(words) and any(_GEAR & set(lexicon.headings_of.get(" ".join(words[:n]), [])) for n in (1, 2, 3))


def _also_front(text: str, reader: WordReader) -> bool:
    """Whether a sentence about squats speaks of those in front as well: it says so, or names no kind of squat."""
    words = words_of(text)
    if says("in_front", words) or any(hit == "front squat" for _, _, hit in reader.lexicon.exercise.find(words)):
        return True
    bare = [word for word in words if reader.lexicon.exercise.known.get(word) == "back squat"]
    return bool(bare) and not says("on_the_back", words)


def _names_front(text: str, reader: WordReader) -> bool:
    """Whether a sentence names the front squat by its name, beside the back squat."""
    return "front squat" in {hit for _, _, hit in reader.lexicon.exercise.find(words_of(text))}


def bare_bars(lines: Iterable[Line], lexicon: Lexicon) -> list[Bare]:
    """Bars of which a sentence says that they have no grip or no position."""
    found = []
    for line in lines:
        for text in statements(line.text):
            words = words_of(text)
            letters = {fold(letter) for letter in re.findall(r"(?<![^\W_])[A-ZÀ-Þ](?![^\W_])", text)}
            bars = {hit for _, _, hit in lexicon.bar.find(words)} | {lexicon.bar.letters.get(one) for one in letters}
            bars -= {"straight", "other", None}
            denied = [end for _, end, _ in legend_words("none").find(words)]
            parts = _denied_parts(words[min(denied) :], lexicon) if denied else frozenset()
            told = [end for _, end, _ in lexicon.bar.find(words)]
            if parts and (len(bars) == 1 or (told and max(told) <= min(denied))):  # "SSB / CB (no high/low there)"
                found += [Bare(str(bar), parts, text) for bar in sorted(map(str, bars))]
    return found


def _denied_parts(words: list[str], lexicon: Lexicon) -> frozenset[Part]:
    """Grip and place of the bar, as words behind a "no" name them: by their names, or as "no high/low"."""
    found = set(parts_named(" ".join(words), lexicon)) - {"bar"}
    places = {hit for _, _, hit in lexicon.position.find(words)}
    return frozenset(found | ({"position"} if len(places) == 2 else set()))
