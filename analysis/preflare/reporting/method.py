"""How was it done? Definitions with the day they were fixed and their hash, formula, engine, versions, how to refit."""

import re
from typing import Any

from preflare.reporting.material import Material, paragraph, section, table
from preflare.reporting.numbers import day, moment, scientific, short_decimal, two_figures
from preflare.reporting.records import Items, Section, Table
from preflare.reporting.words import Words


def method_section(material: Material) -> Section:
    """Everything that somebody needs who wants to check or repeat it."""
    words = material.words
    return section(
        words,
        "team.done",
        Items(tuple(words.spans(f"team.done.{key}") for key in ("outcome", "model", "per_100", "grade", "interval"))),
        _definitions(material),
        _models(material),
        _made(material),
        paragraph(words, "team.done.refit", "small"),
    )


def _definitions(material: Material) -> Table:
    words, told = material.words, material.findings.get("definitions") or {}
    rows = [(_name(path, words), _setting(path, value, words)) for path, value in flat(told.get("values") or {})]
    seen = day(told["first_seen"], words) if told.get("first_seen") else words.text("team.done.just_now")
    rows += [
        (words.text("team.done.hash"), str(told.get("hash") or words.text("number.unknown"))),
        (words.text("team.done.first_seen"), seen),
    ]
    rows += [(words.text("team.done.changed"), _shown(change, words)) for change in told.get("changed") or []]
    return table(words.text("team.done.definitions"), (words.text("table.what"), words.text("table.value")), rows)


def _name(path: str, words: Words) -> str:
    return words.word("definition", path)


_WORDED = {
    "event.sites": "site",
    "family": "label_in_line",
    "assume.bar": "bar",
    "assume.grip_width": "grip",
    "assume.bar_position": "position",
    "reference.bar": "bar",
    "reference.grip_width": "grip",
    "reference.bar_position": "position",
}
"""The settings whose values are words: dotted key -> the table that words them."""


def _setting(path: str, value: Any, words: Words) -> str:
    """The value of one setting in words."""
    if value is None or value == [] or value == "":
        return words.text("number.none")
    return ", ".join(_one(path, v, words) for v in (value if isinstance(value, list) else [value]))


def _one(path: str, value: Any, words: Words) -> str:
    """One value of a setting: a number as the language writes it, a word in the language's own."""
    if isinstance(value, float):
        return str(value).replace(".", words.text("number.decimal"))
    return words.word(_WORDED.get(path, ""), str(value))


def flat(values: dict[str, Any], path: str = "") -> list[tuple[str, Any]]:
    """Nested settings as (dotted key, value); a list stays one value."""
    found: list[tuple[str, Any]] = []
    for key, value in values.items():
        here = f"{path}.{key}" if path else str(key)
        if isinstance(value, dict):
            found += flat(value, here)
        else:
            found.append((here, value))
    return found


def _shown(change: dict[str, Any], words: Words) -> str:
    """One change of a definition: "3 March 2026, event: a rating of at least: 4, then 5"."""
    return words.text(
        "team.done.changed_one",
        day=day(change["date"], words),
        what=_name(change["key"], words),
        before=_setting(change["key"], change["before"], words),
        after=_setting(change["key"], change["after"], words),
    )


def _models(material: Material) -> Table | None:
    """The formulas in use, each once, with the engine's own account of its convergence."""
    words, seen, rows = material.words, set(), []
    for finding in material.findings.get("findings") or []:
        model = finding.get("model") or {}
        if not model.get("formula") or (model["family"], model["formula"]) in seen:
            continue
        seen.add((model["family"], model["formula"]))
        state = words.text("team.done.converged" if model.get("converged") else "team.done.not_converged")
        rows.append(
            (
                words.word("family", model["family"]),
                _formula(model["formula"], words),
                f"{state} {_convergence(model, words)}".strip(),
            )
        )
    head = [words.text(f"table.{key}") for key in ("model", "formula", "convergence")]
    return table(words.text("team.done.models"), head, rows) if rows else None


def _formula(formula: str, words: Words) -> str:
    """A formula with each of its terms in words, the longest first, so that none is taken for a part of another."""
    terms: dict[str, str] = words.get("term")
    known = "|".join(map(re.escape, sorted(terms, key=len, reverse=True)))
    return re.sub(known, lambda found: terms[found[0]], formula)


def _convergence(model: dict[str, Any], words: Words) -> str:
    """Gradient, iterations and singularity, as far as the engine reports them."""
    told = model.get("convergence") or {}
    parts = []
    if told.get("iterations") is not None:
        parts.append(words.text("team.done.iterations", n=short_decimal(told["iterations"], words)))
    if isinstance(told.get("gradient"), int | float):
        parts.append(words.text("team.done.gradient", value=scientific(told["gradient"], words)))
    if isinstance(told.get("condition"), int | float):
        parts.append(words.text("team.done.condition", value=two_figures(told["condition"], words)))
    if told.get("singular"):
        parts.append(words.text("team.done.singular"))
    if told.get("separated"):
        parts.append(
            words.text("team.done.separated", names=words.listing([_separated(s, words) for s in told["separated"]]))
        )
    return " ".join(parts)


def _separated(column: str, words: Words) -> str:
    """An exposure's column of the design ("within safety") by the exposure's name."""
    return words.word("label", column.removeprefix("within "))


def _made(material: Material) -> Table:
    words, made = material.words, material.findings.get("made") or {}
    rows = [
        (words.word("made", path.removeprefix("libraries.")), moment(value, words) if path == "when" else str(value))
        for path, value in flat(made if isinstance(made, dict) else {"program": made})
    ]
    rows.append(
        (words.text("team.done.schema"), str(material.findings.get("schema_version", words.text("number.unknown"))))
    )
    return table(words.text("team.done.made"), (words.text("table.what"), words.text("table.value")), rows)
