"""Who is who: the ways one person is written, joined only where no other person could be meant.

Joined without asking: accents, case, order ("Berg, Ada"), and initials, first names or shortened ones ("Alex") that fit
one person only. Everything else stays apart, with the nearest known name shown. Aliases in season.toml settle any case.
"""

import re
from collections import Counter, defaultdict
from collections.abc import Container, Iterable, Mapping
from dataclasses import dataclass

from preflare.reading.text import fold, spaces, spellings
from preflare.settings import Athlete

NEAR = 85  # similarity (0 to 100) from which another name is shown as a possible misspelling


@dataclass(frozen=True, slots=True)
class Person:
    """What one written name was taken for. how as in rows.Choice; nearest: a name it may be a misspelling of."""

    name: str
    how: str
    nearest: str | None = None


def name_key(written: str) -> tuple[str, ...]:
    """The folded parts of a name in alphabetical order: "Łoś, Ada" and "ada los" share one."""
    return tuple(sorted(fold(written).split()))


def join_people(
    written: Iterable[str], known: list[Athlete], roster: Iterable[str] = (), nicknames: Mapping[str, str] | None = None
) -> dict[str, Person]:
    """Each name as written -> the person it stands for. known: the athletes of season.toml, who come first.

    roster: full names that stand in titles and lists of members; a shorter name may stand for one of them.
    nicknames: short names that a list or legend gives beside others; "" where two people are called so.
    """
    counts: Counter[str] = Counter()
    for name, n in Counter(written).items():  # a Counter of names is taken as counted
        counts[spaces(name)] += n
    roster = list(roster)
    spelt = _spelt_out([*counts, *roster, *(athlete.name for athlete in known)])
    groups: dict[tuple[str, ...], list[str]] = defaultdict(list)
    for name in counts:
        groups[spelt.get(name_key(name), name_key(name))].append(name)
    listed = shown_names(counts, known)
    keys: dict[tuple[str, ...], str] = {}
    taught: dict[tuple[str, ...], str] = {}
    for athlete in known:
        keys[name_key(athlete.name)] = listed[athlete.name]
        for alias in athlete.aliases:
            taught[name_key(alias)] = listed[athlete.name]
    for key, names in groups.items():
        if _is_full(key) and key not in keys and key not in taught and not _is_one_word(names, key, [*roster, *counts]):
            keys[key] = _best_spelling(names, counts)
    for name in roster:
        key = spelt.get(name_key(name), name_key(name))
        is_open = key not in keys and key not in taught and not listed
        if is_open and _is_full(key) and not _is_one_word([name], key, roster):
            keys[key] = _best_spelling([spaces(name)], Counter({spaces(name): 1}))
    _drop_shorter_forms(keys, set(listed.values()))
    keys |= {other: keys[key] for other, key in spelt.items() if key in keys and other not in keys}
    called = {
        name_key(short): keys[name_key(full)] for short, full in (nicknames or {}).items() if name_key(full) in keys
    }
    people = {}
    lonely: list[tuple[tuple[str, ...], list[str]]] = []
    for key, names in groups.items():
        person = _settle(key, keys, taught, set(listed.values()), _are_initials(names))
        if key in called and key not in keys and key not in taught:
            person = Person(called[key], "legend")
        if person is None:
            lonely.append((key, names))
            continue
        for name in names:
            people[name] = person
    with_initials = {key: _best_spelling(names, counts) for key, names in lonely if len(key) > 1}
    for key, names in lonely:
        candidates = sorted(set(_fitting(key, keys, _are_initials(names))))
        own = _best_spelling(names, counts)
        alike = set() if candidates or len(key) > 1 else set(_fitting(key, with_initials))
        if len(alike) == 1:  # "Fenna", where "Fenna D." is the fullest that is known of her
            people |= dict.fromkeys(names, Person(alike.pop(), "unambiguous"))
            continue
        for name in names:
            people[name] = (
                Person(own, "not known", " or ".join(candidates) or None) if candidates else Person(own, "exact", None)
            )
    return people | _by_short_name(people, nicknames or {})


def _by_short_name(found: dict[str, Person], short_names: Mapping[str, str]) -> dict[str, Person]:
    """Names that a legend explains ("Tibo = Thibault"), and nobody else bears, with the one person they stand for."""
    told = {name_key(short): name for short, name in short_names.items() if name}
    joined = {}
    for written, person in found.items():
        name = told.get(name_key(written))
        meant = {one.name for other, one in found.items() if name and _may_mean(name, other, one)}
        if len(meant) == 1 and person.name == written:
            joined[written] = Person(meant.pop(), "legend")
    return joined


