"""Marks of warm-ups and misses in work written in short: "w60x5", "60x5 (w)", and those that a sheet's legend declares.

Each becomes the word that it stands for, behind its set, before the text is read.
"""

import re
from collections.abc import Iterable

from preflare.reading.lexicon import Lexicon
from preflare.reading.text import fold, words_of

_MARK = r"\*{1,2}|\(\s*\)|\[\s*\]|\([^\W\d_]{1,12}\)|\[[^\W\d_]{1,12}\]|[^\W\d_]{1,2}|[°!#^~†]"
_WHERE = (  # where a mark stands beside its set, which is no part of it: "A davor", "w before the set"
    r"(?:\s+(?:in front|before|ahead|behind|after|at the (?:end|start)|davor|dahinter|vorne?|hinten|vor|hinter|nach"
    r"|am (?:ende|anfang)|devant|derri[èe]re|avant|apr[èe]s|[àa] la fin|delante|detr[áa]s|antes|despu[ée]s|al final"
    r"|davanti|dietro|prima|dopo|alla fine|[àa] frente|atr[áa]s|depois|no fim|ervoor|erachter|voor|achter"
    r"|aan het eind|przed|za|po|z przodu|na ko[ńn]cu|foran|bak|etter|f[øö]r(?:e|an)?|til slutt|efter|bagved"
    r"|framf[öo]r|bakom|i slutet)(?![^\W_])(?:\s+[^\W\d_]+){0,3})?"
)
_FORWARD = re.compile(
    rf"(?<![^\W_])(?P<mark>{_MARK})[\"'”“»’]?{_WHERE}\s*(?:=|:|→|–)\s*(?P<words>(?:[^,;|=\n.]|\.(?!\s)){{2,40}})", re.I
)
_BACKWARD = re.compile(
    rf"(?P<words>(?:[^,;|=\n.]|\.(?!\s)){{3,40}}?)\s*=\s*[\"'“„«‘]?(?P<mark>{_MARK})[\"'”“»’]?(?=\s*(?:[,;|\n]|$))"
)
_IS = (  # verbs and phrases between a mark and its meaning
    r"(?:is|are|means?|stands for|marks|ist|sind|bedeutet|hei(?:ß|ss)t|steht für|est|sont|signifie|indique"
    r"|d[ée]signe|veut dire|es|son|significa|quiere decir|indica|è|é|sono|vuol dire|quer dizer|betekent"
    r"|staat voor|to|oznacza|znaczy|er|betyr|betyder|st[åa]r for|st[åa]r f[öo]r|är)"
)
_SAID = re.compile(  # "La c es calentamiento": one letter, or a mark in quotes
    r"(?:^|[.,;:(]\s*|(?<![^\W_])(?:the|an?|letter|der|die|das|ein|buchstabe|l[ae]|une?|lettre|el|letra|il|lo|lettera|o"
    r"|de|een|litera|literka|en|et|bokstaven?)\s+)(?![aiy]\s+(?:to|es)\s)"
    rf"(?:[\"'“„«‘]\s*(?P<quoted>{_MARK})\s*[\"'”“»’]|(?P<mark>[^\W\d_]|\*{{1,2}}|[°!#^~†]))"
    rf"{_WHERE}\s+{_IS}\s+(?P<words>(?:[^,;|=\n.]|\.(?!\s)){{2,40}})",
    re.I,
)
_MARKED_WITH = re.compile(  # "warm-ups are marked with a w", "Aufwärmsätze mit a gekennzeichnet"
    r"(?P<words>(?:[^,;|=\n.]|\.(?!\s)){3,40}?)\s+"
    r"(?:(?:marked|noted|written|shown|markiert|gekennzeichnet|bezeichnet|not[ée]e?s?|marqu[ée]e?s?|marcad[oa]s?"
    r"|anotad[oa]s?|segnat[oaie]|indicat[oaie]|gemarkeerd|aangegeven|oznaczon[aeoy]|zaznaczon[aeoy]|merket|markert"
    r"|markeret|märkta?|markera(?:t|de))\s+)?"
    r"(?:with|by|as|mit|par|avec|con|com|met|jako|przez|litera|literą|med)\s+"
    r"(?:(?:an?|the|letter|einem|dem|buchstaben|une?|la|l[ea]ttre|una?|letra|uma?|lettera|een|de|et|en|bokstaven)\s+)*"
    r"[\"'“„«‘]?(?P<mark>[^\W\d_]|\*{1,2}|[°!#^~†])[\"'”“»’]?(?=\s*(?:[,;|.\n]|$|markiert|gekennzeichnet|bezeichnet))",
    re.I,
)
_NO_MISS = {
    "pr", "pb", "record", "best", "belt", "paused", "pause", "video", "straps", "rekord", "bestleistung", "gurtel",
    "ceinture", "cinturon", "cintura", "riem", "pas", "belte", "balte", "mejor", "marca", "rekordowe", "zyciowka",
}  # fmt: skip
_SET = r"\d+(?:[.,]\d+)?\s*(?:kgs?|lbs?)?\s*[x×]\s*\d+(?:\s*[x×]\s*\d+(?:[.,]\d+)?)?(?:\s*@\s*\d+(?:[.,]\d+)?)?"
_WORDS = {"warm_up": " (warmup)", "failed": " (failed)", "other": ""}
_ALWAYS = {"w": "warm_up", "(w)": "warm_up", "[w]": "warm_up", "(wu)": "warm_up", "(w-up)": "warm_up"}


