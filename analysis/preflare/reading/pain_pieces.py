"""A text about pain in pieces, each with one rating or one word for how much, and with what it names beside that."""

import re
from dataclasses import dataclass
from itertools import pairwise

from preflare.reading.lexicon import Lexicon
from preflare.reading.pain_marks import Hit, Marked, Value
from preflare.reading.pain_said import SEVERAL, Doubt, Said

_OWNER = re.compile(r"(?:partner|mate|friend|kollege|copain|amigo)\w*['’]?s?\b", re.I)


@dataclass(slots=True)
class Piece:
    """A part of a text with one rating or word at most, and what it names."""

    first: int
    last: int
    text: str
    value: Value | None
    sites: list[str]
    side: str
    persons: list[str]
    kind: str | None
    severity: str | None
    moment: str | None
    is_ahead: bool  # its moment stands before its rating
    is_early: bool  # its moment stands before its site and its rating
    is_free: bool  # it says that nothing hurts
    is_negated: bool
    is_elsewhere: bool  # another time, another person, a mere possibility
    is_fine: bool
    is_also: bool
    is_open: bool  # "less than 3", "since 3"; a letter beside a side in words ("R dx 2"), which may be a person's
    is_other_day: bool
    is_none: bool  # a word for none, and nothing in it that is unknown
    is_known: bool  # no word in it is unknown here
    is_change: bool  # "no worse", "less"
    is_listed: bool  # it is one of several in a stretch without commas
    is_lone: bool  # nothing but a number
    has_counted: bool  # a number in it counts something
    is_bare: bool  # nothing but words that are known here and numbers
    is_close: bool  # the rating stands right behind a site or its side, or at the beginning
    is_word_close: bool  # so does the word for how much, and nothing unknown follows it
    is_led: bool  # the rating stands behind a known word
    begins: bool  # it begins a sentence
    n_words: int


def pieces_of(marked: Marked, lexicon: Lexicon, said: Said) -> tuple[list[Piece], list[Doubt]]:
    """The pieces of a text in order, and those that hold several ratings in no clear order."""
    pieces: list[Piece] = []
    doubts: list[Doubt] = []
    edges = [0, *sorted(i for i, kind in marked.cuts.items() if kind != "soft"), len(marked.words)]
    for first, last in pairwise(edges):
        if first == last:
            continue
        parts = _parted(marked, first, last, said)
        if parts is None and not said.is_asked and not _speaks(marked, first, last):
            continue
        if parts is None:
            doubts.append(Doubt(marked.written(first, last), SEVERAL))
            continue
        read = [_piece(marked, lexicon, *part, said.is_asked or len(parts) > 1) for part in parts]
        _share_moment(read)
        pieces += read
    return pieces, doubts


def _speaks(marked: Marked, first: int, last: int) -> bool:
    """Whether a stretch of a remark is about pain at a site, or has a number right behind a site or its side."""
    spots, sides = marked.within("site", first, last), marked.within("side", first, last)
    ends = _reach(marked, {end for _, end, _ in spots}, sides)
    return bool(spots) and (bool(marked.within("kind", first, last)) or any(one.first in ends for one in marked.values))


def _points(marked: Marked, first: int, last: int, said: Said) -> list[tuple[int, int, Value | None]]:
    """Where ratings stand; where the text answers a question about pain, words for how much count as well."""
    rated: list[tuple[int, int, Value | None]] = [
        (value.first, value.last, value) for value in marked.values if first <= value.first and value.last <= last
    ]
    if said.is_asked:
        for start, end, _ in [*marked.within("severity", first, last), *marked.within("fine", first, last)]:
            if all(end < a or start > b for a, b, _ in rated):
                rated.append((start, end, None))
    return sorted(rated, key=lambda point: point[:2])


