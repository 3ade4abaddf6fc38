"""The shapes of one item of set shorthand: regular expressions over token letters (see shorthand.tokenise).

What the numbers of a shape mean is read in items.py.
"""

import re
from collections.abc import Sequence

from preflare.reading.item import Fields, How, Item, TokenLike
from preflare.reading.items import CORE_READERS
from preflare.reading.tails import with_tails

# An item is a core, then any number of tails (tails.py). Cores, most telling first.
_CORES = tuple(
    (name, re.compile(pattern))
    for name, pattern in (
        ("word_load", r"(?:(?P<n>N)x?)?(?P<w>[123])[@o]?(?P<l>N)(?P<k>k?)(?!x)"),  # single 180, 3 singles @180
        ("load_word", r"(?P<l>N)(?P<k>k?)[xo]{0,2}(?P<w>[123])"),  # 180 single, 140 for a double
        (
            "body_sets_reps",
            r"(?P<a>N)s?[xo](?P<b>N)r?[x@o]?B(?:\+(?P<l>N)(?P<k>k?))?(?![xo]?N)",
        ),  # 3x8 BW+10, 3x8xBW
        ("body_then_scheme", r"B(?:\+(?P<l>N)(?P<k>k?))?:?(?P<a>N)s?[xo](?P<b>N)r?"),  # BW+10 3x8
        ("sets_reps_added", r"(?P<a>N)s?[xo](?P<b>N)r?[x@]\+(?P<l>N)(?P<k>k?)"),  # 3x8x+10
        ("reps_body", r"(?P<a>N)r?[x@o]?B(?:\+(?P<l>N)(?P<k>k?))?(?![xo]?N)"),  # 8xBW
        ("reps_added", r"(?P<a>N)r?[x@]\+(?P<l>N)(?P<k>k?)"),  # 5x+5
        ("list_body", r"(?P<first>N)(?P<list>(?:[,/-]N)+)[x@o]?B(?:\+(?P<l>N)(?P<k>k?))?(?![xo]?N)"),  # 3-3-2 BW
        ("list_added", r"(?P<first>N)(?P<list>(?:[,/-]N){2,})[x@]?\+(?P<l>N)(?P<k>k?)"),  # 5-5-4 +10
        (
            "body",
            r"B(?:\+(?P<l>N)(?P<k>k?))?(?:[xo:](?P<a>N)r?(?:x(?P<b>N)s?)?(?P<list>(?:[,/-]N(?![x@k%NsoI]))*))?",
        ),  # BW+20x5x3
        ("timed", r"(?P<a>N)xNt"),  # 3x30 s
        ("missed", r"(?P<l>N)(?P<k>k?)xF"),  # 140xF
        ("body_list", r"B(?:\+(?P<l>N)(?P<k>k?))?:?(?P<a>N)(?P<list>(?:[,/-]N(?![x@k%]))+)"),  # BW+10 6,6,5
        ("added_list", r"\+(?P<l>N)(?P<k>k?)[xo:]?(?P<a>N)(?P<list>(?:[,/-]N(?![x@k%]))+)"),  # +25: 5/5/5
        ("body_list", r"B(?:\+(?P<l>N)(?P<k>k?))?:?(?P<a>N)(?P<list>(?:N(?![x@k%sr:/,+-]))+)"),  # BW: 7 6 6
        ("added_list", r"\+(?P<l>N)(?P<k>k?):(?P<a>N)(?P<list>(?:N(?![x@k%sr:/,+-]))+)"),  # +2.5: 5 4
        ("added", r"\+(?P<l>N)(?P<k>k?)[xo:](?P<a>N)r?(?:x(?P<b>N)s?)?"),  # +20x5
        ("same", r"(?:(?P<n>N)x)?D(?:x(?P<m>N))?"),  # idem
        ("times_in_brackets", r"(?P<n>N)x\((?P<l>N)(?P<k>k?)x(?P<b>N)\)"),  # 3x (100x5)
        ("load_list_in_brackets", r"(?P<l>N)(?P<k>k?)x?\((?P<first>N)(?P<list>(?:[,/-]N)+)\)"),  # 100 (5,5,4)
        ("load_spaced_list", r"(?P<l>N)(?P<k>k:?|:)(?P<first>N)(?P<list>(?:N(?![x@k%sr:/,+-]))+)"),  # 100: 5 5 4
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
        ("hands_scheme", r"(?P<n>N)x(?P<l>N)(?P<k>k)[,:-]?(?P<a>N)[xo](?P<b>N)(?![xk])"),  # 2x22,5 kg 3x10
        ("hands_scheme", r"(?P<a>N)[xo](?P<b>N)[@,]?(?P<n>N)x(?P<l>N)(?P<k>k)(?![xo])"),  # 3x10 2x20kg
        ("labelled", r"(?P<a>N)s,?(?P<b>N)r,?@?(?P<l>N)(?P<k>k)"),  # 3 sets, 5 reps, 100 kg
        ("reps_labelled", r"(?P<b>N)r,?(?P<l>N)(?P<k>k)"),  # 5 reps 100 kg
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
        ("load_then_scheme", r"(?P<l>N)(?P<k>k?)(?:(?<=k),|[:-]?)@?(?P<a>N)s?[xo](?P<b>N)r?(?![xk@%])"),  # 140 5x3
        ("scheme_then_load", r"(?P<a>N)[xo](?P<b>N)(?P<l>N)(?P<k>k?)(?![x%/])"),  # 5x3 140kg
        ("percent_reps", r"(?P<l>N)%[xo](?P<a>N)(?:[xo](?P<b>N))?"),  # 75%x3x2
        (
            "load_reps_list",
            r"(?P<l>N)(?P<k>k?)[xo](?P<a>N)(?P<list>(?:(?:[,/]N(?![x@k%NosrI]|\.[rF?]))+|(?:-N(?![x@k%NosrI])){2,}))",
        ),
        (
            "load_reps_rated",
            r"(?P<l>N)(?P<k>k?)[xo](?P<a>N)(?P<list>(?:/N)+)(?=@N(?![k%x])|N(?:-N)?r?o?I|R|I)",
        ),  # 100x5/5/5 @8, 100x5/5 2 RIR
        (
            "load_apart_list",
            r"(?P<l>N)(?P<k>k?)(?:-(?=N[,/]N[,/]N))?(?P<first>N)"
            r"(?P<list>(?:[,/]N(?![xk%osr]|I(?!@?N)|N(?!N|-?N?r?o?I)))+|(?:-N(?![xk%NosrI])){2,})(?!/)",
        ),  # 155 5/5/4, 80 5, 5, 5
        ("load_apart_reps", r"(?P<l>N)(?P<b>N)r?(?![x%kNos/+-]|,N(?![Nkx]))"),  # 135 5, where the log writes so
        ("load_reps_sum", r"(?P<l>N)(?P<k>k?)[xo]\(?(?P<a>N)(?P<list>(?:\+N(?![x@k%NosF]))+)\)?"),  # 140x3,3,2
        (
            "two",
            r"(?P<a>N)(?P<ka>k?)[xo](?P<lo>(?:N-)?)(?P<b>N)(?P<kb>k?)r?(?P<amrap>(?:\+(?!N))?)(?!N(?![xIsr]|-?N?r?I))",
        ),  # 140x3, 3x5, 3x4-6, 1x5+
        ("amrap", r"(?P<a>N)(?P<ka>k?)x?A(?:[:(]?(?P<b>N)r?\)?)?"),  # 100xAMRAP 9
        ("amrap_first", r"A@?(?P<a>N)(?P<ka>k?)[:x(](?P<b>N)r?\)?"),  # AMRAP @ 100: 12
        (
            "reps_list_at",
            r"(?P<first>N)(?P<list>(?:[,/+-]N(?![x@k%])|[,/+-]N(?=@))+)[@xo]?(?P<l>N)(?P<k>k?)",
        ),  # 5,5,4 @100
        ("load_reps", r"(?P<l>N)(?P<k>k)(?P<list>[,/]?N(?:[,/]N)*)?(?![x@])"),  # 100kg 5,5,5
        ("at", r"(?P<a>N)r?@(?P<b>N)(?P<k>k?)(?P<p>%?)"),  # 180@8.5, 5@140
    )
)


def match_item(tokens: Sequence[TokenLike], how: How) -> tuple[Item | None, int]:
    """The item that starts the tokens, and how many tokens it takes; (None, 0) when no shape explains its numbers."""
    letters = "".join(token.letter for token in tokens)
    best: tuple[Item | None, int] = (None, 0)
    for name, pattern in _CORES:
        match = pattern.match(letters)
        if match is None or match.end() == 0:
            continue
        item = CORE_READERS[name](Fields(match, tokens), how)
        if item is None:
            continue
        item, end = with_tails(item, tokens, letters, match.end())
        if item is not None and _ends_well(letters, end) and end > best[1]:
            best = (item, end)
    return best


def _ends_well(letters: str, end: int) -> bool:
    """An item must stop where something new may start, not inside a longer expression."""
    if end == len(letters) or letters[end] not in "x@%kRIs-/" or letters.startswith("/Bx", end):
        return True
    return letters[end] in "-@" and letters[end + 1 : end + 2] in {"?", "C", "F", "p", "E", "W", "D", "B", "("}
