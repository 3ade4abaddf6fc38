"""One season from logs to reports: the object that a notebook holds, and the work behind each command.

Ties the rooms together and adds no statistics of its own:
logs -> reading -> store -> exposures -> models and findings -> reporting.
Heavy rooms are imported where they are used, so that `preflare --help` stays quick.
"""

import os
import time
from collections.abc import Callable, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from preflare import __version__
from preflare.errors import PreflareError, UsageError
from preflare.settings import SETTINGS_FILE, Settings, languages, load_settings

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pandas import DataFrame

    from preflare.reading.rows import Logs
    from preflare.reporting.names import Naming
    from preflare.store import ImportSummary, Query, Store

Tell = Callable[[str], None]
STORE_FILE = "season.duckdb"
FINDINGS_FILE = "findings.json"


def _silent(stage: str) -> None:
    """Tells nobody of the stage that begins."""


@dataclass
class Result:
    """What a command has to say: its summary by line, seconds by stage, and what could not be done, if anything."""

    summary: list[str] = field(default_factory=list)
    seconds: dict[str, float] = field(default_factory=dict)
    problem: str | None = None

    @contextmanager
    def stage(self, name: str, tell: Tell) -> "Iterator[None]":
        """Times one stage and tells that it begins."""
        tell(name)
        begun = time.perf_counter()
        yield
        self.seconds[name] = time.perf_counter() - begun


class Season:
    """One season's store, with everything that can be asked of it.

    >>> with Season.open("review/season.duckdb") as season:  # doctest: +SKIP
    ...     season.frame()             # one row per squat session: exposures, outcome, what was known before
    ...     season.findings()          # the whole findings.json as a dictionary
    ...     season.report("review")    # pages, PDFs and tables
    """

    def __init__(self, store: "Store") -> None:
        self.store = store

    @classmethod
    def open(cls, path: str | os.PathLike[str], *, read_only: bool = False) -> "Season":
        """The season in the DuckDB file at `path`; made if absent, unless read_only. Raises PreflareError in words."""
        from preflare.store import Store

        return cls(Store.open(Path(path), read_only=read_only))

    def __enter__(self) -> "Season":
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Lets go of the store's file."""
        self.store.close()

    @property
    def settings(self) -> Settings:
        """The settings that were stored with the last import."""
        return self.store.settings()

    def import_logs(
        self, logs: Sequence[Path], season_file: Path | None = None, tell: Tell = _silent
    ) -> "ImportSummary":
        """Reads logs (files or folders) into the store, whole or not at all. Raises PreflareError in words."""
        return self.store_read(read_everything(logs, season_file, tell))

    def store_read(self, read: "Read") -> "ImportSummary":
        """Puts into the store what was read, whole or not at all."""
        return self.store.import_logs(read.logs, read.settings, read.settings_text, own_queries=read.own_queries)

    def frame(self) -> "DataFrame":
        """One row per squat session; columns and units in `preflare.exposures.MODEL_FRAME`."""
        from preflare.exposures import model_frame

        return model_frame(self.store)

    def findings(self, frame: "DataFrame | None" = None, language: str | None = None) -> dict[str, Any]:
        """The content of findings.json: graded findings, curves, surveillance, athletes, definitions, accounting.

        language: of every sentence, ISO 639-1; that of season.toml where not given.
        """
        from preflare.exposures import finding_context
        from preflare.findings import review

        frame = self.frame() if frame is None else frame
        context = {"made": made(self.settings), **finding_context(self.store)}
        return review(frame, self.settings, context, language)

    def report(
        self,
        out: str | os.PathLike[str],
        findings: dict[str, Any] | None = None,
        names: "Naming" = "full",
        tell: Tell = _silent,
        frame: "DataFrame | None" = None,
        language: str | None = None,
    ) -> list[Path]:
        """Writes the pages, their PDFs and the tables into the folder `out`; returns what was written.

        findings, frame: what `findings()` and `frame()` gave, if they were asked already. language: of the pages,
        ISO 639-1; that of season.toml where not given. Sentences of `findings` stay in the language they were made in.
        """
        from preflare.exposures import report_views
        from preflare.reporting import write_reports

        frame = self.frame() if frame is None else frame
        language = language or self.settings.season.language
        findings = self.findings(frame, language) if findings is None else findings
        return write_reports(findings, report_views(self.store, frame), Path(out), names, tell, language)


def made(settings: Settings) -> dict[str, Any]:
    """Who made a findings.json, when, and with what: program and library versions, and the seed."""
    from datetime import UTC, datetime
    from importlib.metadata import version
    from platform import python_version

    libraries = ("numpy", "scipy", "pandas", "duckdb", "statsmodels", "matplotlib")
    return {
        "program": "preflare",
        "version": __version__,
        "when": datetime.now(UTC).isoformat(timespec="seconds"),
        "seed": settings.season.seed,
        "python": python_version(),
        "libraries": {name: version(name) for name in libraries},
    }


@dataclass(frozen=True)
class Read:
    """What the files said, before anything is stored."""

    logs: "Logs"
    settings: Settings
    settings_text: str
    own_queries: "tuple[Query, ...]"