def marks_in(lines: Iterable[str], lexicon: Lexicon) -> dict[str, str]:
    """What the legend of a sheet says of marks: folded mark -> warm_up, failed, or other (no miss)."""
    marks: dict[str, str] = {}
    for line in lines:
        for pattern in (_FORWARD, _BACKWARD, _SAID, _MARKED_WITH):
            for match in pattern.finditer(line):
                meaning = _meaning(match["words"], lexicon)
                mark = match["mark"] or match["quoted"]
                usual = lexicon.work.exact(mark)
                is_word = usual == meaning == "warm_up" and len(mark) > 1  # read as such, for all behind
                if pattern in _PROSE and meaning == "other":
                    continue
                if meaning is not None and usual != "bodyweight" and not is_word:
                    marks.setdefault(re.sub(r"\s", "", mark).casefold(), meaning)
    return marks


_PROSE = (_SAID, _MARKED_WITH)


def _meaning(words: str, lexicon: Lexicon) -> str | None:
    said = words_of(words)
    hits = {hit for _, _, hit in lexicon.work.find(said)} & {"warm_up", "failed"}
    if len(hits) == 1:
        return hits.pop()
    return "other" if not hits and _NO_MISS & set(said) else None


def with_words_for_marks(text: str, marks: dict[str, str]) -> str:
    """The text with the word for every mark at a set behind it: "w60x5 100x5*" -> "60x5 (warmup) 100x5 (failed)"."""
    for mark, meaning in {**_ALWAYS, **marks}.items():
        if meaning == "warm_up" and mark.isalpha():
            text = _before_a_list(text, mark)
        if mark in {"()", "[]"}:
            text = _in_brackets(text, mark, meaning)
            continue
        leads = meaning == "warm_up" and _leads(mark, text)
        text = _marked(text, mark, meaning, r"\s*" if leads else "", "" if leads else r"\s*")
    return text


def _before_a_list(text: str, mark: str) -> str:
    """The text with a mark that stands once, before several sets and a break, as the word that holds for all of them:
    "uv 40x5 60x5 / 80x5"."""
    sign = rf"(?<![^\W_]){re.escape(mark)}(?![^\W_])"
    pattern = rf"{sign}\s*:?\s*(?={_SET}(?:[\s,+]+{_SET})+\s*(?:\s/\s|[;|\n]))"
    return re.sub(pattern, "warmup ", text, flags=re.I) if len(re.findall(sign, text, re.I)) == 1 else text