def _may_mean(name: str, written: str, person: Person) -> bool:
    """Whether a name in a legend is that of a person: as written, or the first of a full name."""
    keys = {name_key(written), name_key(person.name)}
    return name_key(name) in keys or (" " not in name and name_key(name) == name_key(person.name.split()[0]))


def _spelt_out(names: list[str]) -> dict[tuple[str, ...], tuple[str, ...]]:
    """The keys of names whose letters are spelt out ("Oestreich") -> those with the letters ("Östreich")."""
    found: dict[tuple[str, ...], set[tuple[str, ...]]] = defaultdict(set)
    for name in names:
        key = name_key(name)
        for form in spellings(name):
            if (other := tuple(sorted(form.split()))) != key:
                found[other].add(key)
    return {other: keys.pop() for other, keys in found.items() if len(keys) == 1}


_PARTICLES = frozenset(
    {"van", "von", "de", "der", "den", "da", "di", "do", "dos", "das", "del", "della", "la", "le", "af", "av", "ter"}
    | {"ten", "zu", "zum", "v", "d", "y", "e", "i"}
)


def _drop_shorter_forms(keys: dict[tuple[str, ...], str], listed: set[str]) -> None:
    """Take full names out that are but a part of one longer one ("Ana Sousa" of "Ana Sousa Pinto", "Jan Berg" of "Jan
    van Berg"), so that they are joined to it as initials are. Names of season.toml stay."""
    for key in sorted(keys, key=len):
        parts = set(key) - _PARTICLES
        longer = {
            name for other, name in keys.items() if name != keys[key] and len(other) > len(key) and parts <= set(other)
        }
        if len(longer) == 1 and len(parts) > 1 and keys[key] not in listed:
            del keys[key]


def shown_names(written: Iterable[str], known: list[Athlete]) -> dict[str, str]:
    """Each athlete's name in season.toml -> how it is shown: first name first, where a comma somewhere tells which."""
    with_comma: dict[tuple[str, ...], list[str]] = defaultdict(list)
    for name in written:
        if "," in name:
            with_comma[name_key(name)].append(name)
    return {athlete.name: _given_first(athlete.name, with_comma[name_key(athlete.name)]) for athlete in known}


def _is_one_word(names: list[str], key: tuple[str, ...], roster: Iterable[str]) -> bool:
    """Whether initials stand in a name ("DJ Berg"), or a double given name stands alone and is longer elsewhere."""
    is_alone = all(" " not in name and "," not in name for name in names)
    if all(any(len(part) == 2 and part.isupper() for part in name.split()) for name in names):
        return True  # "DJ Berg": two initials, no name of two letters
    return is_alone and any(set(key) < set(name_key(name)) for name in roster)


def _is_full(key: tuple[str, ...]) -> bool:
    """A name with at least two parts of which none is an initial."""
    return len(key) >= 2 and all(len(part) > 1 for part in key)


def _settle(
    key: tuple[str, ...],
    keys: dict[tuple[str, ...], str],
    taught: dict[tuple[str, ...], str],
    listed: set[str],
    are_initials: bool,
) -> Person | None:
    if key in taught:
        return Person(taught[key], "season.toml")
    if key in keys:
        name = keys[key]
        if listed and name not in listed:
            return _apart(key, keys, name, listed)
        return Person(name, "exact", None if listed else _near(key, keys, name))
    fitting = set(_fitting(key, keys, are_initials))
    return Person(fitting.pop(), "unambiguous") if len(fitting) == 1 else None


def _apart(key: tuple[str, ...], keys: dict[tuple[str, ...], str], name: str, listed: set[str]) -> Person:
    """A full name that season.toml does not list: another person, unless near enough to ask."""
    nearest = _near(key, keys, name)
    return Person(name, "not known" if nearest else "exact", nearest)


def _near(key: tuple[str, ...], keys: dict[tuple[str, ...], str], own: str) -> str | None:
    from rapidfuzz import fuzz, process

    others = {" ".join(other): name for other, name in keys.items() if name != own}
    found = process.extractOne(" ".join(key), others.keys(), scorer=fuzz.ratio, score_cutoff=NEAR)
    return others[found[0]] if found else None


def _fitting(key: tuple[str, ...], keys: dict[tuple[str, ...], str], are_initials: bool = False) -> list[str]:
    """The full names that an abbreviated one could stand for: every part is one of theirs, the initial of one, or the
    beginning of one where it stands alone ("Alex"); two or three capitals may be all their initials ("AB")."""
    found = [name for full, name in keys.items() if len(full) >= len(key) and full != key and _abbreviates(key, full)]
    if found or len(key) != 1:
        return found
    if are_initials:
        return [name for full, name in keys.items() if sorted(key[0]) == sorted(part[0] for part in full)]
    return [name for full, name in keys.items() if len(key[0]) > 2 and any(part.startswith(key[0]) for part in full)]


