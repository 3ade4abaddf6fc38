"""What the numbers of an item mean where the weight of the body is lifted, with or without a load hung on it."""

from preflare.reading.item import Fields, How, Item, item_of, reps_list


def _body(f: Fields, how: How) -> Item | None:
    """ "BW+20x5x3", "pdc x 8, 7, 6", "BW 8-7-6" """
    reps, extra = f.number("a"), f.numbers("list")
    if reps is None:
        return None
    if extra:
        return reps_list(f.number("l"), (reps, *extra), f.unit("k"), is_added=True)
    return item_of(f.number("b"), f.number("l"), reps, f.unit("k"), is_added=True)


def _sets_reps(f: Fields, how: How) -> Item | None:
    """ "3x8 BW+10", "BW+10 3x8", "3x8x+10": sets and repetitions, in this order."""
    return item_of(f.number("a"), f.number("l"), f.number("b"), f.unit("k"), is_added=True)


def _reps(f: Fields, how: How) -> Item | None:
    """ "8xBW", "5x+5" """
    return item_of(None, f.number("l"), f.number("a"), f.unit("k"), is_added=True)


def _list_then_load(f: Fields, how: How) -> Item | None:
    """ "5-5-4 +10", "3-3-2 PDC" """
    return reps_list(f.number("l"), (f.number("first") or 0.0, *f.numbers("list")), f.unit("k"), is_added=True)


BODY_READERS = {
    "body": _body,
    "body_list": _body,
    "body_sets_reps": _sets_reps,
    "body_then_scheme": _sets_reps,
    "sets_reps_added": _sets_reps,
    "reps_body": _reps,
    "reps_added": _reps,
    "list_body": _list_then_load,
    "list_added": _list_then_load,
    "added": _body,
    "added_list": _body,
}
