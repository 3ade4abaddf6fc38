"""What every page is built from, and the small steps that all pages share."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import pandas as pd
from matplotlib.figure import Figure as Drawing

from preflare.reporting.charts.frame import Season
from preflare.reporting.charts.svg import drawn
from preflare.reporting.records import Figure, Page, Paragraph, Section, Span, Table, Text
from preflare.reporting.words import Words, as_text


@dataclass(frozen=True)
class Material:
    """findings.json, the store's views, the words, the time axis, and the file name of each athlete's page."""

    findings: Mapping[str, Any]
    views: Mapping[str, pd.DataFrame]
    words: Words
    season: Season | None
    files: Mapping[str, str] = field(default_factory=dict)

    @property
    def primary(self) -> list[dict[str, Any]]:
        """The findings about the squad's primary questions, in the order of findings.json."""
        return [f for f in self.findings.get("findings", []) if f["question"].get("primary", True)]


def figure(
    name: str,
    draw: Callable[[bool], Drawing],
    alternative: str,
    caption: Text = (),
    table: Table | None = None,
    *,
    once: bool = False,
) -> Figure:
    """A chart drawn for the page and for the phone (`draw(narrow)`); `once` where one drawing serves both."""
    wide = drawn(lambda: draw(False), f"{name}-w")
    narrow = "" if once else drawn(lambda: draw(True), f"{name}-n")
    return Figure(name, wide, narrow, alternative, caption, table)


def paragraph(words: Words, key: str, role: str = "text", **fields: Any) -> Paragraph:
    """One paragraph of the language file, filled."""
    return Paragraph(words.spans(key, **fields), role)


def table(
    caption: str, head: Sequence[str], body: Sequence[Sequence[Any]], file: str = "", *, folded: bool = False
) -> Table:
    """A table whose cells may be plain values, estimates, links or texts."""
    return Table(caption, tuple(head), tuple(tuple(as_text(cell) for cell in row) for row in body), file, folded)


def section(words: Words, key: str, *blocks: Any) -> Section:
    """A question of the language file with its answer; blocks that are None are left out."""
    return Section(key.rpartition(".")[2], words.text(f"{key}.question"), tuple(b for b in blocks if b is not None))


def strong(text: str) -> Span:
    """Words that stand out."""
    return Span(text, "strong")


def framed(
    material: Material, key: str, *, title: str, sections: Sequence[Section], home: str = "", **parts: Any
) -> Page:
    """A page with what all pages carry: place, cautions, who may see it, the fixed words of the frame."""
    words, told = material.words, material.findings.get("season") or {}
    place = str(told.get("name") or words.text("page.no_season_name"))
    frame = {
        name: words.text(f"frame.{name}")
        for name in ("skip", "jump", "fold", "print_more", "columns", "alternative", "footer", "all_cautions")
    }
    return Page(
        language=words.language,
        document_title=words.text(f"{key}.document_title", title=title, place=place),
        place=place,
        kind_of_page=words.text(f"{key}.kind_of_page", dates=parts.pop("dates", "")),
        title=title,
        headlines=parts.pop("headlines", ()),
        lead=parts.pop("lead", ()),
        now=parts.pop("now", ()),
        masthead=parts.pop("masthead", None),
        facts=parts.pop("facts", ()),
        short_caution=words.spans("caution.short"),
        privacy=words.spans("caution.privacy"),
        sections=tuple(sections),
        cautions_title=words.text("caution.title"),
        cautions=tuple(as_text(sentence) for sentence in words.get("caution.whole")),
        words=frame,
        signs={sign: str(words.get(f"number.{sign}")) for sign in ("decimal", "thousands")},
        home=home,
        home_word=words.text("frame.home"),
        made_at=str((material.findings.get("made") or {}).get("when") or ""),
    )
