"""Files to sheets: which files there are, what each holds by its content, and why one cannot be read."""

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from preflare.errors import PreflareError
from preflare.reading.delimited import read_delimited
from preflare.reading.workbook import CannotReadError, Sheet, read_workbook

TEXT_SUFFIXES = {".csv": "csv", ".tsv": "tsv", ".txt": "text", ".tab": "tsv"}
WORKBOOK_SUFFIXES = {".xlsx": "xlsx", ".xlsm": "xlsx", ".xls": "xls", ".ods": "ods"}
NOT_LOGS = {".md", ".toml", ".duckdb", ".wal", ".json", ".html", ".ini", ".lock", ".py"}
_PICTURES = {b"\x89PNG": "a picture", b"\xff\xd8\xff": "a picture", b"GIF8": "a picture", b"%PDF": "a PDF"}


@dataclass(frozen=True, slots=True)
class RawFile:
    """One file's sheets, or the plain reason why it was refused."""

    name: str  # path relative to the folder given, forward slashes
    sha256: str
    format: str
    encoding: str | None
    sheets: tuple[Sheet, ...]
    refused: str | None = None
    path: Path | None = None

    def content(self) -> bytes:
        """The bytes of the file once more; nothing when it can no longer be opened."""
        try:
            return self.path.read_bytes() if self.path else b""
        except OSError:
            return b""


def find_files(paths: Sequence[Path]) -> list[tuple[Path, str]]:
    """(path, name relative to what was given) of every file that may be a log, sorted by name.

    Raises PreflareError for a path that is not there and for folders in which nothing could be a log.
    """
    found: dict[str, Path] = {}
    for path in map(Path, paths):
        if path.is_dir():
            for name, file in _walk(path):
                found.setdefault(name, file)
        elif path.is_file():
            found.setdefault(path.name if path.name not in found or found[path.name] == path else str(path), path)
        else:
            raise PreflareError(f"{path}: there is no such file or folder. Check the spelling and try again.")
    if not found:
        shown = ", ".join(str(path) for path in paths) or "nothing"
        raise PreflareError(
            f"{shown}: there are no logs in it. Put CSV, TSV, XLSX, XLS or ODS files there and try again."
        )
    return sorted(((path, name) for name, path in found.items()), key=lambda pair: pair[1])


def _walk(folder: Path) -> Iterator[tuple[str, Path]]:
    for file in sorted(folder.rglob("*")):
        name = file.relative_to(folder)
        hidden = any(part.startswith((".", "~$")) for part in name.parts)
        if file.is_file() and not hidden and not is_no_log(file):
            yield name.as_posix(), file


def is_no_log(path: Path) -> bool:
    """Whether a file in the folder is plainly something else: settings, a README, the program's own output."""
    return path.suffix.casefold() in NOT_LOGS or path.stem.casefold().startswith("readme")


def read_file(path: Path, name: str) -> RawFile:
    """One file's sheets. Never raises for what the file holds: `refused` says it."""
    try:
        content = path.read_bytes()
    except OSError as problem:
        return RawFile(
            name,
            "",
            "unknown",
            None,
            (),
            f"{name}: it cannot be opened ({problem.strerror}). Check that you may read it.",
        )
    digest = hashlib.sha256(content).hexdigest()
    kind = _kind(content, path.suffix.casefold())
    if kind in {"xlsx", "xls", "ods"}:
        try:
            return RawFile(name, digest, kind, None, tuple(read_workbook(content)), path=path)
        except CannotReadError as problem:
            return RawFile(name, digest, kind, None, (), f"{name}: {problem}")
    if kind not in set(TEXT_SUFFIXES.values()):
        return RawFile(
            name, digest, "unknown", None, (), f"{name}: {kind}. Logs are read from CSV, TSV, XLSX, XLS and ODS files."
        )
    if not content.strip():
        return RawFile(name, digest, kind, "utf-8", (), f"{name}: the file is empty.")
    text = read_delimited(content)
    sheet = Sheet("", text.rows, text.line_numbers, remarks=text.remarks, lines=text.lines)
    return RawFile(name, digest, kind, text.encoding, (sheet,))


def _kind(content: bytes, suffix: str) -> str:
    """The format by content first, then by suffix; a plain phrase when it is none that can hold a log."""
    for start, what in _PICTURES.items():
        if content.startswith(start):
            return f"this is {what}, not a log"
    if content.startswith(b"PK\x03\x04"):
        return "ods" if b"opendocument.spreadsheet" in content[:200] else WORKBOOK_SUFFIXES.get(suffix, "xlsx")
    if content.startswith(b"\xd0\xcf\x11\xe0"):
        return "xls" if suffix != ".xlsx" else "xlsx"
    if suffix in WORKBOOK_SUFFIXES:
        return WORKBOOK_SUFFIXES[suffix]
    if suffix in TEXT_SUFFIXES:
        return TEXT_SUFFIXES[suffix]
    return "this kind of file cannot be read" if suffix else "a file without a name ending cannot be told apart"
