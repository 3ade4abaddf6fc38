"""Which site a rating is about, as its heading, its cell for the site, or the legend's word for a blank one says."""

import re

from preflare.reading.context import SheetContext
from preflare.reading.legend_lines import legend_words
from preflare.reading.side_letters import side_of_letter
from preflare.reading.text import fold, words_of
from preflare.reading.words import nearest_word

_EXPLAINED = re.compile(r"[(\[](?P<sign>[^()\[\]=:]*)[=:](?P<meaning>[^()\[\]]*)[)\]]")
_ARM = frozenset(  # words for the whole arm, which a heading may have where its ratings are of one part of it
    {"arm", "arms", "arme", "armen", "armene", "armarna", "bras", "brazo", "brazos", "braccio", "braccia", "braco"}
    | {"bracos", "reka", "rece", "rak", "ramie", "ramiona"}
)


def site_of_heading(context: SheetContext, written: str, site: str) -> str:
    """The site that a heading names; where it says no more than the arm, that which the legend says ratings are of."""
    told = context.legend.pain.site if context.legend.pain else None
    if told is None or not set(words_of(written)) & _ARM or site != "upper arm":
        return site
    context.assume(f'"{written}" was read as {told}, as a line of the log says of ratings without a site.')
    return told


def site_when_blank(context: SheetContext, heading: str) -> str | None:
    """The site that the heading of sites gives for a blank cell: "Where? (blank = elbow)"."""
    for match in _EXPLAINED.finditer(heading):
        is_blank = any(True for _ in legend_words("blank").find(words_of(match["sign"])))
        hits = {hit for _, _, hit in context.lexicon.site.find(words_of(match["meaning"]))}
        if is_blank and len(hits) == 1:
            site = hits.pop()
            context.assume(f'Pain without a site was taken to be about the {site}: so says the heading "{heading}".')
            return site
    return None


def _without_slips(context: SheetContext, words: list[str]) -> list[str]:
    """The words with each slip of one letter in the name of a site put right, where no other known word is as near."""
    site, severity = context.lexicon.site, context.lexicon.severity
    near = {word: nearest_word(word, site) for word in words if len(word) >= 5 and word not in severity.known}
    return [near.get(word) or word for word in words]


def sites_in(context: SheetContext, text: str, side: str) -> list[tuple[str, str]]:
    """The (site, side) pairs that a text names; side: what is known besides. [] where it names no site."""
    words = words_of(text)
    spots = list(context.lexicon.site.find(words))
    if not spots:
        words = _without_slips(context, words)
        spots = list(context.lexicon.site.find(words))
        for _, _, hit in spots:
            context.choose("site", text, hit, "assumed")
            context.assume(f'"{text}" was read as {hit}: a word in it is one letter off.')
    if not spots:
        return []
    spots = _without_landmarks(context, words, spots)
    for _, _, hit in spots:
        context.choose("site", text, hit, "season.toml" if fold(text) in context.lexicon.site.taught else "vocabulary")
    sides = context.lexicon.sides_in(words)
    if len(spots) > 1 and len(sides) > 1:  # "left elbow, right wrist": each side goes to the site that follows it
        return [(hit, next((s for _, end, s in reversed(sides) if end <= start), side)) for start, _, hit in spots]
    hits = {hit for _, _, hit in sides}
    letter = re.search(r"(?<![\w'’])([A-Z])\s*\)?$", text)
    if not hits and letter is not None and (told := side_of_letter(letter[1])) is not None:
        hits = {told}  # "łokieć P"
    plural = any(words[start].endswith("s") and hit in {"elbow", "forearm"} for start, _, hit in spots)
    one = "both" if len(hits) > 1 else hits.pop() if hits else "both" if plural and side == "unknown" else side
    return [(site, one) for site in dict.fromkeys(hit for _, _, hit in spots)]


def _without_landmarks(
    context: SheetContext, words: list[str], spots: list[tuple[int, int, str]]
) -> list[tuple[int, int, str]]:
    """The sites without those that only say where another lies: "upper arm (above the elbow)" is the upper arm."""
    ends = [end for _, end, _ in context.lexicon.talk["near"].find(words)]
    kept = [spot for spot in spots if not any(_leads_to(words, end, spot[0]) for end in ends)]
    return kept if kept and spots[0] in kept else spots


def _leads_to(words: list[str], end: int, start: int) -> bool:
    """Whether nothing but an article or two stands between a word for "near" and a site."""
    return end <= start <= end + 2 and all(len(word) <= 3 for word in words[end:start])
