"""Design matrices of the primary model and of the model for weekly sets, from the modelling rows.

    rating ~ within(exposures) + between(exposures) + pain before + week + weeks to competition + past
    exposures
             + (1 + within(exposures) || athlete)

Knots, centres and scales live in the Design, so that changed exposures are coded exactly as the fitted ones.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from preflare.models.rows import EXPOSURES, UNIT, ModelRows
from preflare.models.splines import COMPETITION_KNOTS, WEEK_QUANTILES, restricted_cubic_spline

Floats = NDArray[np.float64]

FEWEST_ATHLETES_FOR_BETWEEN = 15
TYPICAL_GAP_DAYS = 2.5
SHARE_LOGGING_OTHER_LIFTS = 0.8
OTHER_LIFTS = {"pressing": "pressing_7d", "pulling": "pulling_7d", "elbow flexion": "elbow_flexion_7d"}
COLLINEAR = 1e-6


@dataclass(frozen=True)
class Block:
    """Named columns (n, k) that enter the design together; `words` is what the printed formula calls them."""

    words: str
    names: tuple[str, ...]
    values: Floats


@dataclass(frozen=True)
class Design:
    """One model's matrices over all modelling rows (n rows, reported or not).

    names: (p,) column names, "within NAME" first. X: (n, p), each column centred on its mean over the
    reported rows. Z: (n, q), a column of ones, then within / scale for each name in `slopes`. exposures: the
    within terms that are in X. slopes: the exposures with a random slope, in the order of Z's columns.
    centre: exposure -> (n_athletes,) what is taken from a session's exposure to make its within term: the athlete's
    mean over the reported rows, moved where an exposure does not apply everywhere. column_mean: (p,) what X was
    centred on. scale: exposure -> SD of its within term. collinear: columns that say nothing new and were dropped.
    constant: columns without variation in the reported rows. formula: the model in words.
    """

    rows: ModelRows
    names: tuple[str, ...]
    X: Floats
    Z: Floats
    exposures: tuple[str, ...]
    slopes: tuple[str, ...]
    centre: dict[str, Floats]
    column_mean: Floats
    scale: dict[str, float]
    collinear: tuple[str, ...]
    constant: tuple[str, ...]
    formula: str

    def column(self, name: str) -> int:
        return self.names.index(name)


def split_within_between(exposure: Floats, group: NDArray[np.int64], fit: NDArray[np.bool_]) -> tuple[Floats, Floats]:
    """Each athlete's mean over the fit rows, and each row's departure from it.

    exposure: (n,) any unit. group: (n,) athlete codes 0..A-1. fit: (n,) rows over which means are taken.
    Returns (mean (A,), within (n,)), same unit; within averages 0 over every athlete's fit rows. An athlete
    without fit rows gets the mean of the other athletes. Source: Neuhaus JM, Kalbfleisch JD. Biometrics
    1998;54:638-645.
    """
    n_athletes = int(group.max()) + 1 if len(group) else 0
    count = np.bincount(group[fit], minlength=n_athletes)
    total = np.bincount(group[fit], weights=exposure[fit], minlength=n_athletes)
    seen = count > 0
    mean = np.full(n_athletes, total[seen].sum() / max(count[seen].sum(), 1))
    mean[seen] = total[seen] / count[seen]
    return mean, exposure - mean[group]


def primary_design(rows: ModelRows, event: int = 4, extra: Block | None = None, slopes: bool = True) -> Design:
    """The primary model: pain as it stood before the session, calendar, competition, past exposures."""
    blocks = [_pain_before(rows, event), _calendar(rows), _competition(rows), _past(rows), _other_lifts(rows)]
    return _assemble(rows, blocks, extra, slopes)


def sets_design(rows: ModelRows, event: int = 4, extra: Block | None = None, slopes: bool = True) -> Design:
    """The model for weekly sets: pain and sets as they stood before the 7-day window, calendar, competition.

    Recent pain lies between the week's sets and today's pain, so it is left out here (analysis plan, section
    3).
    """
    blocks = [
        _pain_before_window(rows, event),
        _older_sets(rows),
        _calendar(rows),
        _competition(rows),
        _other_lifts(rows),
    ]
    return _assemble(rows, blocks, extra, slopes)


def lag_design(rows: ModelRows, lags: Block) -> Design:
    """The exploratory model of lagged sets: this session's other exposures, calendar, competition; random intercept."""
    return _assemble(rows, [_calendar(rows), _competition(rows)], lags, slopes=False, without=("sets",))


