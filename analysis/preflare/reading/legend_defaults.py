"""What a legend says of squats where nothing is written, put into the sets that leave it open.

A default never overrules what a row, its heading or its label says. A bar that has no grip or place, as a legend
says or as the safety bar is, takes none; nor does a set whose bar was written in words that nobody knows.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date

import polars as pl

from preflare.reading.context import SheetContext
from preflare.reading.gear_of_titles import defaults_of_titles
from preflare.reading.legend_habits import AS_LAST, Bare, Default, Part
from preflare.reading.plain import PlainRows
from preflare.reading.remarks_on_sets import gear_named
from preflare.reading.rows import RejectedRow, SetRow
from preflare.reading.text import words_of
from preflare.reading.vocabulary import back_squats
from preflare.reading.words import Gear

_FIELDS: dict[Part, str] = {"bar": "bar", "position": "bar_position", "width": "grip_width"}
_NAMES: dict[Part, str] = {"bar": "bar", "position": "place of the bar", "width": "grip"}
_WITHOUT_GRIP = frozenset({"safety", "other"})  # handles of their own: hands and place are given


@dataclass(slots=True)
class LastTime:
    """What was last written for an athlete's squats, or another lift, with one bar: (athlete, lift, bar, part) -> (day,
    value); and what the cell of the last bar said of its place and the grip as well ("straight, low")."""

    seen: dict[tuple[str, str, str | None, Part], tuple[date, str]] = field(default_factory=dict)
    beside_bar: dict[tuple[str, str], Gear] = field(default_factory=dict)  # by athlete and lift


def fill_defaults(context: SheetContext, n_before: int, last: LastTime, titles: Sequence[str] = ()) -> None:
    """Give the sets read from this sheet what its titles and the legend say of things left open. n_before: sets read
    before it."""
    of_titles = defaults_of_titles(titles, context.lexicon)
    told_above = {one.part for one in of_titles}
    defaults = [*of_titles, *(one for one in context.legend.defaults if one.part not in told_above or one.lift)]
    sets = context.out.sets
    used: set[Default] = set()
    _doubt_loads(context, n_before)
    _clear_bare(context, n_before)
    order = sorted(range(n_before, len(sets)), key=lambda i: (sets[i].date, sets[i].ordinal))
    for i in order:
        told = [one for one in defaults if not _is_doubted(context, sets[i], one)]
        if sets[i].bar_written:
            last.beside_bar[sets[i].athlete, _lift_of(sets[i])] = context.words.gear(sets[i].bar_written or "", "bar")[
                0
            ]
        sets[i] = _filled(sets[i], told, context.legend.bare, last, used)
    if (plain := _frame_of(context)) is not None:
        used |= _fill_frame(plain, defaults, context.legend.bare)
    for one in defaults:
        if one in used:
            context.assume(one.told())


def _is_doubted(context: SheetContext, one: SetRow, default: Default) -> bool:
    """Whether the remark of a set names another bar, place or grip than the default; the set is then pointed to."""
    if one.note is None or getattr(one, _FIELDS[default.part]) is not None or not _takes(one, default, ()):
        return False
    named = gear_named(words_of(one.note), context.lexicon)
    others = {hit for _, _, kind, hit in named if kind == default.part} - {default.value}
    if not others:
        return False
    reason = f"the remark speaks of {' and '.join(sorted(others))}, and the legend says {default.value} where nothing"
    reason += f" else is written; the {_NAMES[default.part]} was left open"
    doubt = RejectedRow(one.place, one.note, reason, "write it in its own column, and import again", False)
    if doubt not in context.out.rejected[-20:]:
        context.out.rejected.append(doubt)
    return True


def _doubt_loads(context: SheetContext, n_before: int) -> None:
    """Say that loads leave the bar out, where the legend does: what a bar weighs is not guessed."""
    if not (sentence := context.legend.without_bar):
        return
    loaded = (one.place for one in context.out.sets[n_before:] if one.load_kg is not None)
    frame = _frame_of(context)
    kept = frame.sets["at"].to_list()[:1] if frame is not None else []
    place = next(loaded, context.place(kept[0]) if kept else None)
    if place is None:
        return
    reason = "the legend says that loads leave the bar out or count one side; all were stored as they are written"
    remedy = "write what was lifted, bar and both sides together, and import again"
    context.out.rejected.append(RejectedRow(place, sentence, reason, remedy, False))
    context.assume(f'From the legend ("{sentence}"): loads leave the bar out; they were stored as they are written.')


def _clear_bare(context: SheetContext, n_before: int) -> None:
    """Take the place of the bar that a lift's label names from sets with a bar that has none, as the legend says.

    A label that names that bar itself ("SSB squat, low bar") keeps what it says.
    """
    sets = context.out.sets
    for bare in context.legend.bare:
        for i in range(n_before, len(sets)):
            one = sets[i]
            label = context.words.exercise(one.exercise_written).gear
            if one.bar != bare.bar or one.bar_position is None or "position" not in bare.parts or label.bar is not None:
                continue
            if label.position == one.bar_position:
                sets[i] = replace(one, bar_position=None)
                _say_bare(context, bare)
        if (plain := _frame_of(context)) is not None and "position" in bare.parts:
            _clear_in_frame(context, plain, bare)


def _say_bare(context: SheetContext, bare: Bare) -> None:
    told = f"the place that the lift's name gives was left out where the {bare.bar} bar was used"
    context.assume(f'From the legend ("{bare.sentence}"): {told}.')


def _frame_of(context: SheetContext) -> PlainRows | None:
    """The sets of this sheet that are kept by columns, if there are any."""
    plain = context.out.plain[-1] if context.out.plain else None
    return plain if plain is not None and plain.source == (context.file, context.sheet.name) else None


def _clear_in_frame(context: SheetContext, plain: PlainRows, bare: Bare) -> None:
    """The same for sets kept by columns."""
    read = ((written, context.words.exercise(written).gear) for written in plain.sets["exercise_written"].unique())
    named = [(written, gear.position) for written, gear in read if gear.bar is None and gear.position is not None]
    is_named = pl.lit(False)
    for written, position in named:
        is_named |= (pl.col("exercise_written") == written) & (pl.col("bar_position").cast(pl.String) == position)
    is_bare = (is_named & (pl.col("bar").cast(pl.String) == bare.bar)).fill_null(False)
    if plain.sets.select(is_bare.any()).item():
        _say_bare(context, bare)
        told = pl.when(is_bare).then(None).otherwise(pl.col("bar_position")).alias("bar_position")
        plain.sets = plain.sets.with_columns(told)


def _filled(
    one: SetRow, defaults: Sequence[Default], bare: Sequence[Bare], last: LastTime, used: set[Default]
) -> SetRow:
    for default in defaults:
        name = _FIELDS[default.part]
        if getattr(one, name) is not None or not _takes(one, default, bare):
            continue
        value = default.value
        if value == AS_LAST:
            bar = one.bar if default.part != "bar" else None
            day, value = last.seen.get((one.athlete, _lift_of(one), bar, default.part), (one.date, ""))
            value = value if day <= one.date else ""
        if value:
            one = replace(one, **{name: value})  # type: ignore[arg-type]
            used.add(default)
            if default.part == "bar" and default.value == AS_LAST:
                one = _with_place_of(one, last.beside_bar.get((one.athlete, _lift_of(one)), Gear()))
    for part, name in _FIELDS.items():
        if (told := getattr(one, name)) is not None:
            key = one.bar if part != "bar" else None  # the bar itself is looked for by what is open
            last.seen[one.athlete, _lift_of(one), key, part] = (one.date, told)
    return one


def _with_place_of(one: SetRow, cell: Gear) -> SetRow:
    """A set whose bar is that of a session before, with the place and grip that the same cell named there."""
    if cell.bar != one.bar:
        return one
    width = one.grip_width or (cell.width if one.grip_written is None else None)
    return replace(one, bar_position=one.bar_position or cell.position, grip_width=width)


def _lift_of(one: SetRow) -> str:
    """The lift whose last time counts: all kinds of back squats are one."""
    return "back squat" if one.exercise in back_squats() else one.exercise


def _takes(one: SetRow, default: Default, bare: Sequence[Bare]) -> bool:
    """Whether a set is of a lift that the default is about, and leaves it open."""
    if default.bar not in {None, one.bar}:
        return False
    if default.lift is not None:
        written = one.grip_written if default.part == "width" else one.bar_written
        return one.exercise == default.lift and written is None
    if default.any_lift and one.exercise not in {*back_squats(), "front squat", "unknown"}:
        return one.bar_written is None if default.part == "bar" else one.grip_written is None
    if default.part == "bar":
        is_about = one.exercise in back_squats() or (default.also_front and one.exercise == "front squat")
        return is_about and one.bar_written is None
    is_open = default.part == "position" or one.grip_written is None
    has_unknown_bar = one.bar is None and one.bar_written is not None
    is_bare = one.bar in _WITHOUT_GRIP or any(b.bar == one.bar and default.part in b.parts for b in bare)
    lifts = {*back_squats(), *(["front squat"] if default.names_front and default.part == "width" else [])}
    return one.exercise in lifts and is_open and not has_unknown_bar and not is_bare


def _fill_frame(plain: PlainRows, defaults: Sequence[Default], bare: Sequence[Bare]) -> set[Default]:
    """The same for sets kept by columns."""
    used: set[Default] = set()
    for default in defaults:
        if default.value == AS_LAST:
            continue  # long lists of sets write every row out
        column = _FIELDS[default.part]
        is_of_front = default.also_front if default.part == "bar" else default.names_front and default.part == "width"
        lifts = [*back_squats(), *(["front squat"] if is_of_front else [])]
        lifts = lifts if default.lift is None else [default.lift]
        is_open = pl.col(column).is_null() & pl.col("exercise").is_in(lifts)
        if default.bar is not None:
            is_open &= (pl.col("bar").cast(pl.String) == default.bar).fill_null(False)
        if default.part == "bar":
            is_open &= pl.col("bar_written").is_null()
        else:
            none = [*_WITHOUT_GRIP, *(one.bar for one in bare if default.part in one.parts)]
            is_open &= ~(pl.col("bar").is_null() & pl.col("bar_written").is_not_null())
            is_open &= ~pl.col("bar").cast(pl.String).is_in(none).fill_null(False)
            is_open &= pl.col("grip_written").is_null() if default.part == "width" else pl.lit(True)
        if plain.sets.select(is_open.any()).item():
            used.add(default)
            told = pl.when(is_open).then(pl.lit(default.value)).otherwise(pl.col(column))
            plain.sets = plain.sets.with_columns(told.cast(plain.sets.schema[column]).alias(column))
    return used
