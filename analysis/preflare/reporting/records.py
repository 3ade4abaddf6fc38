"""The page record: what one page says, in order, before anything is HTML or PDF. Both writers read the same record."""

from dataclasses import dataclass, field
from typing import Literal

SpanKind = Literal["plain", "estimate", "strong", "soft", "link", "day"]


@dataclass(frozen=True, slots=True)
class Span:
    """A run of words set in one way. estimate: slanted; soft: second ink; link: leads to href; day: a date.

    sort: what a table sorts it by: a day's date (ISO 8601), an estimate's number. language: of words in another
    language than the page's own.
    """

    text: str
    kind: SpanKind = "plain"
    href: str = ""
    sort: str = ""
    language: str = ""


Text = tuple[Span, ...]


def plain(text: Text) -> str:
    """A text without its setting."""
    return "".join(span.text for span in text)


@dataclass(frozen=True, slots=True)
class Paragraph:
    """One paragraph. role says how it is set: text, small, cannot (behind the double rule), caution, warning."""

    text: Text
    role: str = "text"
    kind: str = "paragraph"


@dataclass(frozen=True, slots=True)
class Items:
    """A list of short texts. role: plain or checks."""

    items: tuple[Text, ...]
    role: str = "plain"
    kind: str = "items"


@dataclass(frozen=True, slots=True)
class Table:
    """A table: its caption, the names of its columns, its rows. The first cell of a row names the row."""

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[Text, ...], ...]
    file: str = ""  # the name under tables/ that holds the same numbers, "" for none
    is_folded: bool = False  # behind a fold in HTML, left out of print and PDF
    kind: str = "table"


@dataclass(frozen=True, slots=True)
class Figure:
    """A chart, drawn for the page and for the phone, with the words that stand for it and the numbers behind it."""

    name: str
    wide: str  # SVG
    narrow: str  # SVG; "" where one drawing serves both
    alternative: str
    caption: Text = ()
    table: Table | None = None
    kind: str = "figure"


@dataclass(frozen=True, slots=True)
class FindingBlock:
    """One finding: grade with its mark, what it is about, the sentence, small print, and the pair of rulers."""

    id: str
    grade: str  # canonical grade, names the mark
    grade_word: str
    label: str
    sentence: Text
    small: tuple[Text, ...]
    figure: Figure | None
    behind: tuple[Table, ...] = ()  # behind a fold: the numbers, the checks, the other readings
    kind: str = "finding"


@dataclass(frozen=True, slots=True)
class Headline:
    """One line of the short answer: a grade and one sentence. Without a grade: what these logs cannot say.

    lines: where the sentence tells of several findings, one line each below it.
    """

    grade: str
    grade_word: str
    sentence: Text
    lines: tuple[Text, ...] = ()


@dataclass(frozen=True, slots=True)
class Person:
    """One athlete in the list: name, page, strip of the season, counts."""

    name: str
    href: str
    figure: Figure | None
    facts: Text
    kind: str = "person"


@dataclass(frozen=True, slots=True)
class Part:
    """A heading of the second order inside a section, with its own blocks."""

    title: str
    blocks: tuple["Block", ...]
    id: str = ""
    kind: str = "part"


Block = Paragraph | Items | Table | Figure | FindingBlock | Person | Part


@dataclass(frozen=True, slots=True)
class Section:
    """A question and its answer."""

    id: str
    question: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Page:
    """A whole page. now: who needs a look when the logs end. home: the relative path of the team page, "" on itself.

    made_at: when findings.json was made, ISO 8601, "" where it does not say; the PDF bears that time, not its own.
    """

    language: str
    document_title: str
    place: str  # club or season, above the title
    kind_of_page: str
    title: str
    headlines: tuple[Headline, ...]
    lead: Text
    now: Text
    masthead: Figure | None
    facts: Text
    short_caution: Text
    privacy: Text
    sections: tuple[Section, ...]
    cautions_title: str
    cautions: tuple[Text, ...]
    words: dict[str, str] = field(default_factory=dict)  # fixed words of the frame: skip link, jump list, fold
    signs: dict[str, str] = field(default_factory=dict)  # decimal and thousands, for the script that sorts tables
    home: str = ""
    home_word: str = ""
    made_at: str = ""


def figures(page: Page) -> list[Figure]:
    """Every chart of a page, in order."""
    found = [page.masthead] if page.masthead else []
    for section in page.sections:
        found += _figures_in(section.blocks)
    return found


def _figures_in(blocks: tuple[Block, ...]) -> list[Figure]:
    found: list[Figure] = []
    for block in blocks:
        if isinstance(block, Figure):
            found.append(block)
        elif isinstance(block, Part):
            found += _figures_in(block.blocks)
        elif isinstance(block, FindingBlock | Person) and block.figure:
            found.append(block.figure)
    return found