def _assemble(
    rows: ModelRows, blocks: list[Block | None], extra: Block | None, slopes: bool, without: tuple[str, ...] = ()
) -> Design:
    terms = _within_terms(rows)
    within = {name: term.values for name, term in terms.items()}
    exposures = [name for name in EXPOSURES if name in within and name not in (*rows.left_out, *without)]
    parts = [Block("this session's exposures", tuple(f"within {n}" for n in exposures), _stack(within, exposures))]
    if "other" in within and "other" not in rows.left_out:
        parts.append(Block("other bar", ("within other",), _stack(within, ["other"])))
    if len(rows.athletes) >= FEWEST_ATHLETES_FOR_BETWEEN:
        parts.append(_between(rows, {name: terms[name].mean for name in exposures}))
    parts += [block for block in [*blocks, extra] if block is not None]
    names = tuple(name for part in parts for name in part.names)
    X = np.concatenate([part.values for part in parts], axis=1)
    keep, constant, collinear = _usable_columns(X[rows.reported], names)
    X, names = X[:, keep], tuple(names[j] for j in keep)
    column_mean = X[rows.reported].mean(axis=0) if rows.reported.any() else np.zeros(X.shape[1])
    entered = tuple(name for name in exposures if f"within {name}" in names)
    scale = {name: float(within[name][rows.reported].std()) for name in entered}
    with_slope = entered if slopes else ()
    return Design(
        rows=rows,
        names=names,
        X=X - column_mean,
        Z=_random_columns(within, with_slope, scale, len(rows.group)),
        exposures=entered,
        slopes=with_slope,
        centre={name: term.centre for name, term in terms.items()},
        column_mean=column_mean,
        scale=scale,
        collinear=collinear,
        constant=constant,
        formula=_formula(parts, names, slopes),
    )


@dataclass(frozen=True)
class _WithinTerm:
    """mean: (n_athletes,) over the reported rows where the exposure applies. values: (n,). centre: see Design."""

    mean: Floats
    values: Floats
    centre: Floats


def _within_terms(rows: ModelRows) -> dict[str, _WithinTerm]:
    """Each session's departure from the athlete's own mean, by exposure.

    Forward handles have no grip width and no bar position. There a within term of 0 would stand for the athlete's usual
    mix, and the safety bar's coefficient would compare it with that mix; the declared reference is medium grip and low
    position. So such rows stand at minus the mean mix of the athletes who change between the bars: the same model,
    written so that the coefficient is the declared contrast. It leaves the grip's own coefficient as it is.
    """
    terms: dict[str, _WithinTerm] = {}
    for name in ("safety", *(name for name in rows.values.columns if name != "safety")):
        if name in rows.left_out:
            continue
        applies = rows.applies[name].to_numpy()
        value = np.where(applies, rows.values[name].to_numpy(float), 0.0)
        mean, departure = split_within_between(value, rows.group, rows.reported & applies)
        if applies.all() or "safety" not in terms:
            terms[name] = _WithinTerm(mean, np.where(applies, departure, 0.0), mean)
            continue
        usual = _mean_of_those_who_change(mean, terms["safety"].values, rows)
        shift, values = split_within_between(np.where(applies, departure, -usual), rows.group, rows.reported)
        terms[name] = _WithinTerm(mean, values, mean + shift)
    return terms


def _mean_of_those_who_change(mean: Floats, departure: Floats, rows: ModelRows) -> float:
    """Athletes' means, weighted by how much each one's bar varies; the plain mean where nobody's does."""
    n_athletes = len(mean)
    square = np.bincount(rows.group[rows.reported], weights=departure[rows.reported] ** 2, minlength=n_athletes)
    return float(np.average(mean, weights=square if square.sum() > 0 else np.ones(n_athletes)))


def _stack(columns: Mapping[str, Floats], names: list[str] | tuple[str, ...]) -> Floats:
    n = len(next(iter(columns.values()))) if columns else 0
    return np.stack([columns[name] for name in names], axis=1) if names else np.zeros((n, 0))


def _between(rows: ModelRows, mean: dict[str, Floats]) -> Block:
    values = np.stack([own[rows.group] - own.mean() for own in mean.values()], axis=1)
    return Block("each athlete's mean exposures", tuple(f"between {name}" for name in mean), values)


