"""Whose log a sheet is where no column says so: its titles, its name, the names of file and folders, in that order.

A log that names nobody is still one person's. It is read as that of one unnamed person, and only when all files are
read is it settled who that can be; see unnamed.py.
"""

import re
from collections.abc import Container, Iterator
from pathlib import PurePosixPath

from preflare.reading.context import SheetContext
from preflare.reading.lexicon import Lexicon, generic_words
from preflare.reading.people import looks_like_a_name, name_key
from preflare.reading.text import fold, spaces

_LABEL = re.compile(
    r"^\s*(?:name|athlete|lifter|athlet|athletin|sportler|sportlerin|nom|prenom|prénom|athlète|nombre|nome|naam"
    r"|zawodnik|zawodniczka|imie|imię|navn|namn|utøver|utover|utøvar|udøver|atleta|idrottare|sporter)\s*[:=|]\s*(.+)$",
    re.I,
)
_COACH = re.compile(
    r"\b(?:coach\w*|trainer\w*|entra[iî]neu\w*|entrenador\w*|allenat\w*|treinador\w*|trener\w*|tr[aä]nare|tr[æa]ner)\b",
    re.I,
)
_PARTICLE = r"(?:van|von|de|der|den|da|di|do|dos|del|la|le|zu|af|av|ter|ten|v\.?|d\.)"
_GIVEN = r"[A-ZÀ-ÞŁŚŻŹĆĄĘ][^\W\d_]+(?:-[A-ZÀ-Þ][^\W\d_]+)?"
_NAME = rf"(?P<name>(?:[A-ZÀ-Þ]\.\s*)?{_GIVEN}(?:\s+(?:{_PARTICLE}\s+)*(?:{_GIVEN}|[A-ZÀ-Þ]\.?(?![^\W\d_]))){{0,3}})"
_POSSESSIVE = re.compile(r"(?P<owner>(?:[^\W\d_][^\W\d_.-]*\s+){0,2}?[^\W\d_][^\W\d_-]*)['’´`]s?\s+(?P<what>[^\n]+)")
_OF = re.compile(
    rf"(?:(?<![^\W_])(?:of|by|for|von|vom|für|de|du|par|pour|del|por|para|di|per|do|da|van|voor|dla|til|till|av|af|för)"
    rf"\s+|(?<![^\W_])d['’]\s*){_NAME}"
)
_NOBODY = frozenset(
    {"today", "yesterday", "tomorrow", "let", "it", "that", "who", "what", "here", "there", "kid", "kids", "everyone"}
    | {"everybody", "nobody", "beginner", "mother", "father", "dad", "mum", "mom", "boy", "girl", "lifter", "partner"}
    | {"friend", "world", "master", "masters", "don", "can", "won", "didn", "doesn", "isn", "wasn", "couldn", "i"}
)
_OWN = re.compile(r"['’´`]s?(?![^\W\d_])")
UNNAMED = "Unnamed"


def person_of_sheet(context: SheetContext, titles: list[str]) -> None:
    """Settle whose sheet it is, and say where that was found; the unnamed person of its file where it is nowhere."""
    for found, where in _named(context, titles):
        name = _fuller(found, titles, context.lexicon)
        context.person = name
        context.assume(f'Where no column names a person, the log is that of "{name}", from {where}.')
        return
    stem = PurePosixPath(context.file).stem
    context.person = f"{UNNAMED} ({stem})"
    context.out.unnamed[context.person] = context.file


def _named(context: SheetContext, titles: list[str]) -> Iterator[tuple[str, str]]:
    """(name, where it stands), the surest first."""
    for title in titles:
        if (name := name_behind_label(title)) is not None:
            yield name, "a title line"
    titles = [title for title in titles if not _COACH.search(title)]
    for title in titles:
        if name := owner_in(title, context.lexicon) or _full_name_in(context, title):
            yield name, "a title line"
    path = PurePosixPath(context.file)
    names = (path.stem, "the file's name"), (path.parent.name, "the folder's name")
    found = [(name, where) for text, where in names if (name := _in_name(text, context.lexicon))]
    if name := _in_name(context.sheet.name, context.lexicon):
        yield name, "the sheet's name"
    yield from ((name, where) for name, where in found if " " in name and name.istitle())
    for title in titles:
        if name := _left_of_title(title, context.lexicon):
            yield name, "a title line"
    yield from found


def name_behind_label(title: str) -> str | None:
    """The name in a title that says so: "Name: Ada Berg", "Zawodnik: Jan"."""
    match = _LABEL.match(title)
    return spaces(re.sub(r"[\d()/–-]+", " ", match[1].split("|")[0])) if match else None


