"""How each sheet was read, written as [[source]] entries for season.toml: to copy, edit and import again."""

import json
from typing import Any


def propose(sheets: list[tuple[Any, ...]]) -> str:
    """A commented TOML block per sheet. sheets: (file, sheet, layout, columns, date_order, unit) from sheet_read."""
    return "\n\n".join(_entry(*sheet) for sheet in sheets)


def _entry(file: str, sheet: str, layout: str, columns: dict[str, str], date_order: str, unit: str) -> str:
    """One sheet's entry; commented out, since it repeats what the reader found by itself."""
    lines = ["[[source]]", f"file = {_text(file)}"]
    if sheet:
        lines.append(f"sheet = {_text(sheet)}")
    if date_order in ("day first", "month first"):
        lines.append(f"day_first = {str(date_order == 'day first').lower()}")
    if unit in ("kg", "lb"):
        lines.append(f"unit = {_text(unit)}")
    if columns:
        pairs = ", ".join(f"{_text(heading)} = {_text(meaning)}" for heading, meaning in columns.items())
        lines.append(f"columns = {{ {pairs} }}")
    return "\n".join(f"# {line}" for line in [f"read as: {layout}", *lines])


def _text(value: str) -> str:
    """A TOML basic string: JSON's escapes are valid TOML."""
    return json.dumps(value, ensure_ascii=False)
