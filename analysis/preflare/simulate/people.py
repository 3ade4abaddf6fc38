"""The invented lifters of an invented club, and the ways in which their names get written. Nobody here is real."""

import unicodedata
from dataclasses import dataclass

CLUB = "Lantern Quay Barbell Club"
FIRST_NAMES = (
    "Aoife", "Björn", "Cécile", "Dónal", "Esperança", "Françoise", "Gülşen", "Håkon", "Iñaki", "Jürgen", "Kateřina",
    "Lars", "Måns", "Nađa", "Océane", "Paweł", "Queralt", "Raúl", "Søren", "Tomáš", "Úrsula", "Věra", "Wiktoria", "Zoë",
)  # fmt: skip
LAST_NAMES = (
    "Ní Chorrbhuí", "Hakelund", "Montrevaux", "Creaghmore", "Vilardell i Roç", "Auberlin", "Akdereli", "Støveland",
    "Urrestiberri", "Weißkamp", "Mlynářiková", "Ødegrav", "Tallberghe", "Vukomirić", "Trémaillon", "Grzmotny",
    "Fontanillé", "Peñascosa", "Kvistborgå", "Vraníkovec", "Benavéliz", "Kaménková", "Złotowicka", "Lambrechtse",
)  # fmt: skip
NICKNAMES = {
    "Björn": "Bear", "Esperança": "Espe", "Gülşen": "Gigi", "Jürgen": "Jogi", "Kateřina": "Katka", "Paweł": "Pablo",
    "Queralt": "Queri", "Tomáš": "Tomi", "Wiktoria": "Wika", "Françoise": "Fanfan", "Iñaki": "Naki", "Søren": "Sorre",
}  # fmt: skip
# Letters that do not come apart into a plain one and a mark.
PLAIN = str.maketrans({"ł": "l", "Ł": "L", "ø": "o", "Ø": "O", "đ": "d", "Đ": "D", "ß": "ss", "å": "a", "Å": "A"})


@dataclass(frozen=True)
class Person:
    """One lifter. name: as the club writes it."""

    first: str
    last: str

    @property
    def name(self) -> str:
        return f"{self.first} {self.last}"

    @property
    def plain(self) -> str:
        """Without accents, as typed on a phone."""
        return without_accents(self.name)

    @property
    def initial(self) -> str:
        """First name by its initial."""
        return f"{self.first[0]}. {self.last}"

    @property
    def swapped(self) -> str:
        """Last name first."""
        return f"{self.last} {self.first}"

    @property
    def nickname(self) -> str | None:
        """Known to the club, so season.toml has to say whose it is."""
        return NICKNAMES.get(self.first)


def without_accents(text: str) -> str:
    decomposed = unicodedata.normalize("NFD", text.translate(PLAIN))
    return "".join(letter for letter in decomposed if not unicodedata.combining(letter))


def club(n: int) -> list[Person]:
    """n lifters, no two of one name: first 24 in order, then first names paired with other last names."""
    people = []
    for i in range(n):
        turn, place = divmod(i, len(FIRST_NAMES))
        people.append(Person(FIRST_NAMES[place], LAST_NAMES[(place + 7 * turn) % len(LAST_NAMES)]))
    return people
