"""Walking the language files of reports/words."""

from collections.abc import Iterator
from typing import Any


def entries(table: dict[str, Any], path: str = "") -> Iterator[tuple[str, str | list[str]]]:
    """Every text or list of texts of a language file with its dotted key."""
    for key, value in table.items():
        here = f"{path}.{key}" if path else key
        if isinstance(value, dict):
            yield from entries(value, here)
        else:
            yield here, value
