"""From findings and views to files: the team page, a page an athlete, the page on the logs, PDFs, tables."""

import json
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import joblib
import pandas as pd

from preflare.errors import PreflareError
from preflare.reporting.athlete import athlete_page
from preflare.reporting.fonts import font_faces
from preflare.reporting.html import html_page
from preflare.reporting.logs import logs_page
from preflare.reporting.material import Material
from preflare.reporting.names import Disguise, Naming, file_names, shown_names
from preflare.reporting.pdf import pdf_page
from preflare.reporting.records import Page
from preflare.reporting.tables import write_tables
from preflare.reporting.team import team_page
from preflare.reporting.views import of_athlete, rows, season_of, view
from preflare.reporting.words import Words, load_words

Tell = Callable[[str], None]
_FEW = 6  # below this many athletes a second process costs more than it saves


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
    files = file_names([a["name"] for a in athletes])
    material = Material(findings, views, words, season_of(findings, views), files)
    faces = font_faces(_letters(findings, views, words))
    try:
        (out / "athletes").mkdir(parents=True, exist_ok=True)
        progress("the team page and the page on the logs")
        written = _write(team_page(material), out / "team", faces)
        written += _write(logs_page(material), out / "logs", faces, with_pdf=False)
        progress(f"the athletes' pages, {len(athletes)} in all")
        written += _athletes(material, out / "athletes", faces)
        progress("the tables")
        return written + write_tables(findings, views, out)
    except OSError as problem:
        raise PreflareError(
            f"{problem.filename or out}: cannot be written ({problem.strerror}). Choose another folder."
        ) from None


def _athletes(material: Material, folder: Path, faces: str) -> list[Path]:
    """Every athlete's page, on all cores where there are many."""
    athletes = material.findings.get("athletes") or []
    jobs = [
        joblib.delayed(_one_athlete)(a, _for_athlete(material, a), folder / material.files[a["name"]], faces)
        for a in athletes
    ]
    cores = 1 if len(jobs) < _FEW else min(joblib.cpu_count(), len(jobs))
    return [path for paths in joblib.Parallel(n_jobs=cores)(jobs) for path in paths]


def _for_athlete(material: Material, athlete: dict[str, Any]) -> Material:
    """The material with that athlete's rows alone, so that little travels to another process."""
    shared = {key: material.findings.get(key) for key in ("season", "definitions")}
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


def disguised(
    findings: dict[str, Any], views: Mapping[str, pd.DataFrame], naming: Naming, words: Words
) -> tuple[dict[str, Any], dict[str, pd.DataFrame]]:
    """Findings and views with people shown as asked for. Free text is left out of reports that name nobody."""
    if naming == "full":
        return findings, dict(views)
    people = rows(view(views, "person"))
    written = {p["name"]: [str(w) for w in p["written"]] for p in people}
    names = [a["name"] for a in findings.get("athletes") or []] + list(written)
    disguise = Disguise(shown_names(names, naming), written)
    shown = {name: disguise.frame(frame) for name, frame in views.items()}
    left_out = words.text("table.left_out")
    for name, column in (("rejected_row", "value"), ("note_report", "evidence"), ("person", "written")):
        if name in shown and len(shown[name]):
            shown[name] = shown[name].assign(**{column: [[] if column == "written" else left_out] * len(shown[name])})
    return disguise.data(findings), shown


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
