"""How was it done? Definitions with the day they were fixed and their hash, formula, engine, versions, how to refit."""

from typing import Any

from preflare.reporting.material import Material, paragraph, section, table
from preflare.reporting.numbers import day, short_decimal, two_figures
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
    rows = [(_name(path, words), value or words.text("number.none")) for path, value in flat(told.get("values") or {})]
    seen = day(told["first_seen"], words) if told.get("first_seen") else words.text("team.done.just_now")
    rows += [
        (words.text("team.done.hash"), str(told.get("hash") or words.text("number.unknown"))),
        (words.text("team.done.first_seen"), seen),
    ]
    rows += [(words.text("team.done.changed"), _shown(change, words)) for change in told.get("changed") or []]
    return table(words.text("team.done.definitions"), (words.text("table.what"), words.text("table.value")), rows)


def _name(path: str, words: Words) -> str:
    return words.word("definition", path)


def flat(values: dict[str, Any], path: str = "") -> list[tuple[str, str]]:
    """Nested settings as (dotted key, value in words)."""
    found: list[tuple[str, str]] = []
    for key, value in values.items():
        here = f"{path}.{key}" if path else str(key)
        if isinstance(value, dict):
            found += flat(value, here)
        elif isinstance(value, list):
            found.append((here, ", ".join(map(str, value))))
        else:
            found.append((here, "" if value is None else str(value)))
    return found


def _shown(change: Any, words: Words) -> str:
    if isinstance(change, dict):
        return ", ".join(f"{key}: {value}" for key, value in flat(change))
    return str(change)


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
            (words.word("family", model["family"]), model["formula"], f"{state} {_convergence(model, words)}".strip())
        )
    head = [words.text(f"table.{key}") for key in ("model", "formula", "convergence")]
    return table(words.text("team.done.models"), head, rows) if rows else None


def _convergence(model: dict[str, Any], words: Words) -> str:
    """Gradient, iterations and singularity, as far as the engine reports them."""
    told = model.get("convergence") or {}
    parts = []
    if told.get("iterations") is not None:
        parts.append(words.text("team.done.iterations", n=short_decimal(told["iterations"], words)))
    if isinstance(told.get("gradient"), int | float):
        parts.append(words.text("team.done.gradient", value=f"{told['gradient']:.1e}"))
    if isinstance(told.get("condition"), int | float):
        parts.append(words.text("team.done.condition", value=two_figures(told["condition"], words)))
    if told.get("singular"):
        parts.append(words.text("team.done.singular"))
    if told.get("separated"):
        parts.append(words.text("team.done.separated", names=words.listing([str(s) for s in told["separated"]])))
    return " ".join(parts)


def _made(material: Material) -> Table:
    words, made = material.words, material.findings.get("made") or {}
    rows = [
        (words.word("made", path.removeprefix("libraries.")), value)
        for path, value in flat(made if isinstance(made, dict) else {"program": made})
    ]
    rows.append(
        (words.text("team.done.schema"), str(material.findings.get("schema_version", words.text("number.unknown"))))
    )
    return table(words.text("team.done.made"), (words.text("table.what"), words.text("table.value")), rows)