def _usable_columns(X: Floats, names: tuple[str, ...]) -> tuple[list[int], tuple[str, ...], tuple[str, ...]]:
    """Indices of columns that vary and say something new, and the names of those that do not (constant,
    collinear).

    Of collinear columns the later one goes: exposures stand first, so adjustment gives way to them.
    """
    spread = X.std(axis=0) if len(X) else np.zeros(X.shape[1])
    varying = [j for j in range(X.shape[1]) if spread[j] > 1e-8]
    constant = tuple(names[j] for j in range(X.shape[1]) if j not in varying)
    if not varying:
        return [], constant, ()
    standard = (X[:, varying] - X[:, varying].mean(axis=0)) / spread[varying]
    if len(standard) < len(varying):
        return varying, constant, ()
    diagonal = np.abs(np.diag(np.linalg.qr(standard, mode="r")))
    keep = [j for j, size in zip(varying, diagonal, strict=True) if size > COLLINEAR * diagonal.max()]
    return keep, constant, tuple(names[j] for j in varying if j not in keep)


def _random_columns(within: dict[str, Floats], slopes: tuple[str, ...], scale: dict[str, float], n: int) -> Floats:
    return np.column_stack([np.ones(n), *(within[name] / scale[name] for name in slopes)])


def _formula(parts: list[Block], names: tuple[str, ...], slopes: bool) -> str:
    entered = [part.words for part in parts if any(name in names for name in part.names)]
    random = "(1 + this session's exposures || athlete)" if slopes else "(1 | athlete)"
    return f"rating ~ {' + '.join([*entered, random])}"


def set_exposures(design: Design, values: Mapping[str, Floats | float]) -> tuple[Floats, Floats]:
    """X and Z with some of this session's exposures set to `values` (in UNITs), everything before as it
    was."""
    X, Z = design.X.copy(), design.Z.copy()
    group = design.rows.group
    for name, value in values.items():
        if f"within {name}" not in design.names:
            continue
        j = design.column(f"within {name}")
        departure = value - design.centre[name][group]
        X[:, j] = departure - design.column_mean[j]
        if name in design.slopes:
            Z[:, 1 + design.slopes.index(name)] = departure / design.scale[name]
    return X, Z


def without_columns(design: Design, gone: Sequence[str]) -> Design:
    """The same model without the named columns, and without the random slopes of within terms among them."""
    keep = [j for j, name in enumerate(design.names) if name not in gone]
    slopes = tuple(name for name in design.slopes if f"within {name}" not in gone)
    return replace(
        design,
        names=tuple(design.names[j] for j in keep),
        X=design.X[:, keep],
        Z=design.Z[:, [0, *(1 + design.slopes.index(name) for name in slopes)]],
        exposures=tuple(name for name in design.exposures if f"within {name}" not in gone),
        slopes=slopes,
        column_mean=design.column_mean[keep],
    )


def without_slopes(design: Design) -> Design:
    """The same model with a random intercept only."""
    formula = design.formula.replace("(1 + this session's exposures || athlete)", "(1 | athlete)")
    return replace(design, Z=design.Z[:, :1], slopes=(), formula=formula)


# --- what was known before the session
# -------------------------------------------------------------------------


def _column(rows: ModelRows, name: str) -> Floats:
    values: Floats = rows.frame[name].to_numpy(float)
    return values


def _pain_before(rows: ModelRows, event: int) -> Block:
    """Last ratings, their age and the thresholds at which a coach acts, before the session."""
    last = _column(rows, "last_rating")
    second = _filled(_column(rows, "second_last_rating"), last)
    age = np.log(np.maximum(_column(rows, "last_rating_age"), 0.5) / TYPICAL_GAP_DAYS)
    columns = {
        "last rating": np.log1p(last),
        "age of last rating": age,
        "last rating x age": np.log1p(last) * age,
        "recent ratings": np.log1p(_column(rows, "recent_rating")),
        "second-last rating": np.log1p(second),
        "last rating an event": (last >= event).astype(float),
        "last two ratings events": ((last >= event) & (second >= event)).astype(float),
        "any event in 7 days": _column(rows, "any_event_7d"),
    }
    return Block("pain before the session", tuple(columns), np.column_stack(list(columns.values())))


