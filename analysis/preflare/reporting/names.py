"""How people are called on the pages: in full, by initials, or by a code; and the names of their files."""

import re
import unicodedata
from collections.abc import Sequence
from typing import Literal

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
        folded = unicodedata.normalize("NFKD", name.translate(_PLAIN)).encode("ascii", "ignore").decode("ascii")
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


_PLAIN = str.maketrans(
    {
        "ø": "o",
        "Ø": "O",
        "ł": "l",
        "Ł": "L",
        "đ": "d",
        "Đ": "D",
        "ð": "d",
        "Ð": "D",
        "ß": "ss",
        "æ": "ae",
        "Æ": "Ae",
        "œ": "oe",
        "Œ": "Oe",
        "þ": "th",
        "Þ": "Th",
        "ı": "i",
    }
)
_RESERVED = {"con", "prn", "aux", "nul", *(f"{d}{i}" for d in ("com", "lpt") for i in range(1, 10))}  # on Windows
