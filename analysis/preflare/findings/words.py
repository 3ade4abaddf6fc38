"""The findings' wording: tables [finding], [grade], [check] and [note] of reports/words/LANGUAGE.toml.

Every sentence of findings.json is worded here, in the language of the review. Names, levels and units that stand beside
the sentences are identifiers, the same in every language; the reports have the words for them.
"""

import tomllib
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import lru_cache
from typing import Any

from preflare.errors import PreflareError
from preflare.resources import resource

TABLES = ("finding", "grade", "check", "note")
DEFAULT_LANGUAGE = "en"
_language: ContextVar[str] = ContextVar("findings_language", default=DEFAULT_LANGUAGE)


@contextmanager
def worded_in(language: str) -> Iterator[None]:
    """Everything worded inside is worded in `language` (ISO 639-1). Raises PreflareError where there is no such file.

    Held in a context variable: a language is a matter of the whole review, as a locale is, and each thread has its own.
    """
    tables(language)
    token = _language.set(language)
    try:
        yield
    finally:
        _language.reset(token)


@lru_cache(maxsize=8)
def tables(language: str = DEFAULT_LANGUAGE) -> dict[str, Any]:
    """The wording tables of one language. Raises PreflareError when reports/words has no such file."""
    path = resource("reports") / "words" / f"{language}.toml"
    if not path.is_file():
        known = ", ".join(sorted(found.stem for found in path.parent.glob("*.toml")))
        raise PreflareError(f'There are no findings in the language "{language}". Known here: {known}.')
    words = tomllib.loads(path.read_text(encoding="utf-8"))
    return {name: words[name] for name in TABLES}


def template(table: str, key: str) -> str:
    """One wording by dotted key. Raises KeyError naming table and key when it is not written."""
    language = _language.get()
    entry: Any = tables(language)[table]
    for part in key.split("."):
        if not isinstance(entry, dict) or part not in entry:
            raise KeyError(f"reports/words/{language}.toml has no [{table}] {key}")
        entry = entry[part]
    return str(entry)


def named(table: str, name: str) -> str:
    """The words for an identifier, from the dotted table; the identifier itself where the table lacks it."""
    first, _, rest = table.partition(".")
    entry: Any = tables(_language.get())[first]
    for part in rest.split("."):
        entry = entry[part]
    return str(entry.get(name, name))


def sentence(table: str, key: str, **values: Any) -> str:
    """One wording with its places filled; numbers as given, so that whole numbers are made by the caller."""
    return template(table, key).format(**{name: _shown(value) for name, value in values.items()})


def _shown(value: Any) -> Any:
    return f"{value:.0f}" if isinstance(value, float) else value
