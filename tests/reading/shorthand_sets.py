"""What a text in short says, as plain pairs and in a plain notation that a test can write down."""

from itertools import groupby

from preflare.reading.lexicon import make_lexicon
from preflare.reading.shorthand import WorkSet, parse_work

LEXICON = make_lexicon()


def sets_of(text: str) -> list[tuple[float | None, int | None]]:
    """(load, reps) of every set, in order."""
    return [(one.load, one.reps) for one in parse_work(text, LEXICON).sets]


def noted(sets: tuple[WorkSet, ...]) -> str:
    """Sets in a plain notation: "2*100x5 +5x6w 225lbx3F@8": equal neighbours counted; "+" hung on the body, "-" no
    load, "?" repetitions unknown; "w" warm-up, "F" failed; "@" RPE, "r" repetitions in reserve."""
    return " ".join(f"{n}*{one}" if (n := len(list(run))) > 1 else one for one, run in groupby(map(_noted, sets)))


def _noted(one: WorkSet) -> str:
    load = f"{one.percent:g}%" if one.load is None and one.percent else "-" if one.load is None else f"{one.load:g}"
    reps = "?" if one.reps is None else str(one.reps)
    effort = (f"@{one.rpe:g}" if one.rpe is not None else "") + (f"r{one.rir:g}" if one.rir is not None else "")
    marks = "w" * one.is_warm_up + "F" * one.is_failed
    return f"{'+' * one.is_added}{load}{'lb' if one.unit == 'lb' else ''}x{reps}{marks}{effort}"
