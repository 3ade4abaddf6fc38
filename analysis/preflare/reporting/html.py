"""The page record as one HTML file: no request to anywhere, readable without script, everything escaped."""

from functools import lru_cache

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from preflare.reporting.records import Page, Span, Text
from preflare.resources import resource


def html_page(page: Page, faces: str) -> str:
    """The page as HTML. faces: the embedded letters as CSS (fonts.font_faces)."""
    return (
        _environment()
        .get_template("page.html.jinja")
        .render(page=page, faces=Markup(faces), css=Markup(_stylesheet()), script=Markup(_script()))
    )


@lru_cache(maxsize=1)
def _environment() -> Environment:
    environment = Environment(
        loader=FileSystemLoader(resource("reports")),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["set"] = _set
    environment.filters["svg"] = _svg
    return environment


@lru_cache(maxsize=1)
def _stylesheet() -> str:
    return (resource("reports") / "page.css").read_text(encoding="utf-8")


@lru_cache(maxsize=1)
def _script() -> str:
    return (resource("reports") / "sort.js").read_text(encoding="utf-8")


_TAGS = {"estimate": ("<em>", "</em>"), "strong": ("<b>", "</b>"), "soft": ('<span class="soft">', "</span>")}


def _set(text: Text) -> Markup:
    """Spans as HTML: estimates slanted, links followed, all words escaped."""
    return Markup("").join(_span(span) for span in text)


def _span(span: Span) -> Markup:
    words = _unbroken(span.text)
    if span.language:
        words = Markup('<span lang="{}">{}</span>').format(span.language, words)
    if span.kind == "day":
        return Markup('<time datetime="{}">{}</time>').format(span.sort, words)
    if span.kind == "estimate" and span.sort:
        return Markup('<em data-sort="{}">{}</em>').format(span.sort, words)
    if span.kind == "link":
        return Markup('<a href="{}">{}</a>').format(span.href, words)
    before, after = _TAGS.get(span.kind, ("", ""))
    return Markup(before) + words + Markup(after)


def _unbroken(text: str) -> Markup:
    """The words escaped, with no line break before a per cent sign."""
    return Markup.escape(text.replace(" %", "\u00a0%"))


def _svg(drawing: str, css_class: str, alternative: str) -> Markup:
    """A drawing with its text alternative, as an image to a screen reader."""
    label = Markup.escape(alternative)
    return Markup(drawing.replace("<svg ", f'<svg class="{css_class}" role="img" aria-label="{label}" ', 1))
