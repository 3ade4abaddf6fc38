"""What the lines of a legend say of single signs: "KZ = Klimmzüge", "N narrow / M medium", "N/W (narrow, wide)".

A meaning counts only when the vocabulary knows it; nothing is taken from one that it does not know.
"""

import re
from collections.abc import Iterator
from dataclasses import replace

from preflare.reading.legend_lines import Line, legend_words, says
from preflare.reading.legend_meanings import GEAR_KINDS, QUOTES, Term, Unclear, judged, meaning_of, plain, role_of
from preflare.reading.lexicon import Lexicon
from preflare.reading.text import fold, spaces, words_of
from preflare.reading.words import WordReader

_SENTENCE = re.compile(
    r"\n+|\s\|\s|;|\s{2,}|(?<=[^\s.]{3})(?<!incl)(?<!inkl)(?<!excl)\.\s+(?=[A-ZÀ-Þ«»\"“”„'‘(]|(?:\w{1,5}\s*/\s*)*\w{1,8}\s+=\s)"
)
_SIGN = re.compile(r"\s*(?::=|=|→|⇒|≙)\s*")
_EXPLAINING_BRACKETS = re.compile(r"(?<=\w)\s+\([^()]*=[^()]*\)")  # they are read by themselves
_NEXT_SIGN = re.compile(r":\s+(?=\w{1,8}\s*=)")
_SMALL_STOP = re.compile(r"(?<=[^\W\d_]{4})(?<!incl)(?<!inkl)(?<!excl)\.\s+(?=[a-zà-þ])")
_EXPLAINS = re.compile(r"[=:]")
_LIST_SIGN = re.compile(r"\s+[-–—]\s+")
_CAPITALS = re.compile(r"[A-ZÀ-Þ][A-ZÀ-Þ0-9./-]{0,5}|[a-zà-þ]{1,3}[A-ZÀ-Þ]{1,4}")  # "eBD": a narrow "BD"
_GLOSSED = re.compile(r"(?<![\w./-])(?P<sign>[A-ZÀ-Þ][A-ZÀ-Þ0-9./-]{1,5})\s*\((?P<said>[^()=]{3,40})\)")
_ABBREVIATED = re.compile(r"(?P<said>[^\W\d_][^()=,;:/]{2,60}?)\s*\((?P<sign>[A-ZÀ-Þ][A-ZÀ-Þ0-9.-]{1,5})\)")
_OPEN_LISTS = re.compile(r"(?:^|[,;.:])[^=,;.:]*\s/\s[^\s=]+\s*=[^=]*\s/\s(?![^/=]*=)")
_QUOTED = re.compile(r"(?<![^\W_])[\"“„«‘]([^\"“”„«»‘’]{1,18})[\"”“»’]\s*$")  # in a sentence, before its sign
_MOST_SIGN, _MOST_SIGN_WORDS, _SHORT = 18, 3, 5
GEAR_OR_LIFT = frozenset({"exercise", "bar", "position", "width"})
_OF_TIME = frozenset({"timestamp", "time", "date", "weekday", "week"})
_ANY_WORD = frozenset({"exercise", "bar", "position", "width", "style", "site"})  # whole words may stand for these
_IN_CELLS = ("same", "missing", "rest", "as_planned")
_NO_SIGN = {
    "it", "is", "this", "that", "no", "if", "das", "es", "ist", "ce", "il", "le", "la", "el", "lo", "den",
    "det", "de", "to", "se", "so", "on", "he", "she", "ja", "ok", "i", "a", "e", "y", "o", "og", "och", "und",
    "et", "en",
}  # fmt: skip


def terms_of(line: Line, reader: WordReader) -> list[Term | Unclear]:
    """Every sign that a line explains."""
    subject = role_of(line.subject, reader.lexicon) or ""
    found: list[Term | Unclear] = []
    for sentence in sentences(line.text):
        found += _of_sentence(sentence, subject, line.is_sure, reader)
    if line.is_sure:
        explained = {one.written for one in found}
        found += [one for one in _glossed(line.text, reader) if one.written not in explained]
    return _without_days(found, reader.lexicon)


