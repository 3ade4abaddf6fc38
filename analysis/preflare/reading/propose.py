"""What the reader assumed, as a commented [[source]] block for season.toml that the user edits."""

import json
from collections.abc import Iterator

from preflare.reading.rows import Choice, FileReading, Logs

_INTRODUCTION = (
    "# What was assumed in reading these logs, for you to check. Take the # away from a line to make it hold,\n"
    "# change what is wrong, and put it into season.toml beside the logs."
)
_TAUGHT = {
    "bar": "bar.safety",
    "bar position": "bar_position.high",
    "grip": "grip_width.narrow",
    "exercise": 'exercise."back squat"',
    "site": "site.elbow",
}
_ROLES_HELP = (
    "#   columns: date, timestamp, person, exercise, load, reps, sets, rpe, rir, bar, bar_position, grip, work, note,\n"
    "#   pain, site, side, moment, warm_up, failed, session_rpe, duration, ignored"
)


def propose_sources(logs: Logs) -> str:
    """A commented TOML text: one [[source]] block a file that was read, then the words and people that stayed open."""
    blocks = [_INTRODUCTION, _ROLES_HELP]
    blocks += ["\n".join(_source_lines(file)) for file in logs.files if file.sheets]
    if words := list(_word_lines(logs.choices)):
        blocks.append("\n".join(["# [words]", *words]))
    blocks += list(_people_blocks(logs.choices))
    return "\n\n".join(blocks) + "\n"


def _source_lines(file: FileReading) -> Iterator[str]:
    yield "# [[source]]"
    yield f"# file = {_quoted(file.file)}"
    sheet = max(file.sheets, key=lambda one: one.rows_read)
    if sheet.date_order in {"day first", "month first"}:
        yield f"# day_first = {str(sheet.date_order == 'day first').lower()}"
    if sheet.unit in {"kg", "lb"}:
        yield f"# unit = {_quoted(sheet.unit)}"
    for sentence in dict.fromkeys(sentence for one in file.sheets for sentence in one.assumptions):
        yield f"#   {sentence}"
    columns = {heading: taken for one in file.sheets for heading, taken in one.columns.items() if _is_told(taken)}
    if columns:
        pairs = ", ".join(f"{_quoted(heading)} = {_quoted(taken)}" for heading, taken in columns.items())
        yield f"# columns = {{ {pairs} }}"


def _is_told(taken: str) -> bool:
    """Columns across a grid tell themselves by their date or week and need no entry."""
    return not taken.startswith(("a day", "a week"))


def _word_lines(choices: list[Choice]) -> Iterator[str]:
    """One line a word that was not understood, under the likeliest canonical word, for the user to move or delete."""
    seen = set()
    for choice in choices:
        if choice.understood is not None or choice.kind not in _TAUGHT or (choice.kind, choice.written) in seen:
            continue
        seen.add((choice.kind, choice.written))
        table = _TAUGHT[choice.kind].split(".")[0]
        key = f"{table}.{_quoted(choice.nearest)}" if choice.nearest else _TAUGHT[choice.kind]
        yield f"# {key} = [{_quoted(choice.written)}]   # {choice.n_rows} rows, not understood"


def _people_blocks(choices: list[Choice]) -> Iterator[str]:
    seen = set()
    for choice in choices:
        if choice.kind != "person" or choice.nearest is None or choice.written in seen:
            continue
        seen.add(choice.written)
        likeliest = _quoted(choice.nearest.split(" or ")[0])
        question = f"# Is {_quoted(choice.written)} one of: {choice.nearest}? If so:"
        yield f"{question}\n# [[athlete]]\n# name = {likeliest}\n# aliases = [{_quoted(choice.written)}]"


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)