def _pain_before_window(rows: ModelRows, event: int) -> Block:
    """Ratings as they stood before the 7-day window of weekly sets."""
    last = _column(rows, "last_rating_pre")
    second = _filled(_column(rows, "second_last_rating_pre"), last)
    columns = {
        "last rating before the window": np.log1p(last),
        "recent ratings before the window": np.log1p(_filled(_column(rows, "recent_rating_pre"), last)),
        "second-last rating before the window": np.log1p(second),
        "last rating before the window an event": (last >= event).astype(float),
        "last two before the window events": ((last >= event) & (second >= event)).astype(float),
        "any event 8 to 14 days before": _column(rows, "any_event_8_14d"),
    }
    return Block("pain before the 7-day window", tuple(columns), np.column_stack(list(columns.values())))


def _filled(values: Floats, other: Floats) -> Floats:
    """values, with those of `other` where missing: a single earlier rating stands for both."""
    return np.where(np.isnan(values), other, values)


def _calendar(rows: ModelRows) -> Block:
    """A spline of the week within each season, and an offset for each season after the first."""
    week, season = _column(rows, "week"), rows.frame["season"].to_numpy(int)
    names: list[str] = []
    columns: list[Floats] = []
    for index, code in enumerate(np.unique(season)):
        inside = season == code
        knots = (week[inside].max() + 1) * np.array(WEEK_QUANTILES)
        basis = np.where(inside[:, None], restricted_cubic_spline(week, knots) / 10.0, 0.0)
        tag = f", season {code + 1}" if index else ""
        names += [f"week {j + 1}{tag}" for j in range(basis.shape[1])]
        columns.append(basis)
        if index:
            names.append(f"season {code + 1}")
            columns.append(inside[:, None].astype(float))
    values = np.concatenate(columns, axis=1) if columns else np.zeros((len(week), 0))
    return Block("week of the season", tuple(names), values)


def _competition(rows: ModelRows) -> Block | None:
    """A spline of the weeks to the next entered competition; None when nobody entered any."""
    if not rows.frame["competition_entered"].astype(bool).any():
        return None
    basis = restricted_cubic_spline(_column(rows, "weeks_to_competition"), COMPETITION_KNOTS) / 4.0
    return Block("weeks to competition", tuple(f"weeks to competition {j + 1}" for j in range(basis.shape[1])), basis)


def _past(rows: ModelRows) -> Block:
    """Exponentially weighted means of the exposures of earlier sessions, which carry over into today's
    pain."""
    names = [
        n for n in ("intensity", "safety", "cambered", "other", "narrow", "wide", "high") if n not in rows.left_out
    ]
    columns = [_column(rows, f"past_{name}") / UNIT.get(name, 1.0) for name in names]
    values = np.column_stack([_centred_where_missing(column) for column in columns] or [np.zeros((len(rows.group), 0))])
    return Block("past exposures", tuple(f"past {name}" for name in names), values)


def _older_sets(rows: ModelRows) -> Block:
    """Weighted mean of session sets up to the 7-day window, in UNITs of weekly sets."""
    older = _centred_where_missing(_column(rows, "older_sets")) / UNIT["sets"]
    return Block("older sets", ("older sets",), older[:, None])


def _centred_where_missing(values: Floats) -> Floats:
    """values, with their mean where missing, so that a missing history neither adds nor takes away."""
    known = ~np.isnan(values)
    return np.where(known, values, values[known].mean() if known.any() else 0.0)


def _other_lifts(rows: ModelRows) -> Block | None:
    """Pressing, pulling and elbow flexion of the 7 days before, within athlete, where most athletes log them.

    None when under 80 % of the reported rows belong to athletes who log other lifts at all.
    """
    logs = rows.frame["logs_other_lifts"].to_numpy(bool)
    if not rows.reported.any() or logs[rows.reported].mean() < SHARE_LOGGING_OTHER_LIFTS:
        return None
    columns = [_within_known(_column(rows, name), rows) / UNIT["sets"] for name in OTHER_LIFTS.values()]
    return Block(
        "pressing, pulling and elbow flexion",
        tuple(f"{n} in 7 days" for n in OTHER_LIFTS),
        np.column_stack(columns),
    )


def _within_known(values: Floats, rows: ModelRows) -> Floats:
    """Departure from the athlete's own mean, 0 where the week is not fully logged."""
    known = ~np.isnan(values)
    _, within = split_within_between(np.where(known, values, 0.0), rows.group, rows.reported & known)
    return np.where(known, within, 0.0)