def _leads(mark: str, text: str) -> bool:
    """Whether a mark stands before its set: "w 60x5 w 80x3", "Squat: w 60x5"."""
    return re.search(rf"(?:^|[:,;(|]|\s[-–—])\s*{re.escape(mark)}\s*{_SET}", text, re.I) is not None


def _marked(text: str, mark: str, meaning: str, before: str, behind: str) -> str:
    """The text with one mark as a word. before, behind: what may stand between it and its set on either side."""
    sign, word = re.escape(mark), _WORDS[meaning]
    if meaning == "warm_up":
        leading = rf"(?<![^\W\d_]\s)(?<![^\W_]){sign}{before}({_SET})(?!\s*\(warmup)"
        text = re.sub(leading, rf"\1{word}", text, flags=re.I) if before else text
        trailing = rf"({_SET}){behind}{sign}(?![^\W_]|/)"
        text = re.sub(trailing, rf"\1{word}", text, flags=re.I)
        return text if before else re.sub(leading, rf"\1{word}", text, flags=re.I)
    return re.sub(rf"({_SET})\s*{sign}(?![^\W_]|/)", rf"\1{word}", text, flags=re.I)


def _in_brackets(text: str, mark: str, meaning: str) -> str:
    """Whole sets in brackets that a legend declares; brackets without a legend are read as warm-ups elsewhere."""
    if meaning == "warm_up":
        return text
    start, end = re.escape(mark[0]), re.escape(mark[1])
    return re.sub(rf"{start}\s*({_SET})\s*{end}", rf"\1{_WORDS[meaning]}", text, flags=re.I)


_TELLING = "x×@wfsrk"  # letters at a set that the grammar of work in short knows
_SIGNS = r"[*!#^~†°¤§]{1,2}"
_OPEN_BEFORE = re.compile(rf"(?<![^\W_])(?P<mark>{_SIGNS}|[^\W\d_{_TELLING}])(?P<set>{_SET})", re.I)
_OPEN_BEHIND = re.compile(
    rf"(?P<set>(?<![\d.,x×@]){_SET})"
    rf"(?P<mark>\s?{_SIGNS}|[^\W\d_{_TELLING}]|\s[^\W\d_{_TELLING}](?=\s*(?:[,;|]|$)))(?![^\W_]|\s*[=+x×])",
    re.I,
)


def open_marks(text: str) -> tuple[str, list[tuple[str, str]]]:
    """(the text without marks that stand at a set and have no known meaning, each mark with its set as written).

    "o30x8 30x8*" -> ("30x8 30x8", [("o", "o30x8"), ("*", "30x8*")]).
    """
    found: list[tuple[str, str]] = []

    def without(match: re.Match[str]) -> str:
        found.append((match["mark"].strip(), match[0].strip()))
        return match["set"]

    text = _OPEN_BEFORE.sub(without, text)
    return _OPEN_BEHIND.sub(without, text), found


_BODY_WEIGHT = re.compile(r"(\d+\s*[x×]\s*\d{1,2})\s+KG(?=\s*(?:\+|$|[,;]))")


def body_weight_for_kg(text: str) -> str:
    """The text with "3x8 KG" as three sets with the body's weight, German "Körpergewicht"."""
    return _BODY_WEIGHT.sub(r"\1 BW", text)


_LEAST_LETTERS = 3  # of a word cut short


def says_failed(word: str, lexicon: Lexicon) -> bool:
    """Whether a word, or one cut short by a point ("fall.", "nieud."), says that a set was missed."""
    bare = word.strip(" .")
    if lexicon.work.exact(bare) is not None or not word.endswith(".") or len(bare) < _LEAST_LETTERS:
        return lexicon.work.exact(bare) == "failed"
    meant = {kind for phrase, kind in lexicon.work.known.items() if phrase.startswith(fold(bare))}
    return meant == {"failed"}