def _parted(marked: Marked, first: int, last: int, said: Said) -> list[tuple[int, int]] | None:
    """A stretch cut into parts with one rating each; None where it has several in no clear order."""
    points = _points(marked, first, last, said)
    if len(points) < 2:
        return [(first, last)]
    soft = sorted(i for i, kind in marked.cuts.items() if kind == "soft" and first < i < last)
    edges, start = [], first
    for cut in soft:
        if any(start <= a < cut for a, _, _ in points) and any(cut <= a for a, _, _ in points):
            edges.append((start, cut))
            start = cut
    edges.append((start, last))
    if len(edges) > 1:
        parts = [_parted(marked, a, b, said) for a, b in edges]
        return None if any(part is None for part in parts) else [one for part in parts for one in part or []]
    return _in_turn(marked, first, last, points)


def _in_turn(
    marked: Marked, first: int, last: int, points: list[tuple[int, int, Value | None]]
) -> list[tuple[int, int]] | None:
    """ "R 3 L 1", "3 R 1 L", "before 2 after 4": each rating with the word of its turn, all before or all behind."""
    leading: set[bool] = set()
    for role in ("person", "site", "side", "moment"):
        hits = marked.within(role, first, last)
        if len(hits) != len(points):
            continue
        before = all(hit[1] <= point[0] for hit, point in zip(hits, points, strict=True))
        before = before and all(point[1] <= hit[0] for point, hit in zip(points[:-1], hits[1:], strict=True))
        behind = all(point[1] <= hit[0] for point, hit in zip(points, hits, strict=True))
        behind = behind and all(hit[1] <= point[0] for hit, point in zip(hits[:-1], points[1:], strict=True))
        if before or behind:
            leading.add(before)
    if len(leading) != 1:
        return None
    names = sorted(hit for role in ("person", "site", "side", "moment") for hit in marked.within(role, first, last))
    cuts = []
    for one, other in pairwise(points):
        between = [hit for hit in names if one[1] <= hit[0] and hit[1] <= other[0]]
        if not between:
            return None
        cuts.append(between[0][0] if leading == {True} else between[-1][1])
    edges = [first, *cuts, last]
    return list(pairwise(edges))


def _share_moment(pieces: list[Piece]) -> None:
    """One moment before or behind several ratings in one stretch is that of all: "after: right 3 left 1"."""
    rated = [piece for piece in pieces if piece.value is not None or piece.severity is not None]
    told = [piece for piece in rated if piece.moment is not None]
    if len(rated) > 1 and len(told) == 1 and ((told[0] is rated[0] and told[0].is_ahead) or told[0] is rated[-1]):
        for piece in rated:
            piece.moment = told[0].moment


