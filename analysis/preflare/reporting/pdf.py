"""The page record as a tagged PDF (PDF/UA-1) through typst: offline, fonts embedded, the same bytes every time."""

import json
import re
from dataclasses import asdict
from datetime import datetime
from typing import Any

import typst

from preflare.errors import PreflareError
from preflare.reporting.fonts import boxed, font_folder
from preflare.reporting.records import Page, figures
from preflare.resources import resource


def pdf_page(page: Page) -> bytes:
    """The page as PDF/UA-1. Letters that its fonts lack become a box. Raises PreflareError with the writer's reason."""
    template = (resource("reports") / "page.typ").read_bytes()
    files: Any = {"main.typ": template} | {
        f"{chart.name}.svg": boxed(chart.wide).encode("utf-8") for chart in figures(page)
    }
    data = json.dumps(_plain(asdict(page)), ensure_ascii=False)
    try:
        pdf, warnings = typst.compile_with_warnings(
            files,
            sys_inputs={"data": data},
            font_paths=[font_folder()],
            ignore_system_fonts=True,
            pdf_standards="ua-1",
            timestamp=_seconds(page.made_at),
        )
    except typst.TypstError as problem:
        raise PreflareError(f"{page.title}: the PDF could not be written: {problem}") from problem
    if warnings:
        raise PreflareError(f"{page.title}: the PDF writer warns: {warnings[0].message}")
    return bytes(pdf)


def _seconds(made_at: str) -> int:
    """The time of findings.json in seconds since 1970, so that the same findings give the same PDF; 0 without one."""
    return int(datetime.fromisoformat(made_at).timestamp()) if made_at else 0


_LONG_WORD = re.compile(r"\S{36,}")
"""A word of that length may be broken anywhere (by zero-width spaces), so that none runs off the sheet."""


def _plain(value: Any) -> Any:
    """The record as JSON with boxed letters; drawings travel beside it and stay out."""
    if isinstance(value, str):
        return _LONG_WORD.sub(lambda word: "\u200b".join(word[0]), boxed(value))
    if isinstance(value, dict):
        drawing = {"name": value["name"], "wide": "", "narrow": ""} if value.get("kind") == "figure" else {}
        return {key: _plain(item) for key, item in value.items() if key not in drawing} | drawing
    if isinstance(value, list | tuple):
        return [_plain(item) for item in value]
    return value
