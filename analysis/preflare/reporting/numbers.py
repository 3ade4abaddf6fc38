"""The one place where a number becomes words: "4 of 100 (1 to 9)". Everything that a report prints passes here.

Counts per 100 are whole, odds ratios have two figures, an interval always stands beside its estimate, and a share is
never printed as 0 or 100 of 100 unless it is exactly that. A number that is not known is said to be so.
"""

import math
from collections.abc import Sequence
from datetime import UTC, date, datetime

from preflare.reporting.words import Day, Estimate, Words, day_in_words, estimated, thousands

Number = float | int | None
_RAISED = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")


def is_known(*values: Number) -> bool:
    """Whether every value is there and finite."""
    return all(value is not None and math.isfinite(value) for value in values)


def nearest(value: float) -> int:
    """The nearest whole number. A half goes to the even neighbour, as in the sentences of findings.json."""
    return round(value)


def whole(n: Number, words: Words) -> str:
    """A counted whole number: "2,435"."""
    return thousands(int(n), words) if is_known(n) else str(words.get("number.unknown"))  # type: ignore[arg-type]


def of_100(value: float, words: Words) -> str:
    """A count of 100, whole: "4"; "under 1" and "over 99" where rounding would say none or all."""
    if 0 < value < 0.5:
        return str(words.get("number.under_1"))
    if 99.5 < value < 100:
        return str(words.get("number.over_99"))
    return str(nearest(value))


def interval(low: Number, high: Number, words: Words) -> Estimate:
    """An interval in words: "1 to 9"."""
    if not is_known(low, high):
        return Estimate(words.get("number.no_interval"))
    return Estimate(words.text("number.interval", low=of_100(low, words), high=of_100(high, words)))  # type: ignore[arg-type]


def per_100(estimate: Number, low: Number, high: Number, words: Words) -> Estimate:
    """A count of 100 with its interval: "4 of 100 (1 to 9)"."""
    if not is_known(estimate):
        return Estimate(words.get("number.not_estimated"))
    value = of_100(estimate, words)  # type: ignore[arg-type]
    return estimated(words.text("number.per_100", value=value, interval=interval(low, high, words)), estimate)  # type: ignore[arg-type]


def of_100_with_interval(estimate: float, low: float, high: float, words: Words) -> Estimate:
    """A count of 100 with its interval where "of 100" has just been said: "4 (1 to 9)"."""
    return Estimate(words.text("number.ratio", value=of_100(estimate, words), interval=interval(low, high, words)))


def difference(estimate: Number, low: Number, high: Number, words: Words) -> Estimate:
    """More or fewer of 100: "7 more of 100 (2 more to 13 more)"; limits alone: "5 fewer to 9 more of 100"."""
    if not is_known(estimate):
        if not is_known(low, high):
            return Estimate(words.get("number.not_estimated"))
        return Estimate(words.text("number.limits", low=signed(low, words), high=signed(high, words)))
    if not is_known(low, high):
        between = str(words.get("number.no_interval"))
    else:
        between = words.text("number.interval", low=signed(low, words), high=signed(high, words))
    return estimated(words.text("number.difference", value=signed(estimate, words), interval=between), estimate)  # type: ignore[arg-type]


def signed(value: Number, words: Words) -> str:
    """A difference as a reader says it: "7 more", "3 fewer", "no more" where it rounds to nothing."""
    size = nearest(value)  # type: ignore[arg-type]
    if size == 0:
        return str(words.get("number.same"))
    return words.text("number.more" if size > 0 else "number.fewer", n=abs(size))


def signed_with_interval(estimate: float, low: float, high: float, words: Words) -> Estimate:
    """More or fewer with the interval where the unit stands beside it: "7 more (2 more to 13 more)"."""
    between = words.text("number.interval", low=signed(low, words), high=signed(high, words))
    return estimated(words.text("number.ratio", value=signed(estimate, words), interval=between), estimate)


def signed_amount(value: float, words: Words) -> str:
    """A difference of an amount with one decimal: "0.4 more", "1.7 fewer", "none more" where it rounds to nothing."""
    if round(abs(value), 1) == 0:
        return str(words.get("number.same"))
    return words.text("number.more" if value > 0 else "number.fewer", n=decimal(abs(value), 1, words))


def amount_difference(estimate: float, low: float, high: float, words: Words) -> Estimate:
    """More or fewer of an amount with the interval: "0.4 more (1.7 fewer to 2.3 more)"."""
    between = words.text("number.interval", low=signed_amount(low, words), high=signed_amount(high, words))
    return estimated(words.text("number.ratio", value=signed_amount(estimate, words), interval=between), estimate)


