"""Lines of one text over blocks of rows on a sheet with days across: which of them name a person.

Whoever keeps one sheet for a squad writes a name over each one's rows, and the same rows under every name. What
season.toml lists is a name, and so is a word that stands over the same rows as names do, whatever it is elsewhere.
"""

from preflare.reading.context import SheetContext
from preflare.reading.crosswise_blocks import Block
from preflare.reading.crosswise_marks import Mark
from preflare.reading.people import name_key
from preflare.reading.text import as_text, fold

_KINDS = frozenset({"person", "text"})
_MOST_WORDS = 3


def names_person(context: SheetContext, block: Block, row: int) -> bool:
    """Whether the line of one text in `row` names a person, though its word may look like a lift or like nothing."""
    mark = block.lines[row]
    if not _may_name(mark):
        return False
    known = {name_key(name) for athlete in context.settings.athlete for name in (athlete.name, *athlete.aliases)}
    if name_key(mark.text) in known:
        return True
    below = _label_below(context, block, row)
    others = [at for at, other in block.lines.items() if at != row and other.kind == "person" and below is not None]
    return any(
        _label_below(context, block, at) == below and context.words.exercise(block.lines[at].text).exercise == "unknown"
        for at in others
    )


def _may_name(mark: Mark) -> bool:
    return mark.kind in _KINDS and len(mark.text.split()) <= _MOST_WORDS and not any(map(str.isdigit, mark.text))


def _label_below(context: SheetContext, block: Block, row: int) -> str | None:
    """The words at the left of the row right below a line; None where nothing stands there."""
    if row + 1 not in block.body:
        return None
    first = next((cell for cell in context.sheet.rows[row + 1] if cell is not None), None)
    return fold(as_text(first)) if isinstance(first, str) else None