def _without_days(found: list[Term | Unclear], lexicon: Lexicon) -> list[Term | Unclear]:
    """The terms without days of a plan ("Mon = squat, Wed = bench"); one sign among others may look like a day."""
    days = [one for one in found if isinstance(one, Term) and one.kind == "exercise" and _is_day(one.written, lexicon)]
    others = [one for one in found if isinstance(one, Term) and one.kind in GEAR_OR_LIFT and one not in days]
    is_sign = len({one.written for one in days}) == 1 and bool(others)
    return found if is_sign else [one for one in found if one not in days]


def _is_day(written: str, lexicon: Lexicon) -> bool:
    return len(written) > 1 and bool(lexicon.weekday.exact(written) or lexicon.month.exact(written))


def sentences(text: str) -> list[str]:
    """A line cut into statements; a dash between statements cuts too, where a sign stands in them."""
    pieces = [one for piece in _SENTENCE.split(text) if piece and piece.strip() for one in _at_colons(piece)]
    pieces = [one for piece in pieces for one in _without_capitals(piece)]
    cut = (_LIST_SIGN.split(piece) if "=" in piece else [piece] for piece in pieces)
    return [spaces(one).strip("•*-, ") for piece in cut for one in piece if one.strip()]


def _at_colons(piece: str) -> list[str]:
    """ "Ell = elbow: b = before, a = after": cut at the colon behind a meaning, where another sign follows."""
    return _NEXT_SIGN.split(piece) if "=" in piece.split(":")[0] else [piece]


def _without_capitals(piece: str) -> list[str]:
    """The piece cut at full stops behind whole words, where a small letter follows and two parts say what is what."""
    parts = _SMALL_STOP.split(piece)
    return parts if sum(_EXPLAINS.search(part) is not None or _tells(part) for part in parts) > 1 else [piece]


def _tells(text: str) -> bool:
    return says("means", words_of(text))


def _glossed(text: str, reader: WordReader) -> list[Term]:
    """Signs in capitals with their meaning in brackets, or in brackets behind it: "SSB (safety bar)", "dips (DP)"."""
    found: list[Term] = []
    for match in (*_GLOSSED.finditer(text), *_ABBREVIATED.finditer(text)):
        words, sign = match["said"].split(), fold(match["sign"])
        is_taken = sign in reader.lexicon.work.known or sign in reader.lexicon.headings_of
        if is_taken or (match.re is _ABBREVIATED and not _shortens(sign, match["said"])):
            continue
        for n in range(min(4, len(words)), 0, -1):
            term = meaning_of(" ".join(words[-n:]), "", reader)
            if term is not None and term.kind in GEAR_OR_LIFT:
                found.append(judged(replace(term, written=match["sign"], said=" ".join(words[-n:])), reader))
                break
            if match.re is _GLOSSED:
                break  # all of the brackets, or nothing
    known = {name.written: name for name in reversed(found)}
    return [one for one in known.values() if _is_fit(one, "", True, reader.lexicon)]


def _shortens(sign: str, said: str) -> bool:
    """Whether the letters of a sign stand in this order in the words before it."""
    rest = iter(fold(said).replace(" ", ""))
    return all(letter in rest for letter in sign if letter.isalnum())