def ratio(estimate: Number, low: Number, high: Number, words: Words) -> Estimate:
    """An odds ratio with its interval, two figures each: "1.7 (1.2 to 2.4)"."""
    if not is_known(estimate):
        return Estimate(words.get("number.not_estimated"))
    if not is_known(low, high):
        between = str(words.get("number.no_interval"))
    else:
        between = words.text("number.interval", low=two_figures(low, words), high=two_figures(high, words))
    return estimated(words.text("number.ratio", value=two_figures(estimate, words), interval=between), estimate)  # type: ignore[arg-type]


def two_figures(value: Number, words: Words) -> str:
    """A positive number with two significant figures, never in powers of ten: 0.062, 1.7, 24, 310."""
    if not is_known(value) or value == 0:
        return decimal(value, 1, words)
    rounded = float(f"{value:.2g}")
    return decimal(rounded, max(0, 1 - math.floor(math.log10(abs(rounded)))), words)


def decimal(value: Number, digits: int, words: Words) -> str:
    """A number with a fixed number of decimals and the language's own decimal sign; minus as a minus."""
    if not is_known(value):
        return str(words.get("number.unknown"))
    text = f"{value:,.{digits}f}".replace(",", "\0").replace(".", str(words.get("number.decimal")))
    return text.replace("\0", str(words.get("number.thousands"))).replace("-", "\u2212")


def short_decimal(value: Number, words: Words) -> str:
    """A number with as many decimals as it needs, two at most: 10, 2.5, 0.12."""
    if not is_known(value):
        return str(words.get("number.unknown"))
    digits = next(d for d in (0, 1, 2) if d == 2 or abs(value - round(value, d)) < 1e-9)  # type: ignore[operator, arg-type]
    return decimal(value, digits, words)


def p_value(p: Number, words: Words) -> str:
    """A p-value to two or three decimals, "under 0.001" below that."""
    if not is_known(p):
        return str(words.get("number.not_estimated"))
    if p < 0.001:  # type: ignore[operator]
        return words.text("number.under", value=decimal(0.001, 3, words))
    return decimal(p, 3 if p < 0.1 else 2, words)  # type: ignore[operator]


def scientific(value: float, words: Words) -> str:
    """A very small or large number in powers of ten: "8.5 × 10⁻⁹"."""
    digits, _, power = f"{value:.1e}".partition("e")
    raised = str(int(power)).translate(_RAISED)
    return f"{decimal(float(digits), 1, words)} × 10{raised}"


def out_of(part: Number, total: Number, words: Words) -> str:
    """Counted, not estimated: "22 of 36"."""
    return words.text("number.out_of", part=whole(part, words), total=whole(total, words))


def rate(value: Number, low: Number, high: Number, words: Words) -> Estimate:
    """A rate with its interval, two figures each: "3.1 (2.0 to 4.6)"."""
    if is_known(value) and value == 0 and is_known(high):
        upper = two_figures(high, words)
        return Estimate(
            words.text("number.ratio", value="0", interval=words.text("number.interval", low="0", high=upper))
        )
    return ratio(value, low, high, words)


def day(value: date | str, words: Words) -> str:
    """A date in words, for sentences: "3 March 2026"."""
    return _dated(value, "calendar.day", "calendar.months", words)


def table_day(value: date | str, words: Words) -> Day:
    """A date for a table: "3 Mar 2026", never broken over two lines."""
    told = _dated(value, "calendar.table_day", "calendar.short_months", words).replace(" ", "\u00a0")
    return day_in_words(told, str(value)[:10])


def moment(value: str, words: Words) -> str:
    """A date and time of day, ISO 8601, in words: "3 March 2026, 14:05 UTC"."""
    when = datetime.fromisoformat(value).astimezone(UTC)
    return words.text("calendar.moment", day=day(when.date(), words), hour=f"{when:%H}", minute=f"{when:%M}")


def short_day(value: date | str, words: Words) -> Day:
    """A date whose year is plain from its place: "3 Mar", never broken over two lines."""
    told = _dated(value, "calendar.short_day", "calendar.short_months", words).replace(" ", "\u00a0")
    return day_in_words(told, str(value)[:10])


def _dated(value: date | str, template: str, names: str, words: Words) -> str:
    when = date.fromisoformat(str(value)[:10])
    months: Sequence[str] = words.get(names)
    return words.text(template, day=when.day, month=months[when.month - 1], year=when.year)


def span_of_days(first: date | str | None, last: date | str | None, words: Words) -> str:
    """From one day to another: "1 September 2025 to 7 June 2026"."""
    if not first or not last:
        return str(words.get("calendar.unknown"))
    return words.text("calendar.span", first=day(first, words), last=day(last, words))
