"""Numbers and units as people write them: decimal comma or point, kg or lb, ratings, effort, minutes."""

import re
from dataclasses import dataclass
from datetime import time, timedelta
from functools import lru_cache

from preflare.reading.text import Cell

WIDEST_RANGE = 3  # points between the two numbers of a rating such as "3-5"
KG_PER_LB = 0.45359237  # exact: international yard and pound agreement, 1959
_PARTS_OF_ONE = {"½": "5", "¼": "25", "¾": "75"}
_NUMBER = re.compile(r"[+-]?\d+([.,]\d+)?")
_THOUSANDS = re.compile(r"[+-]?\d{1,3}([.,]\d{3})+([.,]\d+)?")
_LOAD = re.compile(
    r"(?P<number>[+-]?[\d.,  ]*\d)\s*(?P<unit>kgs?|kilos?|kilogram\w*|lbs?|pounds?|#|pfund|libras)?\.?", re.I
)
_RATING = re.compile(
    r"(?P<low>\d+(?:[.,]\d)?)\s*(?:(?:-|–|to|bis|a|à)\s*(?P<high>\d+(?:[.,]\d)?))?"
    r"\s*(?:(?:/|out of|von|sur|de|su|av|af|z|na)\s*10)?",
    re.I,
)
_MINUTES = re.compile(
    r"(?:(?P<hours>\d+)\s*(?:h|hrs?|hours?|std|u)\s*)?(?:(?P<minutes>\d+)\s*(?:m|min|mins|minutes|minuten|minuti|minutos)?\.?)?",
    re.I,
)


@lru_cache(maxsize=50_000)
def parse_number(text: str) -> float | None:
    """The number that `text` is, comma or point as decimal mark; None when it is none or may be two.

    With both marks present the last is decimal ("1.234,5"). "1,234" is undecidable here and gives None only where both
    readings are whole thousands; a load settles it by size (parse_load).
    """
    plain = re.sub(r"[\s  '’]", "", text)
    if plain[-1:] in _PARTS_OF_ONE and plain[:-1].lstrip("+-").isdecimal():
        plain = f"{plain[:-1]}.{_PARTS_OF_ONE[plain[-1]]}"  # 8½
    if "," in plain and "." in plain and _THOUSANDS.fullmatch(plain):
        mark = max(plain.rfind(","), plain.rfind("."))
        return float(re.sub(r"[.,]", "", plain[:mark]) + "." + plain[mark + 1 :])
    if _NUMBER.fullmatch(plain):
        return None if _THOUSANDS.fullmatch(plain) and re.search(r"[.,]", plain) else float(plain.replace(",", "."))
    return None


@dataclass(frozen=True, slots=True)
class Load:
    """A written load: its number, and "kg" or "lb" where the cell itself says so."""

    number: float
    unit: str | None


def unit_of(word: str) -> str | None:
    """ "kg" or "lb" for a unit word, else None."""
    word = word.strip(" .()[]").casefold()
    if word in {"kg", "kgs", "kilo", "kilos", "kilogram", "kilograms", "chili", "quilo", "quilos"}:
        return "kg"
    return "lb" if word in {"lb", "lbs", "pound", "pounds", "#", "pfund", "libras"} else None


@lru_cache(maxsize=50_000)
def parse_load_text(text: str) -> Load | None:
    """A load written as text ("82,5", "140 kg", "315lb", "142.500"), or None."""
    match = _LOAD.fullmatch(text.strip())
    if match is None:
        return None
    number = parse_number(match["number"])
    if number is None and re.fullmatch(r"\s*\d{1,3}[.,]\d{3}\s*", match["number"]):
        number = float(match["number"].strip().replace(",", "."))  # 142,500: a load of 142 500 is none
    return None if number is None else Load(number, unit_of(match["unit"] or ""))


def parse_load(cell: Cell) -> Load | None:
    """A load from a cell of any kind, or None when it holds no number."""
    if isinstance(cell, float):
        return Load(cell, None)
    return parse_load_text(cell) if isinstance(cell, str) else None


def to_kg(number: float, unit: str) -> float:
    """A load in kg, to the gram: the factor is exact and no bar is loaded finer."""
    return number if unit == "kg" else round(number * KG_PER_LB, 3)


def parse_count(cell: Cell) -> int | None:
    """A whole number of 0 or more (repetitions, sets), or None."""
    number = cell if isinstance(cell, float) else parse_number(cell) if isinstance(cell, str) else None
    return int(number) if number is not None and number >= 0 and number == int(number) else None


@dataclass(frozen=True, slots=True)
class Rating:
    """A rating on the 0 to 10 scale. is_range: two numbers were written and the higher was taken.

    is_doubtful: the two numbers are no range that somebody would give for one pain ("5-2", "0-10").
    """

    value: float
    is_range: bool
    is_doubtful: bool = False


def parse_rating(text: str) -> Rating | None:
    """The rating in "7", "7/10", "3-4", "4 out of 10", or None. Values above 10 come back as they are."""
    match = _RATING.fullmatch(text.strip())
    if match is None:
        return None
    low = float(match["low"].replace(",", "."))
    high = float(match["high"].replace(",", ".")) if match["high"] else low
    is_doubtful = match["high"] is not None and not low < high <= low + WIDEST_RANGE
    return Rating(max(low, high), match["high"] is not None, is_doubtful)


def parse_effort(cell: Cell) -> tuple[float, bool] | None:
    """(effort, was a range) from 8, "8,5", "RPE 8", "8/10", "7-8" (the half between); None when it is no number."""
    if isinstance(cell, float):
        return cell, False
    if not isinstance(cell, str):
        return None
    text = re.sub(r"^(?:rpe|rir|pse|@)\s*:?\s*|\s*(?:rpe|rir|pse)$", "", cell.strip().casefold())
    if match := re.fullmatch(r"(\d(?:[.,]\d)?)\s*/\s*10", text):
        return float(match[1].replace(",", ".")), False  # eight of ten
    if match := re.fullmatch(r"(\d+(?:[.,]\d)?)\s*[-–/]\s*(\d+(?:[.,]\d)?)", text):
        low, high = (float(part.replace(",", ".")) for part in match.groups())
        return ((low + high) / 2, True) if abs(high - low) <= 2 else None
    number = parse_number(text)
    return None if number is None else (number, False)


def parse_minutes(cell: Cell) -> float | None:
    """A duration in minutes from 75, "75 min", "1h15", "1:15" or a spreadsheet duration; None when it is none."""
    if isinstance(cell, float):
        return cell if cell >= 1 else round(cell * 1440, 3)  # a fraction of a day, as spreadsheets keep times
    if isinstance(cell, timedelta):
        return cell.total_seconds() / 60
    if isinstance(cell, time):
        return cell.hour * 60.0 + cell.minute
    if not isinstance(cell, str):
        return None
    if match := re.fullmatch(r"(\d{1,2}):(\d{2})(?::\d{2})?", cell):
        return int(match[1]) * 60.0 + int(match[2])
    match = _MINUTES.fullmatch(cell.strip())
    if match is None or not (match["hours"] or match["minutes"]):
        number = parse_number(cell)
        return number
    return int(match["hours"] or 0) * 60.0 + int(match["minutes"] or 0)
