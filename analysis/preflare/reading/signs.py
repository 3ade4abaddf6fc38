"""Signs and asides in set shorthand: many ways to write one thing, made one before the text is cut into tokens."""

import re

# Signs that say the same as another, and asides that change no number; what follows is cut with the rest as ever.
_SIGNS = (
    (re.compile(r"(?<=\d)\s*[·⋅]\s*(?=\d)"), "x"),
    (re.compile(r"[✕✖⨯╳]\ufe0f?"), "x"),
    (re.compile(r"(?<=[\d\s])[хХ](?=[\s\d])"), "x"),  # the Cyrillic letter
    (re.compile(r"\s*(?:[-=]>|[→»›⇒]|>)\s*"), ", "),
    (re.compile(r"[✓✔☑✅]\ufe0f?"), " "),
    (re.compile(r"[✗✘❌☒]\ufe0f?"), " fail "),
    (
        re.compile(r"(?<![\d\s])\s*\b(?:kg|mc)\s*\+\s*(?=\d)|^(?:kg|mc)\s*\+\s*(?=\d)", re.I),
        " bw+",
    ),  # German "Körpergewicht + 20"
    (  # the number of a set before it: "Set 1: 60x5", "1) 60x5", "2. Satz 80x5"
        re.compile(
            r"(?:(?<![^\W_])(?:set|satz|s[ée]rie|seria|sett|s[æä]t|s)\s*[#.]?\s*\d{1,2}"
            r"(?![\d.,]*\d|\s*(?:kgs?|lbs?|[x×*@]))\s*[:.)-]?|^\s*#?\d{1,2}\)"
            r"|(?<![\w.,])\d{1,2}\s*(?:[.ªa]|[èe]re|[èe]me)\s*(?:set|satz|s[ée]rie|seria|sett|s[æä]t)\s*:?)"
            r"\s*(?=\d+(?:[.,]\d+)?\s*(?:kgs?|lbs?)?\s*[x×@]\s*\d)",
            re.I | re.M,
        ),
        ", ",
    ),
    (re.compile(r"(?<![^\W_])[A-F][1-9][.):]?\s+(?=[^\W\d])"), ""),  # A1, A2: partners of a superset
    (
        re.compile(r"([x×*]\s*\d+)\s*(?:(?:sec|secs|seconds|sek|sekunden|seg|s|min)\b|(?<=\d)(?:\"|''|″))(?!\w)", re.I),
        r"\1 §",
    ),
    (re.compile(r"(?<![\d.,])((?:[1-9]|1[0-2])\s*[x×*]\s*(\d{1,2}))\s*/\s*\2(?![\d/.,x])", re.I), r"\1"),  # 3x8/8
    (  # "1) 100x5 2) 105x5", "#1 100x5"
        re.compile(r"(?:^|(?<=\s))(?:[1-9][.)]|#[1-9])\s+(?=\d+(?:[.,]\d+)?\s*(?:kgs?|lbs?)?\s*[x×*]\s*\d)", re.I),
        ", ",
    ),
    (re.compile(r"(?<=[\d)])(\s+)b\s?(\d(?:[.,]5)?)(?![\w./]|,\d)"), r"\1RIR \2"),  # Italian "b2", a buffer of two
    (re.compile(r"([x×*]\s*\d{1,2})(?:/|\s+[-–—]\s+)(?=\d+(?:[.,]\d+)?\s*(?:kgs?|lbs?)?\s*[x×*]\s*\d)", re.I), r"\1, "),
    (re.compile(r"([x×*]\s*\d{1,2})\s+[-–—]\s+(?=[^\W\d_])", re.I), r"\1, "),
    (  # "60x5 - 100 5/5/5", "60 5 - 100 5/5/5"
        re.compile(r"(?<=\d[\sx×*]\d)(\d?)\s+[-–—]\s+(?=\d{2,3}(?:[.,]\d+)?\s+\d{1,2}(?:[/,]\d{1,2})+)"),
        r"\1, ",
    ),
    (
        re.compile(r"(\d\s*(?:kgs?|lbs?)?)\s*\(\s*\d+(?:[.,]\d)?\s*%\s*\)\s*(?=[x×*@]?\s*\d)", re.I),
        r"\1 ",
    ),  # 140 (85%) 3x3
)
_PAUSE = re.compile(r"(\bpaus\w*|\bpauze)\s+\d\s*(?:s|sec|sek|seg|ct|count|\")(?![\w])", re.I)  # "pause 2s"
_TEMPO = re.compile(
    r"\btempo\s*[:=]?\s*\(?\d[\dx]?(?:[-./:]?[\dx]){2,3}\)?|(?-i:\(\d\d[\dX]\d\))|(?<=x\d)\s*\(\d(?:[-./][\dx]){2,3}\)|\(\d(?:[-.][\dx]){2,3}\)"
    r"|(?<![\w@.,/-])\d-\d-\d-\d(?![\w-])(?!\s*@)",
    re.I,
)
_BREAK = re.compile(r"\s+/\s+")
_EACH_SIDE = re.compile(
    r"\s*(?:/\s*(?=side|leg|arm|seite|bein|cote|côté|lado|lato|kant|been|side|ben|sida|strona|noga)"
    r"|\b(?:per|each|pro|je|par|por|na|pr)\s+(?=side|leg|arm|seite|bein|cote|côté|jambe|bras|lado|pierna|brazo|lato|"
    r"gamba|braccio|perna|kant|been|arm|strone|stronę|noge|nogę|ben|sida))\w+|\be/s\b",
    re.I,
)
PER_HAND = re.compile(
    r"\s*(?:/\s*|\b(?:per|each|pro|je|par|por|na|pr\.?|a|in each)\s+)"
    r"(?:hand|db|dumbbell|main|haltère|haltere|mano|mancuerna|manubrio|mão|halter|reke|rękę|hånd)\b\.?",
    re.I,
)


def plain_signs(text: str) -> str:
    """The text with one sign for each meaning, and without tempo and "per side", which change no number."""
    for pattern, sign in _SIGNS:
        text = pattern.sub(sign, text)
    if re.search(r"\d\s*[x×@]\s*\d", text):
        text = _BREAK.sub("; ", text)
    text = _PAUSE.sub(r"\1", text)
    return PER_HAND.sub("", _EACH_SIDE.sub("", _TEMPO.sub(" ", text)))
