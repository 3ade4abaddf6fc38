"""From findings and views to files: the team page, a page an athlete, the page on the logs, PDFs, tables."""

import json
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import joblib
import pandas as pd

from preflare.errors import PreflareError
from preflare.reporting.athlete import athlete_page
from preflare.reporting.disguise import disguised
from preflare.reporting.fonts import font_faces
from preflare.reporting.html import html_page
from preflare.reporting.logs import logs_page
from preflare.reporting.material import Material
from preflare.reporting.names import Naming, file_names
from preflare.reporting.pdf import pdf_page
from preflare.reporting.records import Page
from preflare.reporting.tables import write_tables
from preflare.reporting.team import team_page
from preflare.reporting.views import of_athlete, season_of
from preflare.reporting.words import Words, load_words

Tell = Callable[[str], None]
_SLUG = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_LISTING = ".written_reports.json"
_TEAM_PAGE, _START = 6, 5  # what the team page, and the start of another process, cost in athletes' pages (measured)


def _silent(stage: str) -> None:
    """Tells nobody of the stage that begins."""


def write_reports(
    findings: Mapping[str, Any],
    views: Mapping[str, pd.DataFrame],
    out: Path,
    names: Naming = "full",
    progress: Tell = _silent,
    language: str = "en",
) -> list[Path]:
    """Writes team.html and .pdf, athletes/NAME.html and .pdf, logs.html and tables/*.csv into the folder `out`.

    findings: the content of findings.json. views: the store's views, as views_needed says. names: how people appear,
    in texts, pictures, tables and file names alike. Returns the files written. Raises PreflareError in plain words.
    """
    words = load_words(language)
    findings, views = disguised(dict(findings), views, names, words)
    athletes = findings.get("athletes") or []
    files = athlete_files(athletes, names)
    material = Material(findings, views, words, season_of(findings, views), files)
    faces = font_faces(_letters(findings, views, words))
    try:
        (out / "athletes").mkdir(parents=True, exist_ok=True)
        jobs = [(a, _for_athlete(material, a), out / "athletes" / material.files[a["name"]], faces) for a in athletes]
        mine = share_of_this_process(len(jobs), joblib.cpu_count())
        with _elsewhere(jobs[mine:]) as others:
            progress("the team page and the page on the logs")
            written = _write(team_page(material), out / "team", faces)
            written += _write(logs_page(material), out / "logs", faces, with_pdf=False)
            progress(f"the athletes' pages, {len(athletes)} in all")
            written += [path for job in jobs[:mine] for path in _one_athlete(*job)]
            written += [path for paths in others for path in paths]
        progress("the tables")
        written += write_tables(findings, views, out)
        _remove_what_is_out_of_date(out, written)
        return written
    except OSError as problem:
        raise PreflareError(
            f"{problem.filename or out}: cannot be written ({problem.strerror}). Choose another folder."
        ) from None


def _remove_what_is_out_of_date(out: Path, written: list[Path]) -> None:
    """Removes files that an earlier run wrote here and this one did not: pages of people now gone or renamed.

    Only files on the list that the earlier run left are touched, and only below `out`.
    """
    now = {path.relative_to(out).as_posix() for path in written}
    listing = out / _LISTING
    before = json.loads(listing.read_text(encoding="utf-8")) if listing.is_file() else []
    for name in set(map(str, before)) - now:
        path = (out / name).resolve()
        if path.is_relative_to(out.resolve()) and path.is_file():
            path.unlink()
    listing.write_text(json.dumps(sorted(now), indent=1, ensure_ascii=False), encoding="utf-8")


def athlete_files(athletes: list[dict[str, Any]], naming: Naming) -> dict[str, str]:
    """The file name of each athlete's page: the slug of findings.json, or one made from the name as it is shown."""
    slugs = [str(a.get("slug") or "") for a in athletes]
    if naming == "full" and all(map(_SLUG.fullmatch, slugs)) and len(set(slugs)) == len(slugs):
        return {a["name"]: slug for a, slug in zip(athletes, slugs, strict=True)}
    return file_names([a["name"] for a in athletes])


Job = tuple[dict[str, Any], Material, Path, str]


def share_of_this_process(n_athletes: int, cores: int) -> int:
    """How many athletes' pages this process writes beside the team page, so that all processes end together."""
    others = cores - 1
    if not others:
        return n_athletes
    each = (n_athletes + _TEAM_PAGE + _START * others) / cores
    return min(n_athletes, max(0, round(each - _TEAM_PAGE)))


@contextmanager
def _elsewhere(jobs: list[Job]) -> Iterator[Iterable[list[Path]]]:
    """The pages of `jobs`, being written by other processes while this one goes on; their paths in order."""
    if not jobs:
        yield ()
        return
    workers = min(joblib.cpu_count() - 1, len(jobs))
    with joblib.Parallel(n_jobs=workers, return_as="generator", batch_size=1) as parallel:
        yield parallel(joblib.delayed(_one_athlete)(*job) for job in jobs)


def _for_athlete(material: Material, athlete: dict[str, Any]) -> Material:
    """The material with that athlete's rows alone, so that little travels to another process."""
    shared = {key: material.findings.get(key) for key in ("season", "definitions", "made")}
    shared["findings"] = [{"id": f["id"], "question": f["question"]} for f in material.findings.get("findings") or []]
    views = of_athlete(material.views, athlete["name"])
    season = season_of(dict(material.findings), {**material.views, **views})
    return Material(shared, views, material.words, season, material.files)


def _one_athlete(athlete: dict[str, Any], material: Material, stem: Path, faces: str) -> list[Path]:
    return _write(athlete_page(athlete, material), stem, faces)


def _write(page: Page, stem: Path, faces: str, *, with_pdf: bool = True) -> list[Path]:
    """One page as HTML and, if wanted, as PDF."""
    html = stem.with_name(f"{stem.name}.html")
    html.write_text(html_page(page, faces), encoding="utf-8", newline="\n")
    if not with_pdf:
        return [html]
    pdf = stem.with_name(f"{stem.name}.pdf")
    pdf.write_bytes(pdf_page(page))
    return [html, pdf]


def _letters(findings: Mapping[str, Any], views: Mapping[str, pd.DataFrame], words: Words) -> str:
    """Every letter that the pages may print, so that the embedded font is cut once for all of them."""
    letters = set(json.dumps(findings, ensure_ascii=False, default=str)) | set(
        json.dumps(dict(words.tables), ensure_ascii=False, default=str)
    )
    for frame in views.values():
        for column in frame.columns:
            if not pd.api.types.is_numeric_dtype(frame[column]):
                letters |= set("".join(map(str, frame[column].dropna())))
    return "".join(sorted(letters))
