"""How people appear: in full, by initials, or by a code; and the names of their files."""

import re
import unicodedata
from collections.abc import Mapping, Sequence
from typing import Any, Literal

import pandas as pd

Naming = Literal["full", "initials", "codes"]


def shown_names(names: Sequence[str], naming: Naming) -> dict[str, str]:
    """Each name as it is to be shown. Initials that two people share are numbered; codes follow the alphabet."""
    ordered = sorted(dict.fromkeys(names), key=alphabetical)
    if naming == "full":
        return {name: name for name in ordered}
    if naming == "codes":
        return {name: f"L{i:02d}" for i, name in enumerate(ordered, start=1)}
    return _initials(ordered)


def _initials(names: Sequence[str]) -> dict[str, str]:
    short = {name: "".join(f"{part[0].upper()}." for part in re.findall(r"\w+", name)) or "?" for name in names}
    shared = [s for s in short.values() if list(short.values()).count(s) > 1]
    seen: dict[str, int] = {}
    for name, initials in short.items():
        if initials in shared:
            seen[initials] = seen.get(initials, 0) + 1
            short[name] = f"{initials}{seen[initials]}"
    return short


def alphabetical(name: str) -> tuple[str, str]:
    """The order of people on every page: letters without their accents, case aside."""
    folded = unicodedata.normalize("NFKD", name)
    return "".join(c for c in folded if not unicodedata.combining(c)).casefold(), name


def file_names(names: Sequence[str]) -> dict[str, str]:
    """A file name for each name: plain letters, digits and hyphens, no two alike on any file system."""
    taken: set[str] = set()
    found = {}
    for name in sorted(dict.fromkeys(names), key=alphabetical):
        folded = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode("ascii")
        stem = re.sub(r"[^a-z0-9]+", "-", folded.lower()).strip("-")[:60] or "athlete"
        if stem in _RESERVED:
            stem = f"athlete-{stem}"
        number, candidate = 1, stem
        while candidate in taken:
            number += 1
            candidate = f"{stem}-{number}"
        taken.add(candidate)
        found[name] = candidate
    return found


_RESERVED = {"con", "prn", "aux", "nul", *(f"{d}{i}" for d in ("com", "lpt") for i in range(1, 10))}  # on Windows


class Disguise:
    """Puts the shown name in the place of every name and of every other way in which it was written."""

    def __init__(self, shown: Mapping[str, str], aliases: Mapping[str, Sequence[str]]) -> None:
        self._shown = {name: s for name, s in shown.items() if name != s}
        self._whole = {w: s for n, s in self._shown.items() for w in (n, *aliases.get(n, ()))}
        self._bare = {_bare(w): s for w, s in self._whole.items()}
        longest_first = sorted((w for w in self._whole if len(_bare(w)) > 2), key=len, reverse=True)
        pattern = "|".join(_any_spelling(w) for w in longest_first)
        self._anywhere = re.compile(rf"(?<![^\W\d_])(?:{pattern})(?![^\W\d_])", re.I) if pattern else None

    def text(self, value: str) -> str:
        """One text with every name in it replaced, however its parts are joined."""
        if value in self._whole:
            return self._whole[value]
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
