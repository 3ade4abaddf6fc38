"""Sets in brackets that a log's legend calls planned and not done: "(75x5)" where "( ) = planned, not done"."""

import re
from collections.abc import Iterable

from preflare.reading.context import SheetContext
from preflare.reading.lift_cells import is_in_brackets
from preflare.reading.text import Cell

_SETS = re.compile(r"[(\[][^()\[\]]*\d\s*(?:kgs?|lbs?)?\s*[x×*@]\s*\d[^()\[\]]*[)\]]", re.I)


def without_undone(context: SheetContext, text: str) -> str:
    """A text of work without its sets in brackets, where the legend says that those were not done."""
    if not context.legend.undone_brackets or ("(" not in text and "[" not in text):
        return text
    bare = _SETS.sub(" ", text)
    if bare != text:
        _say(context)
    return bare.strip(" ,;") if bare != text else text


def is_undone(context: SheetContext, cells: Iterable[Cell]) -> bool:
    """Whether a load or its repetitions stand in brackets, where the legend says that such sets were not done."""
    if not context.legend.undone_brackets or not any(is_in_brackets(cell) for cell in cells):
        return False
    _say(context)
    return True


def _say(context: SheetContext) -> None:
    told = "sets in brackets were read as not done, and not stored"
    context.assume(f'From the legend ("{context.legend.undone_brackets}"): {told}.')