def read_everything(logs: Sequence[Path], season_file: Path | None, tell: Tell = _silent) -> Read:
    """Logs and season.toml, read whole. Raises UsageError for a path that is not there, before any work."""
    for path in logs:
        if not path.exists():
            raise UsageError(f"{path}: there is no such file or folder. Check the spelling and try again.")
    season_file = season_file or find_season_file(logs)
    settings = load_settings(season_file)
    text = season_file.read_text(encoding="utf-8-sig") if season_file else ""
    own = _own_queries(settings, season_file)
    from preflare.reading import read_logs

    return Read(read_logs(logs, settings, tell), settings, text, own)


def _own_queries(settings: Settings, season_file: Path | None) -> "tuple[Query, ...]":
    """The squad's own exposures: the folder that season.toml names, beside season.toml itself."""
    from preflare.exposures import own_queries

    if settings.season.exposures is None or season_file is None:
        return ()
    return own_queries(season_file.parent / settings.season.exposures)


def find_season_file(logs: Sequence[Path]) -> Path | None:
    """season.toml beside the logs: in the first folder given, or in the folder of the first file given."""
    for path in logs:
        folder = path if path.is_dir() else path.parent
        if (folder / SETTINGS_FILE).is_file():
            return folder / SETTINGS_FILE
    return None


def review_logs(
    logs: Sequence[Path],
    out: Path,
    *,
    season_file: Path | None = None,
    names: "Naming" = "full",
    language: str | None = None,
    tell: Tell = _silent,
) -> Result:
    """Everything that `preflare review` does: logs in, store, findings, reports and tables out.

    language: of findings, pages and summary (ISO 639-1) in the place of season.toml's.
    """
    from preflare.findings import write_findings
    from preflare.summary import closing_summary, what_is_missing

    check_language(language)
    make_writable(out)
    result = Result()
    with result.stage("Reading the logs", tell):
        read = read_everything(logs, season_file)
    language = language or read.settings.season.language
    with Season.open(out / STORE_FILE) as season:
        with result.stage("Storing every row", tell):
            imported = season.store_read(read)
            set_aside = season.store.frame("set_aside").to_dict("records")
        with result.stage("Deriving exposures", tell):
            frame = season.frame()
        with result.stage("Fitting the models", tell):
            findings = season.findings(frame, language)
            write_findings(out / FINDINGS_FILE, findings)
        with result.stage("Writing the reports", tell):
            season.report(out, findings, names, frame=frame, language=language)
    result.summary = closing_summary(findings, imported, out, names, language, set_aside)
    result.problem = what_is_missing(findings, language)
    return result


def import_logs(
    logs: Sequence[Path], store: Path, *, season_file: Path | None = None, propose: bool = False, tell: Tell = _silent
) -> Result:
    """Everything that `preflare import` does: logs in, what was assumed and the accounting out."""
    from preflare.reading import propose_sources
    from preflare.summary import import_summary

    make_writable(store.parent)
    result = Result()
    with result.stage("Reading the logs", tell):
        read = read_everything(logs, season_file)
    with result.stage("Storing every row", tell), Season.open(store) as season:
        imported = season.store_read(read)
        sheets, set_aside = (season.store.frame(name).to_dict("records") for name in ("sheet_read", "set_aside"))
        result.summary = import_summary(imported, sheets, set_aside, read.settings.season.language)
        if propose:
            result.summary += ["", propose_sources(read.logs)]
    return result


def check_store(store: Path) -> tuple[list[str], bool]:
    """What a store's logs can and cannot answer, and their problems with places: (lines, whether any is a problem)."""
    from preflare.exposures import log_problems

    if not store.is_file():
        raise UsageError(f"{store}: there is no such store. Make one with: preflare import LOGS --store {store}")
    with Season.open(store, read_only=True) as season:
        return log_problems(season.store)


def simulate_logs(out: Path, *, seed: int, n_athletes: int, world: str) -> list[str]:
    """Writes an invented season of logs with known causes into the new or empty folder `out`."""
    from preflare.simulate.logs import write_demo

    if out.exists() and (not out.is_dir() or any(out.iterdir())):
        raise UsageError(f"{out} is not an empty folder. Name a new one, so that nothing of yours is overwritten.")
    make_writable(out)
    files = write_demo(out, seed=seed, n_athletes=n_athletes, world=world)
    return [f"{len(files)} files in {out}. The planted causes are in {out / 'README.md'}.",
            f"Next: preflare review {out} --out review"]  # fmt: skip


def check_language(language: str | None) -> None:
    """Raises UsageError in words for a language that has no file in reports/words; None is season.toml's own."""
    if language is not None and language not in languages():
        known = ", ".join(languages())
        raise UsageError(f'--language {language}: there are no words in "{language}". Known here: {known}.')


def make_writable(folder: Path) -> None:
    """Makes the folder if need be and proves that a file can be written there. Raises PreflareError in words."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        probe = folder / ".preflare-write-test"
        probe.write_bytes(b"")
        probe.unlink()
    except OSError as problem:
        reason = problem.strerror or problem
        raise PreflareError(
            f"{folder}: nothing can be written there ({reason}). Choose another --out folder."
        ) from None
