"""What is said before a text about pain, and what the text itself says: reports and doubts."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

MUSCLES = frozenset({"other", "back", "hip"})  # soreness there is training's, and no pain of a joint


@dataclass(frozen=True, slots=True)
class Said:
    """What a heading, a column or the beginning of a line says of the text below or behind it.

    is_asked: it asks for pain, so that a bare number is a rating. people: letters and names that may stand in the text
    -> person. day: the day of the text, by which weekdays are read. pairs: ("right", "left") or ("before", "after"),
    where "3/1" gives one rating each.
    """

    is_asked: bool = False
    sites: tuple[str, ...] = ()
    side: str | None = None
    moment: str | None = None
    kind: str | None = None
    people: Mapping[str, str] = field(default_factory=dict)
    day: date | None = None
    pairs: tuple[str, str] | None = None


NOTHING_SAID = Said()


@dataclass(frozen=True, slots=True)
class PainSaid:
    """One report in a text, with the words that it was read from.

    site "": neither the text nor what was said names one; moment None: nothing says when; person None: nobody is named.
    """

    site: str
    side: str
    rating: float | None
    severity: str | None
    kind: str
    moment: str | None
    evidence: str
    is_range: bool = False
    person: str | None = None


@dataclass(frozen=True, slots=True)
class Doubt:
    """A piece of a text that speaks of pain and was not read."""

    text: str
    reason: str


@dataclass(slots=True)
class PainText:
    """What a text says of pain."""

    reports: list[PainSaid] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)
    slips: dict[str, str] = field(default_factory=dict)  # words read as the site that they are a slip of


NO_RATING = "this is neither a rating from 0 to 10 nor a known word for pain"
OTHER_SIDE = "it seems to name the other side than its heading or the head of its line"
OUTSIDE = "the rating lies outside 0 to 10"
SEVERAL = "several numbers stand in it, and it is not clear which belongs to what"
OPEN = "it is not clear what the rating is"
