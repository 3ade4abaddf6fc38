"""The shapes of one item of set shorthand: regular expressions over token letters (see shorthand.tokenise).

What the numbers of a shape mean is read in items.py.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from preflare.reading.item import MOST_REPS, Fields, Item, TokenLike, whole
from preflare.reading.items import CORE_READERS, set_by_set

# An item is a core, then any number of tails. Cores, most telling first.
_CORES = tuple(
    (name, re.compile(pattern))
    for name, pattern in (
        ("word_load", r"(?:(?P<n>N)x?)?(?P<w>[123])[@o]?(?P<l>N)(?P<k>k?)(?!x)"),  # single 180, 3 singles @180
        ("load_word", r"(?P<l>N)(?P<k>k?)(?:[xo])?(?P<w>[123])"),  # 180 single
        ("body_sets_reps", r"(?P<a>N)s?[xo](?P<b>N)r?[@o]?B(?:\+(?P<l>N)(?P<k>k?))?"),  # 3x8 BW+10
        (
            "body",
            r"B(?:\+(?P<l>N)(?P<k>k?))?(?:[xo](?P<a>N)r?(?:x(?P<b>N)s?)?(?P<list>(?:[,/]N(?![x@k%N]))*))?",
        ),  # BW+20x5x3
        ("timed", r"(?P<a>N)xNt"),  # 3x30 s
        ("missed", r"(?P<l>N)(?P<k>k?)xF"),  # 140xF
        ("body_list", r"B(?:\+(?P<l>N)(?P<k>k?))?:?(?P<a>N)(?P<list>(?:[,/]N(?![x@k%]))+)"),  # BW+10 6,6,5
        ("added", r"\+(?P<l>N)(?P<k>k?)[xo](?P<a>N)r?(?:x(?P<b>N)s?)?"),  # +20x5
        ("reps_load_sets", r"(?P<b>N)r?@(?P<l>N)(?P<k>k?)x(?P<a>N)s?"),  # 5 reps @ 100 x 3 sets
        ("load_effort_reps", r"(?P<l>N)(?P<k>k?)@(?P<word>R?)(?P<e>N)x(?P<b>N)(?:x(?P<a>N))?"),  # 100@8x5
        ("reps_and_loads", r"(?P<first>N)(?P<list>(?:[,/-]N)+)[:@](?P<l>N)(?P<loads>k?(?:[,/-]Nk?(?![x@%]))+)"),
        ("scheme_and_loads", r"(?P<a>N)[xo](?P<b>N)r?:?@?(?P<l>N)(?P<loads>k?(?:[,/-]Nk?(?![x@%]))+)"),
        ("loads_reps", r"(?P<l>N)(?P<loads>k?(?:[/-]Nk?)+)x(?P<b>N)(?![x@k])"),  # 60/80/100x5
        ("load_in_brackets", r"(?P<l>N)(?P<k>k?)\((?P<a>N)[xo](?P<b>N)\)"),  # 100 (3x5)
        ("load_reps_in_brackets", r"(?P<l>N)(?P<k>k?)\((?P<b>N)r?\)"),  # 100 (5)
        ("load_colon_reps", r"(?P<l>N)(?P<k>k?):(?P<first>N)(?P<list>(?:[,/]N(?![x@k%]))*)(?![x@k%/-])"),  # 100: 5,5,5
        ("dashes", r"(?P<l>N)(?P<k>k?)-(?P<b>N)(?:-(?P<a>N))?(?![x@k%/N-])"),  # 135-5
        ("load_slash_reps", r"(?P<l>N)(?P<k>k?)/(?P<b>N)(?![x@k%/N-])"),  # 135/5
        ("percent_scheme", r"(?P<l>N)%:?@?(?P<a>N)[xo](?P<b>N)"),  # 85% 3x3
        ("in_each_hand", r"(?P<n>N)x(?P<l>N)(?P<k>k)[xo](?P<b>N)(?:x(?P<a>N))?"),  # 2x20kg x 10
        ("labelled", r"(?P<a>N)s[xo@]?(?P<b>N)r?(?:[x@o](?P<l>N)(?P<k>k?)(?!%))?"),  # 3 sets of 5 at 140
        ("reps_labelled", r"(?P<b>N)r[@xo](?P<l>N)(?P<k>k?)"),  # 5 reps at 140
        (
            "three",
            r"(?P<a>N)(?P<ka>k?)[xo](?P<b>N)(?P<kb>k?)r?[xo@](?P<c>N)(?P<kc>k?)s?(?P<p>%?)(?P<loads>(?:/N(?![x@]))*)",
        ),
        (
            "slashes",
            r"(?P<a>N)(?P<ka>k?)/(?P<b>N)/(?P<c>N)(?P<list>(?:/N)*)(?:[@x](?P<l>N)(?P<k>k?))?",
        ),  # 140/5/3, 5/5/4@100
        ("load_then_scheme", r"(?P<l>N)(?P<k>k?)[:-]?@?(?P<a>N)[xo](?P<b>N)(?![xk@%])"),  # 140 5x3
        ("scheme_then_load", r"(?P<a>N)[xo](?P<b>N)(?P<l>N)(?P<k>k?)(?![x%/])"),  # 5x3 140kg
        ("percent_reps", r"(?P<l>N)%[xo](?P<a>N)(?:[xo](?P<b>N))?"),  # 75%x3x2
        ("load_reps_list", r"(?P<l>N)(?P<k>k?)[xo](?P<a>N)(?P<list>(?:[,/]N(?![x@k%Nos]))+)"),
        ("load_reps_sum", r"(?P<l>N)(?P<k>k?)[xo]\(?(?P<a>N)(?P<list>(?:\+N(?![x@k%NosF]))+)\)?"),  # 140x3,3,2
        (
            "two",
            r"(?P<a>N)(?P<ka>k?)[xo](?P<lo>(?:N-)?)(?P<b>N)(?P<kb>k?)r?(?P<amrap>\+?)(?!N(?!x))",
        ),  # 140x3, 3x5, 3x4-6, 1x5+
        ("amrap", r"(?P<a>N)(?P<ka>k?)xA(?:[:(]?(?P<b>N)r?\)?)?"),  # 100xAMRAP 9
        ("reps_list_at", r"(?P<first>N)(?P<list>(?:[,/+-]N(?![x@k%])|[,/+-]N(?=@))+)@?(?P<l>N)(?P<k>k?)"),  # 5,5,4 @100
        ("load_reps", r"(?P<l>N)(?P<k>k)(?P<list>[,/]?N(?:[,/]N)*)?(?![x@])"),  # 100kg 5,5,5
        ("at", r"(?P<a>N)r?@(?P<b>N)(?P<k>k?)(?P<p>%?)"),  # 180@8.5, 5@140
    )
)
_TAILS = tuple(
    (name, re.compile(pattern))
    for name, pattern in (
        ("rpes", r"[,(]?@?R@?(?P<n>N)(?P<list>(?:[,/-]N){2,})\)?"),
        ("rpes", r"@(?P<n>N)(?P<list>(?:,?@N)+)(?![k%x])"),
        ("done", r"\((?P<n>N)(?P<list>(?:[,/+-]N)+)r?\)"),  # the repetitions done, set by set
        ("rpe", r"[,(]?@?R@?(?P<n>N)(?:[-/](?P<m>N))?\)?"),
        ("rpe", r"[,(]?@?(?P<n>N)(?:-(?P<m>N))?R\)?"),
        ("rir", r"[,(]?@?I@?(?P<n>N)\)?"),
        ("rir", r"[,(]?@?(?P<n>N)(?:-(?P<m>N))?r?I\)?"),
        ("percent", r"[,(]?@?(?P<n>N)%\)?"),
        ("failed_done", r"\(?F\)?:?\((?P<n>N)r?\)|\(?F(?P<m>N)(?![x@k%/,])\)?"),  # 75x5 F(4): of five, four were done
        ("failed_rep", r"\+(?P<n>N)?F"),
        ("failed", r"[,(]?F\)?|x(?!N)"),
        ("warm_up", r"\(?W\)?"),
        ("load", r"@?(?P<n>N)(?P<k>k)(?![x/-])"),
        ("added", r"\+(?P<n>N)(?P<k>k?)(?![x/+F])"),
        ("at", r"\(?@(?P<n>N)(?:-(?P<m>N))?\)?(?![k%x]|N(?!k?[x@]))"),
    )
)


def match_item(tokens: Sequence[TokenLike], small: bool) -> tuple[Item | None, int]:
    """The item that starts the tokens, and how many tokens it takes; (None, 0) when no shape explains its numbers."""
    letters = "".join(token.letter for token in tokens)
    best: tuple[Item | None, int] = (None, 0)
    for name, pattern in _CORES:
        match = pattern.match(letters)
        if match is None or match.end() == 0:
            continue
        item = CORE_READERS[name](Fields(match, tokens), small)
        if item is None:
            continue
        item, end = _with_tails(item, tokens, letters, match.end())
        if item is not None and _ends_well(letters, end) and end > best[1]:
            best = (item, end)
    return best


def _ends_well(letters: str, end: int) -> bool:
    """An item must stop where something new may start, not inside a longer expression."""
    return end == len(letters) or letters[end] not in "x@%kRIs-/" or letters[end : end + 2] == "/ "


def _with_tails(item: Item, tokens: Sequence[TokenLike], letters: str, start: int) -> tuple[Item | None, int]:
    """The item with the effort, percentage, load and failure marks that follow its core."""
    while start < len(letters):
        for name, pattern in _TAILS:
            match = pattern.match(letters, start)
            if match is None:
                continue
            changed = _apply_tail(item, name, Fields(match, tokens))
            if changed is not None:
                item, start = changed, match.end()
                break
        else:
            return item, start
    return item, start


def _apply_tail(item: Item, name: str, f: Fields) -> Item | None:
    if name == "failed_done":
        return _done_of_planned(item, f)
    if name in {"failed", "failed_rep"}:
        return replace(item, is_failed=True)
    if name == "warm_up":
        return replace(item, is_warm_up=True)
    if name in {"rpes", "done"}:
        return set_by_set(item, name, (f.number("n") or 0.0, *f.numbers("list")))
    number, high = f.number("n"), f.number("m") if f.has("m") else None
    if number is None:
        return None
    middle = number if high is None else (number + high) / 2
    doubts = (
        item.doubts
        if high is None
        else (*item.doubts, f"{format(number, 'g')}-{format(high, 'g')} was read as {format(middle, 'g')}")
    )
    if name == "rpe" and number <= 10:
        return replace(item, rpe=middle, doubts=doubts)
    if name == "rir" and number <= 10:
        return replace(item, rir=middle, doubts=doubts)
    if name == "percent" and item.percent is None:
        return replace(item, percent=number)
    if name == "load" and not item.loads:
        return replace(item, loads=(number,), unit=f.unit("k"))
    if name == "added" and not item.loads:
        return replace(item, loads=(number,), unit=f.unit("k"), is_added=True)
    if name == "at":
        if number <= 10 and item.rpe is None:
            return replace(item, rpe=middle, doubts=doubts)
        if number > 10 and high is None and not item.loads:
            return replace(item, loads=(number,))
    return None


def _done_of_planned(item: Item, f: Fields) -> Item | None:
    """A single set whose repetitions are those done, where fewer than the ones before them."""
    done = whole(f.number("n") if f.has("n") else f.number("m"), 0, MOST_REPS)
    planned = item.reps[0] if len(item.reps) == 1 and item.sets == 1 else None
    if done is None or planned is None or done > planned:
        return None
    return replace(item, reps=(done,), is_failed=True)
