"""Other people in somebody's log: "Theo: deadlift 140x5" under the owner's own lines, "Theo left elbow 2" in remarks.

A word before a colon is taken for a person only where something else says that it is one; else it is read as a remark,
as in "Finisher: curls 3x12".
"""

import re
from collections.abc import Iterable

from preflare.reading.lexicon import Lexicon
from preflare.reading.notes import pain_in_note
from preflare.reading.owners import may_be_person
from preflare.reading.shorthand import parse_work
from preflare.reading.text import fold

_NAME = r"[A-ZÀ-ÞŁŚŻŹĆĄĘ][^\W\d_]+(?:-[A-ZÀ-Þ][^\W\d_]+)?(?:\s[A-ZÀ-Þ][^\W\d_]*\.?)?"
_LED = re.compile(rf"(?:^|(?<=[\n.;!]))[ \t]*(?P<name>{_NAME})\s*:(?P<rest>[^\n]*)", re.M)
_WITH = re.compile(rf"(?<![^\W_])(?i:with|w/|mit|avec|con|com|met|samen met|z|ze|med|sammen med)\s+(?P<name>{_NAME})")
_END = re.compile(r"\n|[.;!](?=\s|$)")


def companions(texts: Iterable[str], roster: Iterable[str], lexicon: Lexicon) -> frozenset[str]:
    """The people besides its owner whom a diary's texts name before a colon with sets behind it, and somewhere else as
    a person: in the roster, behind "with", or at the head of a report of pain. A word that stands without its capital
    anywhere is no name.

    roster: full names known from anywhere.
    """
    texts = list(texts)
    led = {match["name"] for text in texts for match in _LED.finditer(text) if parse_work(match["rest"], lexicon).sets}
    everything = "\n".join(texts) if led else ""
    candidates = {name for name in led if may_be_person(name.replace(".", " ").split(), lexicon)}
    candidates = {name for name in candidates if re.search(rf"\b{re.escape(name.lower())}\b", everything) is None}
    known = {part for name in roster for part in fold(name).split()}
    sure = {name for name in candidates if fold(name).split()[0] in known}
    sure |= {match["name"] for match in _WITH.finditer(everything)} & candidates
    return frozenset(sure | {name for name in candidates - sure if _feels_pain(name, everything, lexicon)})


def _feels_pain(name: str, text: str, lexicon: Lexicon) -> bool:
    """Whether some sentence that begins with a name reports pain."""
    sentences = re.finditer(
        rf"(?:^|(?<=[\n.;!,]))[ \t]*{re.escape(name)}(?:['’]s)?\s*:?\s(?P<rest>[^\n;!]*)", text, re.M
    )
    return any(pain_in_note(match["rest"], lexicon) for match in sentences)


def shares(text: str, names: Iterable[str], lexicon: Lexicon) -> dict[str | None, str]:
    """Whose each piece of a text is: None for its owner. A name before a colon holds to the end of its line, one that
    begins a report of pain to the end of its sentence."""
    any_name = "|".join(sorted(map(re.escape, names), key=len, reverse=True))
    begins = re.compile(rf"(?:^|(?<=[\n.;!,]))[ \t]*(?P<name>{any_name})(?P<mark>\s*:|['’]s(?=\s)|(?=\s))", re.M)
    found: dict[str | None, list[str]] = {None: []}
    at = 0
    while (match := begins.search(text, at)) is not None:
        is_led = match["mark"].strip() == ":"
        line_end = text.find("\n", match.end())
        end = len(text) if line_end < 0 else line_end
        if not is_led and (stop := _END.search(text, match.end())):
            end = stop.end()
        if (another := begins.search(text, match.end(), end)) is not None:
            end = another.start()
        piece = text[match.end() : end].strip()
        if not is_led and not pain_in_note(piece, lexicon):
            found[None].append(text[at : match.end()])
            at = match.end()
            continue
        found[None].append(text[at : match.start()])
        found.setdefault(match["name"], []).append(piece)
        at = end
    found[None].append(text[at:])
    return {whose: joined for whose, pieces in found.items() if (joined := _joined(pieces, whose))}


def _joined(pieces: list[str], whose: str | None) -> str:
    return ("" if whose is None else "\n").join(pieces).strip(" \n,;")