def _are_initials(names: list[str]) -> bool:
    return all(name.isalpha() and name.isupper() and len(name) in {2, 3} for name in names)


def _abbreviates(short: tuple[str, ...], full: tuple[str, ...]) -> bool:
    left = list(full)
    if all(len(part) == 1 for part in short) and len(short) < 2:
        return False
    letters = next((part for part in short if len(part) == 2 and len(short) > 1 and part not in full), None)
    if letters is not None and len(full) > len(short):  # "DJ Berg" for Dirk-Jan Berg
        short = (*(part for part in short if part != letters), *letters)
    for part in sorted(short, key=len, reverse=True):
        hit = next((other for other in left if other == part), None) or (
            next((other for other in left if len(part) == 1 and other.startswith(part)), None)
        )
        if hit is None:
            return False
        left.remove(hit)
    return True


def _best_spelling(names: list[str], counts: Counter[str]) -> str:
    """The form to show: in the order that a comma gives away or that is commonest, with its accents and capitals."""
    with_comma = [name for name in names if "," in name]
    plain_of = {name: _given_first(name, with_comma) for name in names}
    turned = {fold(plain_of[name]) for name in with_comma}
    weight: Counter[str] = Counter()
    for name in names:
        weight[fold(plain_of[name])] += counts[name]

    def quality(name: str) -> tuple[bool, int, bool, int, int, str]:
        plain = plain_of[name]
        accents = sum(ord(letter) > 127 for letter in plain)
        cased = not plain.islower() and not any(len(part) > 2 and part.isupper() for part in plain.split())
        return (bool(spellings(plain) & turned), weight[fold(plain)], cased, accents, counts[name], plain)

    best = spaces(plain_of[max(names, key=quality)])
    is_plain = best.replace(" ", "").replace("-", "").isalpha()
    return best.title() if is_plain and (best.islower() or (best.isupper() and len(best) > 3)) else best


def _first_name_first(name: str) -> str:
    last, comma, first = name.partition(",")
    return f"{first.strip()} {last.strip()}".strip() if comma else name


def _given_first(name: str, with_comma: Iterable[str]) -> str:
    """The name with the first name first, by its own comma or by that of another way of writing it."""
    parts = name.split()
    if "," in name:
        return _first_name_first(name)
    for form in sorted(with_comma):
        last, _, first = form.partition(",")
        for cut in range(1, len(parts)):
            if fold(" ".join(parts[:cut])) == fold(last) and fold(" ".join(parts[cut:])) == fold(first):
                return " ".join(parts[cut:] + parts[:cut])
    return name


_NOT_A_NAME = re.compile(r"\d|[@#/\\=:;|]")


_LEAST_OF_A_COMPOUND = 4  # letters of either part


def _is_compound(word: str, generic: frozenset[str]) -> bool:
    """Whether a word is put together of two generic ones, as in German, Dutch and the Nordic languages: "höstlogg"."""
    cuts = range(_LEAST_OF_A_COMPOUND, len(word) - _LEAST_OF_A_COMPOUND + 1)
    return any(word[cut:] in generic and {word[:cut], word[: cut - 1]} & generic for cut in cuts)


def _may_be_of_a_name(piece: str, generic: frozenset[str], vocabularies: Iterable[Container[str]]) -> bool:
    word = fold(piece)
    known = any(word in one for one in vocabularies)
    return bool(word) and not known and not _is_compound(word, generic) and not _NOT_A_NAME.search(piece)


def looks_like_a_name(text: str, generic: frozenset[str], *vocabularies: Container[str]) -> str | None:
    """The person whom a sheet's or file's name or a title may name: what is left without generic words and numbers.

    vocabularies: folded words that name no person.
    """
    pieces = [
        piece for piece in re.split(r"[\s_\-–—,()\[\].+&]+", re.sub(r"(?<=[a-zà-ÿ])(?=[A-ZÀ-Þ])", " ", text)) if piece
    ]
    left = [piece for piece in pieces if _may_be_of_a_name(piece, generic, (generic, *vocabularies))]
    if (
        not 1 <= len(left) <= 3
        or max(len(piece) for piece in left) < 2
        or not all(piece.replace("'", "").isalpha() for piece in left)
    ):
        return None
    return " ".join(left)
