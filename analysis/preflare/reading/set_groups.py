"""Which columns of a table hold one set together, and under which name: from left to right, group by group."""

from collections import defaultdict
from dataclasses import replace

from preflare.reading.context import SheetContext
from preflare.reading.grouped import Group
from preflare.reading.lift_cells import SetColumns, is_missing
from preflare.reading.tables import Table
from preflare.reading.text import as_text

_Key = tuple[Group | None, str | None, bool, int | None]  # name above, exercise, whether warm-ups, number of the set


def set_columns(table: Table) -> list[SetColumns]:
    """The groups of columns of a table that hold sets, from left to right."""
    groups: dict[_Key, SetColumns] = defaultdict(SetColumns)
    for column in table.columns:
        heading = column.heading
        if heading is None or column.role not in {
            "load",
            "reps",
            "sets",
            "rpe",
            "rir",
            "percent",
            "warm_up",
            "failed",
            "set_work",
            "work",
        }:
            continue
        is_warm_up = column.role != "warm_up" and heading.roles[0] == "warm_up" and column.group is not None
        group = groups[column.group, heading.exercise, is_warm_up, heading.number]
        group.number, group.exercise, group.group = heading.number, heading.exercise, column.group
        group.is_warm_up = is_warm_up
        if column.role == "work":
            group.work = (*group.work, column)
        elif getattr(group, column.role) is None:
            setattr(group, column.role, column)
    for key in [key for key in groups if key[-1] is None]:
        _share_among_numbered(groups, key)
    named = table.having("exercise")
    for group in groups.values():
        group.name = next((column for column in named if column.group and column.group == group.group), None)
        group.is_of_row = any(column.group is None for column in named)
    return list(groups.values())


def hold_whole_session(groups: list[SetColumns]) -> bool:
    """Whether rows hold work in short; warm-ups alone in short stand beside the sets of one exercise."""
    columns = [column for group in groups for column in group.work]
    return any(column.heading is None or column.heading.roles[0] != "warm_up" for column in columns)


def _share_among_numbered(groups: dict[_Key, SetColumns], key: _Key) -> None:
    """Let the numbered sets of a group use its columns that have no number; they hold no set of their own then."""
    numbered = [group for other, group in groups.items() if other[:3] == key[:3] and other[-1] is not None]
    if not numbered or (key[0] is None and key[1] is not None):
        return
    plain = groups[key]
    is_load_of_all = plain.reps is None and all(group.load is None for group in numbered)
    for group in numbered:
        _share(plain, group, is_load_of_all)
    _tell_shares(numbered, plain)
    if not plain.work:
        del groups[key]
    elif is_load_of_all and plain.load is not None:
        groups[key] = replace_group(plain, without="load")  # work in short beside it ("Warm-up") is no set of that load


def _tell_shares(numbered: list[SetColumns], plain: SetColumns) -> None:
    """Say in each numbered set which columns share the load or the repetitions that hold for all of them."""
    counted = [group for group in numbered if group.set_work is None and group.reps is not None and group.load]
    by_load = [group for group in counted if group.load is plain.load]
    by_reps = [group for group in counted if group.reps is plain.reps and group.load is not plain.load]
    for sharing in (by_load, by_reps):
        for group in sharing:
            group.is_load_shared = sharing is by_load
            own = [one.reps if group.is_load_shared else one.load for one in sharing]
            group.sharing = tuple(column for column in own if column is not None)


def _share(plain: SetColumns, group: SetColumns, is_load_of_all: bool) -> None:
    """Let a numbered set use the columns that hold for the whole row: the load of "S1, S2, S3" or of "Reps 1, Reps 2",
    the effort of all."""
    if group.set_work is not None or (is_load_of_all and group.reps is not None):
        group.load = group.load or plain.load
    group.reps = group.reps or plain.reps
    group.rpe = group.rpe or plain.rpe
    group.rir = group.rir or plain.rir


def exercise_of_group(context: SheetContext, row: int, group: SetColumns, exercise: str | None) -> str | None:
    """Which exercise columns under one name hold: what the name or its own column says, never that of another group.

    exercise: that of the row. A name that nobody knows stays, so that the sets are not read as another lift.
    """
    own = context.cell(row, group.name.index) if group.name is not None else None
    if own is not None and not is_missing(context, own):
        return as_text(own)
    if group.exercise is not None or group.group is None:
        return group.exercise or exercise
    if group.name is None and (group.is_of_row or not group.group.written):
        return exercise
    return group.group.written or None


def replace_group(group: SetColumns, without: str) -> SetColumns:
    """The group without one of its columns."""
    other = replace(group)
    setattr(other, without, None)
    return other
