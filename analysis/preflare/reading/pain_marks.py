"""A text about pain with its words marked with what each can be, and the ratings in it."""

from dataclasses import dataclass, field

Hit = tuple[int, int, str]  # first word, word behind the last, what it is


@dataclass(frozen=True, slots=True)
class Value:
    """A rating in a text: the words first to last - 1. is_odd: no number from 0 to 10, or doubtful ("3?", "3/5")."""

    first: int
    last: int
    rating: float
    is_range: bool
    out_of_ten: bool
    is_odd: bool = False
    is_corrected: bool = False


@dataclass(slots=True)
class Marked:
    """A text with its words marked. hits: role -> where its words stand; cuts: word -> "stop", "comma" or "soft"."""

    text: str
    words: list[str]
    spans: list[tuple[int, int]]
    hits: dict[str, list[Hit]] = field(default_factory=dict)
    values: list[Value] = field(default_factory=list)
    cuts: dict[int, str] = field(default_factory=dict)
    counted: set[int] = field(default_factory=set)  # words that are numbers and no ratings
    has_work: bool = False  # sets and loads stand in it
    has_people: bool = False  # a letter stands before a side in words ("R dx 2"): letters may be people's
    slips: dict[str, str] = field(default_factory=dict)  # word that is a slip of the pen -> the site meant

    def within(self, role: str, first: int, last: int) -> list[Hit]:
        """The hits of a role between two words."""
        return [hit for hit in self.hits.get(role, []) if first <= hit[0] and hit[1] <= last]

    def written(self, first: int, last: int) -> str:
        """The text from one word up to another, with what stands around it up to the next word."""
        start = 0 if first == 0 else self.spans[first][0]
        end = len(self.text) if last >= len(self.words) else self.spans[last - 1][1]
        return self.text[start:end].strip(" \t\n,;/|-–—")