def _piece(marked: Marked, lexicon: Lexicon, first: int, last: int, is_listed: bool) -> Piece:
    """is_listed: it is one of several, or answers a question, so that a rating may follow its moment."""
    values = [value for value in marked.values if first <= value.first and value.last <= last]
    value = values[0] if len(values) == 1 else None
    spots = _near_sites(marked, first, last, value)
    begin = first if not spots or spots[0][0] == first else _begin_of(marked, first, last, spots, value)
    sides = marked.within("side", begin, last)
    times = marked.within("moment", first, last)
    mornings = [hit for hit in times if hit[2] == "next morning"]  # "next morning 3"; "after 3" may be of three sets
    kinds, severities = marked.within("kind", first, last), marked.within("severity", first, last)
    words = marked.words[first:last]
    denied = marked.within("not", first, last)
    pain_free = bool(marked.within("pain free", first, last))
    spoken = [*spots, *sides, *kinds, *severities, *marked.within("person", first, last)]
    told = {i for a, b, _ in [*spoken, *times, *marked.within("lead", first, last)] for i in range(a, b)}
    told |= {i for role in ("also", "fine", "and") for a, b, _ in marked.within(role, first, last) for i in range(a, b)}
    numbers = {i for one in values for i in range(one.first, one.last)}
    unknown = [i for i in range(first, last) if i not in told | numbers]
    denying = {i for a, b, _ in [*denied, *marked.within("pain free", first, last)] for i in range(a, b)}
    severity = next((hit for hit in severities if hit[2] != "none"), None)
    if not is_listed and severity is not None and _is_mere_discomfort(marked, severity, kinds):
        severity = None
    anchor = value.first if value else severity[0] if severity else last
    anchor = min([anchor, *(spot[0] for spot in spots)])
    many = [hit for hit in marked.within("plural", first, last) if _overlap([hit], spots)]
    # "elbows pain free" speaks of both; in other languages the plural beside a denial says no more than "no pain".
    is_many = bool(many) and (severity is not None or bool(value and value.rating) or _is_in_s(marked, many))
    elsewhere = marked.within("not now", first, last)
    if value is not None:
        elsewhere = [hit for hit in elsewhere if not value.first <= hit[0] < value.last]
    return Piece(
        first, last, marked.written(first, last).strip(), value,
        sites=list(dict.fromkeys(hit for _, _, hit in spots)),
        side=one_side([hit for _, _, hit in sides], is_many),
        persons=list(dict.fromkeys(hit for _, _, hit in marked.within("person", first, last))),
        kind=kinds[0][2] if kinds else None,
        severity=severity[2] if severity else None,
        moment=times[-1][2] if times else None,
        is_ahead=bool(times) and times[-1][1] <= (value.first if value else last),
        is_early=bool(times) and times[-1][1] <= anchor,
        is_free=pain_free,
        is_negated=any(not (value and value.first <= hit[0] < value.last) for hit in denied),
        is_elsewhere=bool(elsewhere or _OWNER.search(marked.written(first, last))),
        is_other_day=bool(marked.within("other day", first, last)),
        is_fine=bool(marked.within("fine", first, last)),
        is_also=bool(marked.within("also", first, last)),
        is_open=_is_open(marked, sides, value, first, last),
        is_none=any(hit[2] == "none" for hit in severities) and set(unknown) <= denying,
        is_known=set(unknown) <= denying,
        is_change=bool(marked.within("change", first, last)),
        is_listed=is_listed,
        is_lone=value is not None and (value.first, value.last) == (first, last) and not value.out_of_ten,
        has_counted=bool(marked.counted & set(range(first, last))),
        is_bare=not unknown and not kinds and not severities and not _name_lifts(marked, spots, lexicon)
        and not marked.counted & set(range(first, last)),
        is_close=value is not None and _is_behind(marked, lexicon, spots, sides, value.first, first),
        is_word_close=severity is not None and _word_is_close(marked, spots, sides, times, severity, first, last),
        is_led=value is not None and _is_led(marked, value, [*spoken, *(times if is_listed else mornings)], first),
        begins=first == 0 or marked.cuts.get(first) == "stop",
        n_words=len(words),
    )  # fmt: skip


def _is_mere_discomfort(marked: Marked, severity: Hit, kinds: list[Hit]) -> bool:
    """Whether a text speaks of "a bit of discomfort": a word for how much of anything, and of less than pain."""
    is_degree = any(hit[:2] == severity[:2] for hit in marked.hits["degree"])
    less = {hit[:2] for hit in marked.hits["discomfort"]}
    return is_degree and bool(kinds) and all(kind[:2] in less for kind in kinds)


def _is_in_s(marked: Marked, hits: list[Hit]) -> bool:
    return any(marked.words[end - 1].endswith("s") for _, end, _ in hits)


def _overlap(some: list[Hit], others: list[Hit]) -> bool:
    return any(a < d and c < b for a, b, _ in some for c, d, _ in others)


