"""Audits every page of a review folder with axe-core in headless Chromium: python tests/reporting/audit.py review

Rules: those of axe-core tagged WCAG 2.0, 2.1 and 2.2, A and AA. Each page is read at a desktop's and at a phone's width
with all folds open, without any network. Ends with 0 where nothing was found, with 1 where something was, with 2 where
there was nothing to audit or no browser.
"""

import json
import os
import shutil
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import axe_playwright_python
from playwright import sync_api

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa"]
WIDTHS = {"desktop": (1280, 800), "phone": (390, 844)}
PROGRAMS = ("chromium", "chromium-browser", "google-chrome")


@dataclass(frozen=True)
class Audit:
    """What axe-core said of one page: the number of rules passed; (rule, places, the first place) of each violation."""

    passes: int
    violations: list[tuple[str, int, str]]


@contextmanager
def headless(chromium: str) -> Iterator[Any]:
    """A headless Chromium that asks nobody anything."""
    flags = ["--disable-gpu", "--no-first-run", "--disable-background-networking"]
    flags += ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
    with sync_api.sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=flags)
        yield browser
        browser.close()


def audited(page: Any) -> Audit:
    """An open page, put before axe-core (from its Python package) with all folds open."""
    axe = Path(axe_playwright_python.__file__).with_name("axe.min.js").read_text(encoding="utf-8")
    page.evaluate("for (const d of document.querySelectorAll('details')) d.open = true")
    page.evaluate(axe)
    found = page.evaluate(f"axe.run(document, {{runOnly: {json.dumps(TAGS)}}})")
    told = [(v["id"], len(v["nodes"]), v["nodes"][0]["html"][:120]) for v in found["violations"]]
    return Audit(len(found["passes"]), told)


def audited_folder(folder: Path, chromium: str) -> Iterator[tuple[str, str, Audit]]:
    """Every page under a folder at every width: its path in the folder, the width's name, the audit."""
    with headless(chromium) as browser:
        for path in sorted(folder.rglob("*.html")):
            for width, (wide, high) in WIDTHS.items():
                context = browser.new_context(viewport={"width": wide, "height": high}, offline=True)
                page = context.new_page()
                page.goto(path.resolve().as_uri())
                yield path.relative_to(folder).as_posix(), width, audited(page)
                context.close()


def main(arguments: list[str]) -> int:
    """The command. Prints a line a page and width, a line a violation, and the sum."""
    folder = Path(arguments[0]) if len(arguments) == 1 else None
    if folder is None or not any(folder.rglob("*.html")):
        print("Name one folder that holds HTML pages: python tests/reporting/audit.py review", file=sys.stderr)
        return 2
    chromium = next(filter(None, map(shutil.which, PROGRAMS)), None)
    if chromium is None:
        print(f"No {' or '.join(PROGRAMS)} on this machine (Debian package chromium).", file=sys.stderr)
        return 2
    audits = violations = 0
    for name, width, audit in audited_folder(folder, chromium):
        audits, violations = audits + 1, violations + len(audit.violations)
        print(f"{name}, {width}: {audit.passes} rules passed, {len(audit.violations)} violated")
        for rule, places, first in audit.violations:
            print(f"    {rule} in {places} places, first: {first}")
    print(f"{audits} audits of {audits // len(WIDTHS)} pages: {violations} violations of WCAG 2.2 A and AA.")
    return 1 if violations else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