def _of_sentence(sentence: str, subject: str, is_sure: bool, reader: WordReader) -> list[Term | Unclear]:
    before, told, rest = sentence.partition(":")
    own = role_of(before, reader.lexicon) if told and "=" not in before and len(before) <= 40 else None
    if told and own is None and (column := _column_told(before, rest, reader)) is not None:
        listed = _of_sentence(rest.strip(), column[1], is_sure, reader)
        return [Term(column[0], "heading", column[1], sentence), *listed]
    if own is not None or (told and _names_lift(before, reader)):
        subject, sentence = own or "", rest
    if (sides := _sides_in_parallel(sentence, reader.lexicon)) is not None:
        return [Term(sign, "side", side, sentence) for sign, side in sides]
    first, _, behind = sentence.partition(" ")
    if "/" in behind.split("=")[0] and (role := role_of(first, reader.lexicon)) is not None:
        subject, sentence = role, behind  # "Grip N/M/W = narrow/medium/wide"
    pairs = _parallel(sentence)
    if pairs is None and _OPEN_LISTS.search(sentence):
        return []  # "such as hb / lb = high / low" within more text: cut at strokes, signs and meanings would mix
    if pairs is not None:
        return [one for sign, said in pairs for one in _term(sign, said, subject, reader)]
    found: list[Term | Unclear] = []
    bare: list[Term] = []
    unknown: list[Unclear] = []
    for piece in _items(sentence):
        named, item = _without_subject(piece, reader.lexicon)
        subject = named or subject
        sign, said, is_told = _parted(item, is_sure, reader)
        if not sign or sign.isdecimal():
            continue  # "100x5x3 = 100 kg, 5 reps, 3 sets"
        if (role := role_of(sign, reader.lexicon)) in GEAR_KINDS and len(words_of(sign)) <= 2 and role:
            subject = role
        if is_told:
            terms = list(_term(sign, said, subject, reader))
            has_sign = _SIGN.search(item) is not None or _renames_lift(sign, said, item, reader.lexicon)
            found += [one for one in terms if _is_fit(one, subject, has_sign, reader.lexicon)]
        elif is_sure and (term := meaning_of(said, subject, reader)) and not _is_known_phrase(item, reader):
            bare.append(replace(term, written=sign, said=said))
        elif is_sure and len(sign) > 1 and len(words_of(said)) <= 3 and not re.search(r"\d", said):
            unknown.append(Unclear(sign, said))
    if sum(term.kind == "exercise" for term in bare) >= 2:
        found += [one for one in unknown if not _is_known(one.written, reader.lexicon)]
    is_list = len(bare) >= 2 or bool(found)
    return found + [judged(term, reader) for term in bare if is_list and _is_fit(term, subject, False, reader.lexicon)]


def _column_told(before: str, rest: str, reader: WordReader) -> tuple[str, str] | None:
    """(heading, its kind of gear) of "Plass = where the bar lies: H high / L low": a heading said to be something, and
    behind a colon what stands in its column. The kind is the one of which all of the list is."""
    sides = _SIGN.split(before)
    if len(sides) != 2 or not sides[0] or len(sides[0]) > _MOST_SIGN or len(words_of(sides[0])) > _MOST_SIGN_WORDS:
        return None
    heading = sides[0].strip(QUOTES)
    roles = reader.lexicon.headings_of.get(fold(heading), [])
    if roles and roles[0] != "site" and role_of(heading, reader.lexicon) is None:
        return None  # a heading of another matter; "where" may be that of a bar
    items = [_parted(item, True, reader) for item in _items(rest)]
    if len(items) < 2 or not all(sign and said for sign, said, _ in items):
        return None
    fits = [
        role
        for role, kinds in GEAR_KINDS.items()
        if role and all((found := meaning_of(said, role, reader)) and found.kind == kinds[0] for _, said, _ in items)
    ]
    return (heading, fits[0]) if len(fits) == 1 else None


def _without_subject(item: str, lexicon: Lexicon) -> tuple[str | None, str]:
    """(kind of gear, the rest) of an item that names it before its sign: "grip n narrow", "prise s = serrée"."""
    first, _, rest = item.partition(" ")
    words = rest.split()
    sides = _SIGN.split(rest, maxsplit=1)
    is_one_sign = len(sides) == 1 or len(sides[0].split()) == 1  # "bar with a yoke = ...": a name, no sign
    if len(words) < 2 or not is_one_sign or not _may_be_sign(words[0]) or fold(first) not in lexicon.headings_of:
        return None, item
    role = role_of(first, lexicon)
    return (role, rest) if role in GEAR_KINDS else (None, item)


