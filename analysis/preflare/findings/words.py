"""The findings' wording: tables [finding], [grade], [check] and [note] of reports/words/en.toml."""

import tomllib
from functools import lru_cache
from typing import Any

from preflare.resources import resource

TABLES = ("finding", "grade", "check", "note")


@lru_cache(maxsize=4)
def tables(language: str = "en") -> dict[str, Any]:
    """The wording tables of one language."""
    path = resource("reports") / "words" / f"{language}.toml"
    words = tomllib.loads(path.read_text(encoding="utf-8"))
    return {name: words[name] for name in TABLES}


def template(table: str, key: str, language: str = "en") -> str:
    """One wording by dotted key. Raises KeyError naming table and key when it is not written."""
    entry: Any = tables(language)[table]
    for part in key.split("."):
        if not isinstance(entry, dict) or part not in entry:
            raise KeyError(f"reports/words/{language}.toml has no [{table}] {key}")
        entry = entry[part]
    return str(entry)


def sentence(table: str, key: str, **values: Any) -> str:
    """One wording with its places filled; numbers as given, so that whole numbers are made by the caller."""
    return template(table, key).format(**{name: _shown(value) for name, value in values.items()})


def _shown(value: Any) -> Any:
    return f"{value:.0f}" if isinstance(value, float) else value
