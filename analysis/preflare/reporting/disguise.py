"""Reports that leave the room: names, files and free text replaced everywhere, before any page is built."""

import re
from collections.abc import Mapping, Sequence
from typing import Any

import pandas as pd

from preflare.reporting.names import Naming, shown_names
from preflare.reporting.views import rows, view
from preflare.reporting.words import Words

_QUOTED = re.compile(r'"[^"]*"|“[^”]*”')


def disguised(
    findings: dict[str, Any], views: Mapping[str, pd.DataFrame], naming: Naming, words: Words
) -> tuple[dict[str, Any], dict[str, pd.DataFrame]]:
    """Findings and views with people shown as asked for. With initials or codes free text and file names go too."""
    if naming == "full":
        return findings, dict(views)
    people = rows(view(views, "person"))
    written = {p["name"]: [str(w) for w in p["written"]] for p in people}
    names = [a["name"] for a in findings.get("athletes") or []] + list(written)
    disguise = Disguise(shown_names(names, naming), written)
    files = _file_codes(views, words)
    shown = {name: disguise.frame(_without_free_text(name, frame, files, words)) for name, frame in views.items()}
    return disguise.data(_without_warnings(findings, words)), shown


def _file_codes(views: Mapping[str, pd.DataFrame], words: Words) -> dict[str, str]:
    """Each file as "file 1", for a file is often named after a person."""
    files = sorted({str(row["file"]) for row in rows(view(views, "source_file"))})
    return {file: words.text("logs.file_code", n=i) for i, file in enumerate(files, start=1)}


def _without_free_text(name: str, frame: pd.DataFrame, files: Mapping[str, str], words: Words) -> pd.DataFrame:
    """A view without the words that people wrote, and with files and sheets by number."""
    left_out = words.text("table.left_out")
    if name == "person":
        return frame.assign(written=[[] for _ in range(len(frame))])
    if name == "vocabulary_choice":
        frame = frame[frame["kind"] != "person"]
    frame = frame.assign(**{c: left_out for c in ("value", "evidence", "sha256") if name != "screen" and c in frame})
    for column in ("reason", "remedy", "refused"):
        if column in frame:
            frame = frame.assign(**{column: [_unquoted(v, left_out) for v in frame[column]]})
    if name == "source_sheet":
        frame = frame.assign(assumptions=[[_unquoted(v, left_out) for v in told] for told in frame["assumptions"]])
    if "file" in frame and "sheet" in frame:
        frame = frame.assign(sheet=_sheet_codes(frame, words))
    return frame.assign(file=[files.get(str(f), left_out) for f in frame["file"]]) if "file" in frame else frame


def _sheet_codes(frame: pd.DataFrame, words: Words) -> list[str]:
    """Each sheet of a file as "sheet 1", in the order of their names; files without sheets keep none."""
    order: dict[tuple[str, str], int] = {}
    for file in frame["file"].unique():
        for i, sheet in enumerate(sorted(frame.loc[frame["file"] == file, "sheet"].unique()), start=1):
            order[(file, sheet)] = i
    return [
        words.text("logs.sheet_code", n=order[(f, s)]) if s else ""
        for f, s in zip(frame["file"], frame["sheet"], strict=True)
    ]


def _unquoted(value: Any, left_out: str) -> Any:
    """A sentence without what it quotes from the logs."""
    return _QUOTED.sub(left_out, value) if isinstance(value, str) else value


def _without_warnings(findings: dict[str, Any], words: Words) -> dict[str, Any]:
    """findings with the quoted words of warnings replaced by their kind; high ratings stay as they are."""
    athletes = [
        {**a, "warnings": [_warning(w, words) for w in a.get("warnings") or []]} for a in findings.get("athletes") or []
    ]
    return {**findings, "athletes": athletes}


def _warning(warning: dict[str, Any], words: Words) -> dict[str, Any]:
    if warning.get("kind") == "rating":
        return warning
    kind = words.word("pain_kind", str(warning.get("kind")))
    return {**warning, "words": words.text("athlete.warnings.kind", kind=kind)}


class Disguise:
    """Puts the shown name in the place of every name and of every other way in which it was written."""

    def __init__(self, shown: Mapping[str, str], aliases: Mapping[str, Sequence[str]]) -> None:
        self._shown = {name: s for name, s in shown.items() if name != s}
        self._whole = {w: s for n, s in self._shown.items() for w in (n, *aliases.get(n, ()))}
        self._seen: dict[str, str] = {}
        self._bare = {_bare(w): s for w, s in self._whole.items()}
        longest_first = sorted((w for w in self._whole if len(_bare(w)) > 2), key=len, reverse=True)
        pattern = "|".join(_any_spelling(w) for w in longest_first)
        self._anywhere = re.compile(rf"(?<![^\W\d_])(?:{pattern})(?![^\W\d_])", re.I) if pattern else None

    def text(self, value: str) -> str:
        """One text with every name in it replaced, however its parts are joined."""
        if value not in self._seen:
            self._seen[value] = self._whole.get(value) or self._replaced(value)
        return self._seen[value]

    def _replaced(self, value: str) -> str:
        if self._anywhere is None:
            return value
        return self._anywhere.sub(lambda m: self._bare[_bare(m[0])], value)

    def data(self, value: Any) -> Any:
        """Any nested value with the names in its texts replaced, keys included."""
        if isinstance(value, str):
            return self.text(value)
        if isinstance(value, Mapping):
            return {self.data(k): self.data(v) for k, v in value.items()}
        if isinstance(value, list | tuple):
            return type(value)(self.data(v) for v in value)
        return value

    def frame(self, frame: pd.DataFrame) -> pd.DataFrame:
        """A view with the names in its texts replaced."""
        if not self._shown:
            return frame
        wordy = [
            c
            for c in frame.columns
            if not pd.api.types.is_numeric_dtype(frame[c]) and not pd.api.types.is_datetime64_any_dtype(frame[c])
        ]
        changed = {
            c: [self.data(v.tolist() if hasattr(v, "tolist") and not isinstance(v, str) else v) for v in frame[c]]
            for c in wordy
        }
        return frame.assign(**{c: pd.Series(v, index=frame.index, dtype=object) for c, v in changed.items()})


def _bare(name: str) -> str:
    """A name without case and without what stands between its parts."""
    return "".join(re.findall(r"[^\W_]+", name)).casefold()


def _any_spelling(name: str) -> str:
    """A pattern for the parts of a name joined by anything that is no letter: "elin_strand", "Elin-Strand"."""
    return r"[\W_]*".join(map(re.escape, re.findall(r"[^\W_]+", name)))