def _is_fit(one: Term | Unclear, subject: str, has_sign: bool, lexicon: Lexicon) -> bool:
    """Whether a sign may stand for its meaning: no day ("Mo: squat"), no number or name ("A1: squat", "Ada: narrow").

    has_sign: it is told by a sign of equality.
    """
    written = one.written
    if isinstance(one, Unclear):
        return has_sign and not re.search(r"\d", one.said)
    if _is_day(written, lexicon) and not (has_sign and one.kind in GEAR_OR_LIFT):
        return False
    is_word = len(written) >= (_SHORT - 1 if written.isupper() else 3)
    if one.kind in {"bar", "position", "width"} and is_word and lexicon.exercise.exact(written):
        return False  # "Squat = straight bar": a habit of squats, not another word for a bar
    is_name = written.isalpha() and len(written) > 2 and written[0].isupper() and written[1:].islower()
    if one.kind == "exercise":
        is_short = bool(_CAPITALS.fullmatch(written)) or written.isupper() or bool(re.search(r"[./]", written))
        n_letters = sum(letter.isalpha() for letter in written)
        return n_letters > 1 and not re.search(r"\d", written + plain(one.said)) and (has_sign or is_short)
    of_people = {"width", "position", "side", "severity", *_IN_CELLS, *(() if has_sign else ("work", "reserve"))}
    return not (is_name and not subject and one.kind in of_people)


def _renames_lift(sign: str, said: str, item: str, lexicon: Lexicon) -> bool:
    """Whether an item says in words that one lift's name stands for another ("chins are pull-ups"); no day's plan."""
    both = lexicon.exercise.exact(sign) is not None and lexicon.exercise.exact(plain(said)) is not None
    return both and ":" not in item and not _is_day(sign, lexicon)


def _names_lift(text: str, reader: WordReader) -> bool:
    return reader.exercise(text.strip()).how in {"vocabulary", "season.toml"}


def _items(sentence: str) -> list[str]:
    """A statement cut at commas and slashes outside of brackets."""
    items, depth, start = [], 0, 0
    for i, letter in enumerate(sentence):
        depth += (letter in "([") - (letter in ")]")
        is_slash = letter == "/" and sentence[i - 1 : i] == " " and sentence[i + 1 : i + 2] == " "
        if depth <= 0 and (is_slash or (letter == "," and not sentence[i + 1 : i + 2].isdigit())):
            items.append(sentence[start:i])
            start = i + 1
    items.append(sentence[start:])
    return [item.strip() for item in items if item.strip()]


def _parallel(sentence: str) -> list[tuple[str, str]] | None:
    """Signs and meanings in two lists of one length: "N/M/W = narrow/medium/wide", "a / b (first, second)"."""
    sides = _SIGN.split(sentence)
    if len(sides) != 2 and (match := re.fullmatch(r"([^()=]+)\(([^()=]+)\)\.?", sentence)):
        sides = [match[1], match[2]]
    if len(sides) != 2:
        return None
    signs, said = (_list_of(side) for side in sides)
    signs = _without_common_word(signs)
    if len(signs) != len(said) or len(signs) < 2:
        return None
    if any(len(sign) > 12 or " " in sign for sign in signs):
        return [] if all(" / " in side for side in sides) else None  # cut at strokes, signs and meanings would mix
    return list(zip(signs, said, strict=True))


def _without_common_word(signs: list[str]) -> list[str]:
    """ "squat haut", "squat bas": signs of two words without the first, where all have it."""
    split = [sign.split() for sign in signs]
    heads = {fold(words[0]) for words in split if len(words) == 2}
    return [words[1] for words in split] if len(heads) == 1 and all(len(words) == 2 for words in split) else signs