def _near_sites(marked: Marked, first: int, last: int, value: Value | None) -> list[Hit]:
    """The sites of a piece; of several that nothing joins, the one that stands nearest to its rating."""
    spots = marked.within("site", first, last)
    if value is None or len({hit for _, _, hit in spots}) < 2:
        return spots
    groups: list[list[Hit]] = [[spots[0]]]
    for spot in spots[1:]:
        before = groups[-1][-1]
        between = {
            i for role in ("and", "side") for a, b, _ in marked.within(role, before[1], spot[0]) for i in range(a, b)
        }
        if len(between) == spot[0] - before[1]:
            groups[-1].append(spot)
        else:
            groups.append([spot])
    ahead = [group for group in groups if group[-1][1] <= value.first]
    return ahead[-1] if ahead else groups[0]


def _begin_of(marked: Marked, first: int, last: int, spots: list[Hit], value: Value | None) -> int:
    """The first word whose side may be that of the sites chosen: behind the last site that was left out."""
    left_out = [hit for hit in marked.within("site", first, last) if hit not in spots and hit[1] <= spots[0][0]]
    return left_out[-1][1] if left_out else first


def _name_lifts(marked: Marked, spots: list[Hit], lexicon: Lexicon) -> bool:
    """Whether a site is a word for an exercise too: "biceps 3, triceps 4" are sets, not ratings."""
    return any(" ".join(marked.words[a:b]) in lexicon.exercise.known for a, b, _ in spots)


def _is_behind(marked: Marked, lexicon: Lexicon, spots: list[Hit], sides: list[Hit], start: int, first: int) -> bool:
    """Whether word `start` stands right behind a site, or a site, its side and words like "still"."""
    ends = {b for a, b, _ in spots if " ".join(marked.words[a:b]) not in lexicon.exercise.known}
    ends |= {b for a, b, _ in spots if any(side[1] == a or side[0] == b for side in sides)}
    return start in _reach(marked, ends, sides)


def _reach(marked: Marked, ends: set[int], sides: list[Hit]) -> set[int]:
    """The words that follow on `ends` over sides, people and words that lead to a rating."""
    steps = [*sides, *marked.hits["person"], *marked.hits["lead"], *marked.hits["also"]]
    reached = set(ends)
    for a, b, _ in sorted(steps):
        if a in reached:
            reached.add(b)
    return reached


def _word_is_close(
    marked: Marked, spots: list[Hit], sides: list[Hit], times: list[Hit], severity: Hit, first: int, last: int
) -> bool:
    """Whether a word for how much stands right behind a site or its side, and a moment or nothing behind it."""
    if severity in marked.hits["severity"] and any(hit[:2] == severity[:2] for hit in marked.hits["degree"]):
        return False
    if severity[0] not in _reach(marked, {b for _, b, _ in spots}, sides):
        return False
    follow = {a for a, _, _ in [*times, *marked.hits["lead"], *sides, *marked.hits["person"]]} | {last}
    return severity[1] in follow


def _is_open(marked: Marked, sides: list[Hit], value: Value | None, first: int, last: int) -> bool:
    """Whether a rating is compared with something, or its side is told twice, as a letter and in words."""
    letters = [hit for hit in sides if hit in marked.hits["letter"]]
    compared = marked.within("comparison", first, last)
    is_weighed = re.search(r"\w\s*[<>]\s*\w", marked.written(first, last)) is not None  # "L>R 3"
    is_either = bool(letters) and (marked.has_people or len(letters) < len(sides))
    return is_weighed or is_either or (value is not None and any(hit[1] == value.first for hit in compared))


def _is_led(marked: Marked, value: Value, spoken: list[Hit], first: int) -> bool:
    """Whether a rating begins its piece or stands behind a word of pain, place or person, or one like "about"."""
    if value.first == first:
        return True
    ends = {b for _, b, _ in [*spoken, *marked.hits["lead"], *marked.hits["also"], *marked.hits["correction"]]}
    return value.first in ends


def one_side(sides: list[str], is_plural: bool) -> str:
    distinct = set(sides)
    if "both" in distinct or {"left", "right"} <= distinct:
        return "both"
    return distinct.pop() if distinct else "both" if is_plural else "unknown"