def _fuller(name: str, titles: list[str], lexicon: Lexicon) -> str:
    """A lone first name with the family name that a title gives behind it ("ylva dagbok.txt", "Ylva Brännholm")."""
    if len(name.split()) > 1:
        return name
    behind = re.compile(rf"(?<!\w){re.escape(name)}\s+(?P<family>(?:{_PARTICLE}\s+)*{_GIVEN})(?!\w)", re.I)
    for match in (match for title in titles for match in behind.finditer(title)):
        family = match["family"].split()[-1]
        if family[0].isupper() and may_be_person([family], lexicon):
            return spaces(match[0])
    return name


def _known_words(lexicon: Lexicon) -> list[Container[str]]:
    return [phrases.known for phrases in (lexicon.exercise, lexicon.month, lexicon.weekday, lexicon.bar)]


def owner_in(text: str, lexicon: Lexicon) -> str | None:
    """The person whom a title says to own it: "Devin's lifting diary", "Journal d'Anna", "Log of A. Berg"."""
    for match in _POSSESSIVE.finditer(text):
        what = fold(match["what"]).split()[:5]
        words = match["owner"].split()
        named = words[next((i for i, word in enumerate(words) if word[0].isupper()), len(words) - 1) :]
        if any(_is_log_word(word, lexicon) for word in what) and may_be_person(named, lexicon):
            return " ".join(word[0].upper() + word[1:] for word in named)
    for piece in re.split(r"\s+[-–—|]\s+|[:;|()]", text):
        for match in reversed(list(_OF.finditer(piece))):
            words = match["name"].split()
            before = piece[: match.start()].split()
            if before and before[-1][0].isupper() and may_be_person(before[-1:], lexicon):
                continue  # "Sjoerd van Aken"
            while words and not may_be_person(words[-1:], lexicon):
                words.pop()
            if any(_is_log_word(fold(word), lexicon) for word in before) and may_be_person(words, lexicon):
                return " ".join(words)
    return None


def _is_log_word(word: str, lexicon: Lexicon) -> bool:
    return word in generic_words() or word in lexicon.exercise.known


def may_be_person(words: list[str], lexicon: Lexicon) -> bool:
    """Whether none of these words is known for anything else."""
    folded = [fold(word) for word in words]
    known = (generic_words(), _NOBODY, *_known_words(lexicon), lexicon.headings_of, lexicon.site.known)
    return bool(words) and max(map(len, folded)) > 1 and not any(word in one for word in folded for one in known)


def _full_name_in(context: SheetContext, title: str) -> str | None:
    """A piece of a title that is an athlete of season.toml, or nothing but two or three capitalised unknown words."""
    known = {name_key(name) for athlete in context.settings.athlete for name in (athlete.name, *athlete.aliases)}
    for piece in re.split(r"\s+[-–—|]\s+|[:,;|()]|\s{2,}|\t", title):
        piece = re.sub(r"\b(?:19|20)\d\d(?:\s*[/–-]\s*\d\d(?:\d\d)?)?\b", " ", piece).strip()
        piece = spaces(_without_what_it_is(piece))
        parts = piece.split()
        is_full = 2 <= len(parts) <= 3 and all(part[0].isupper() for part in parts)
        if name_key(piece) in known or (is_full and _looks(piece, context.lexicon) == piece):
            return piece
    return None


def _looks(text: str, lexicon: Lexicon) -> str | None:
    return looks_like_a_name(text, generic_words(), *_known_words(lexicon))


def _without_what_it_is(piece: str) -> str:
    """A piece of a title without the generic words around a name ("Training diary Ada Berg", "Journal d'Ada Berg")."""
    words = re.sub(r"(?<=\bd)['’](?=[A-ZÀ-Þ])", " ", piece).split()
    start = 0
    while start < len(words) - 2 and (fold(words[start]) in generic_words() or words[start] == "d"):
        start += 1
    end = len(words)
    while end > start + 2 and fold(words[end - 1]) in generic_words():
        end -= 1
    return " ".join(words[start:end])


def _left_of_title(title: str, lexicon: Lexicon) -> str | None:
    """What is left of a title that says it is a log, when that is one to three capitalised words: "Training log Devin",
    "Dagboek - Mira van Es"."""
    plain = re.sub(r"[/:;|]", " ", _OWN.sub(" ", title))
    name = _looks(plain, lexicon) if any(word in generic_words() for word in fold(title).split()) else None
    if name is None or not all(part[0].isupper() for part in name.split()):
        return None
    return _with_particles(name, plain) if may_be_person(name.split(), lexicon) else None


def _with_particles(name: str, text: str) -> str:
    """A name with the small words that stand between its parts ("Sjoerd van Aken")."""
    between = rf"\s+(?:{_PARTICLE}\s+)*"
    match = re.search(between.join(map(re.escape, name.split())), text)
    return spaces(match[0]) if match else name


def _in_name(text: str, lexicon: Lexicon) -> str | None:
    """The person whom a sheet's, file's or folder's name holds."""
    plain = text.replace("_", " ")
    name = owner_in(plain, lexicon) or _looks(_OWN.sub(" ", text), lexicon) if text else None
    return None if name is None or set(fold(name).split()) <= _NOBODY else _with_particles(name, plain)