def _sides_in_parallel(sentence: str, lexicon: Lexicon) -> list[tuple[str, str]] | None:
    """ "ELBOW D / ELBOW I = pain of the elbow, right / left": the words that differ stand for the sides in order."""
    before, mark, said = sentence.partition("=")
    labels = [piece.split() for piece in before.split("/")] if mark else []
    sides = [side for _, _, side in lexicon.sides_in(words_of(said)) if side != "both"]
    if len(labels) != 2 or len(set(sides)) != 2 or len(sides) != 2 or not all(labels):
        return None
    first, second = labels
    if len(first) < 2 or len(first) != len(second) or first[:-1] != second[:-1]:
        return None
    return [(first[-1], sides[0]), (second[-1], sides[1])]


_OR = re.compile(r"\s*[/,|]\s*|\s+(?:or|oder|ou|oppure|of|lub|eller)\s+", re.I)
_AT_THE_END = (  # "r2 à la fin"
    r"\s+(?:at the (?:very )?end|am ende|hinten|dahinter|[àa] la fin|al final|alla fine|no (?:fim|final)|aan het eind"
    r"|op het einde|na ko[ńn]cu|til slutt|p[åa] slutten|til sidst|i slutet|p[åa] slutet|sist)$"
)
_WHERE = re.compile(  # where a sign stands beside its set, which is no part of it
    r"\s+(?:in front|before it|first|davor|vorne|vorn|devant|avant|delante|davanti|prima|à frente|antes|ervoor|voor"
    r"|z przodu|przed|foran|framför|före)$|\s+instead$|\s+statt dessen$|" + _AT_THE_END,
    re.I,
)


def _list_of(text: str) -> list[str]:
    text = _WHERE.sub("", re.sub(r"\([^()]*\)", " ", text).strip(" ."))
    return [piece.strip(" .") for piece in _OR.split(text) if piece.strip(" .")]


def _parted(item: str, is_sure: bool, reader: WordReader) -> tuple[str, str, bool]:
    """(sign, meaning, whether a sign of equality or a word for it stands between them) of one item."""
    item = _EXPLAINING_BRACKETS.sub(" ", item).strip() or item
    sides = _SIGN.split(item, maxsplit=1)
    if len(sides) == 2:
        return _sign_in(sides[0], sides[1]), sides[1], True
    if not is_sure:
        return "", "", False
    sign, mark, said = item.partition(":")
    if not mark:
        sign, mark, said = _cut_at_dash(item)
    if mark and _may_be_sign(sign.strip()):
        return _sign_in(sign, said), said, True
    words = item.split()
    for length in (3, 2, 1):
        if len(words) > length + 1 and fold(" ".join(words[1 : 1 + length])) in legend_words("means").known:
            said = " ".join(words[1 + length :])
            is_lift = reader.lexicon.exercise.exact(plain(said)) is not None  # "chins are pull-ups"
            return (words[0].strip(QUOTES), said, True) if is_lift or _may_be_sign(words[0]) else _NOTHING
    if len(words) >= 2 and (_CAPITALS.fullmatch(words[0]) or len(words[0]) == 1) and _may_be_sign(words[0]):
        return words[0], " ".join(words[1:]), False
    return _NOTHING


_NOTHING = ("", "", False)


def _cut_at_dash(item: str) -> tuple[str, str, str]:
    match = _LIST_SIGN.search(item)
    return (item[: match.start()], "-", item[match.end() :]) if match else ("", "", "")


def _sign_in(text: str, said: str) -> str:
    """The sign before a sign of equality: the last words behind a colon, without quotes; "" when it is too long."""
    sign = _WHERE.sub("", text.rsplit(":", 1)[-1].strip()).strip(QUOTES).strip("()[] ")
    if quoted := _QUOTED.search(text):
        sign = quoted[1].strip()
    if len(sign) > _MOST_SIGN and len(sign.split()) <= 5 and len(sign) <= 2 * _MOST_SIGN and _may_be_sign(said):
        return sign  # "close-grip bench press = CGB"
    last = sign.split()[-1].strip(QUOTES) if sign else ""
    if len(sign.split()) > _MOST_SIGN_WORDS and _CAPITALS.fullmatch(last) and len(last) > 1:
        return last  # "always the straight bar unless it says SS = safety bar"
    is_sign = len(sign) <= _MOST_SIGN and len(sign.split()) <= _MOST_SIGN_WORDS and not re.match(r"[\d+]", sign)
    return sign if is_sign else ""


def _may_be_sign(text: str) -> bool:
    """Whether a text looks like something shortened: capitals, a dot or slash in it, a few letters."""
    text = text.strip(QUOTES)
    if not text or len(text.split()) > 1 or len(text) > 10 or (fold(text) in _NO_SIGN and not text.isupper()):
        return False
    return bool(_CAPITALS.fullmatch(text)) or bool(re.search(r"[./\d]", text)) or len(text) <= 3


def _is_known_phrase(item: str, reader: WordReader) -> bool:
    lexicon = reader.lexicon
    tables = (
        lexicon.exercise,
        lexicon.bar,
        lexicon.width,
        lexicon.position,
        lexicon.site,
        lexicon.month,
        lexicon.weekday,
    )
    return any(table.exact(item) for table in tables)


def _term(sign: str, said: str, subject: str, reader: WordReader) -> Iterator[Term | Unclear]:
    """The sign with its meaning; the other way round where only what stands first is known ("safety bar = SB")."""
    sign = _last_of_two(sign.strip(QUOTES), reader)
    if not sign or says("blank", words_of(sign)):
        return
    found = meaning_of(said, subject, reader) or _reserve_by_example(sign, said)
    if len(sign) > 2 and _is_heading_for(sign, found, reader.lexicon):
        return
    if found is not None:
        if found.kind in _ANY_WORD or (" " not in sign and (_may_be_sign(sign) or len(sign) <= _SHORT)):
            yield judged(replace(found, written=sign, said=said.strip()), reader)
        return
    other = plain(said)
    turned = meaning_of(sign, subject, reader) if _may_be_sign(other) and not re.search(r"\d", other) else None
    if turned is not None and turned.kind in {"exercise", "bar", "position", "width", "work"}:
        if not _is_known(other, reader.lexicon):
            yield judged(replace(turned, written=other, said=sign), reader)
    elif _may_be_sign(sign) and len(words_of(said)) <= 4 and not _is_known(sign, reader.lexicon):
        yield Unclear(sign, said.strip())


_EXAMPLE = re.compile(r"[^\W\d_]{1,2}\.?\s?(?P<n>\d)")


def _reserve_by_example(sign: str, said: str) -> Term | None:
    """ "r2 = 2 reps were left": a letter and a number for repetitions in reserve, where the sentence repeats it."""
    match, words = _EXAMPLE.fullmatch(sign), words_of(said)
    return Term("", "reserve", "rir", "") if match and match["n"] in words and says("reserve", words) else None


def _is_heading_for(sign: str, found: Term | None, lexicon: Lexicon) -> bool:
    """Whether a word heads columns, and not of another matter than the lift or bar that it is said to be ("sent")."""
    roles = lexicon.headings_of.get(fold(sign), [])
    is_gear = found is not None and found.kind in {"exercise", "bar"}
    return bool(roles) and not (is_gear and set(roles) <= _OF_TIME)


def _last_of_two(sign: str, reader: WordReader) -> str:
    """The sign behind the exercise that it is used with ("Pull-ups BW = body weight")."""
    before, _, last = sign.rpartition(" ")
    return last if before and _may_be_sign(last) and reader.lexicon.exercise.exact(before) else sign


def _is_known(text: str, lexicon: Lexicon) -> bool:
    tables = (lexicon.exercise, lexicon.bar, lexicon.width, lexicon.position, lexicon.side, lexicon.work, lexicon.site)
    return fold(text) in lexicon.headings_of or any(table.exact(text) for table in tables)
