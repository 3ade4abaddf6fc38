"""findings.json, version 1: every key, its meaning and its unit. The one hand-over from statistics to reports.

Numbers per 100 are of 100 squat sessions followed by an event (an arm rating of at least the event rating). A number
that is not known is null. Keys may be added within a version; none is renamed or removed without a new one. Dates are
ISO.
"""

from typing import Any, Literal, TypedDict

SCHEMA_VERSION = 1

Number = float | int | None
Outcome = Literal["passed", "failed", "not checked"]
GradeWord = Literal["clear", "leaning", "no clear difference", "too little data", "contradicted by a check"]


# from, to: the two levels in words; size: their distance for an amount, in unit, null for a bar, grip or position.
# ("from" is a word that Python keeps for itself, hence this form.)
Question = TypedDict(
    "Question",
    {
        "exposure": str,
        "from": str,
        "to": str,
        "size": Number,
        "unit": str,
        "outcome": str,
        "scope": str,
        "primary": bool,
    },
)


class EffectPart(TypedDict):
    """per_100: difference to less from, with its interval. p: plain; p_adjusted: Benjamini-Hochberg over the family."""

    per_100: Number
    low: Number
    high: Number
    level: float
    standard_error: Number
    df: Number
    p: Number
    p_adjusted: Number
    odds_ratio: Number
    odds_ratio_low: Number
    odds_ratio_high: Number


class Risks(TypedDict):
    """Standardised share per 100 at each level, and the raw difference before anything is allowed for."""

    from_per_100: Number
    from_low: Number
    from_high: Number
    to_per_100: Number
    to_low: Number
    to_high: Number
    raw_per_100: Number
    raw_low: Number
    raw_high: Number


class CountsPart(TypedDict):
    """What it rests on. contributing: lifters with three reported sessions at each level. exposed: at the level."""

    athletes: int
    contributing: int
    sessions: int
    reported: int
    exposed: int
    events: int
    onsets: int


class Model(TypedDict):
    """family: "cumulative" (ordered ratings) or "logistic" (the event); convergence: the optimiser's story."""

    family: str
    formula: str | None
    converged: bool | None
    convergence: dict[str, Any]


class CheckPart(TypedDict):
    """One check. vetoes: a failure contradicts a clear finding. help: one line of plain words."""

    name: str
    value: Number
    limit: Number
    outcome: Outcome
    vetoes: bool
    help: str


class Line(TypedDict):
    """The same contrast under another choice. per_100 is null where only bounds exist; help: why it may differ."""

    name: str
    per_100: Number
    low: Number
    high: Number
    help: str | None


class Finding(TypedDict):
    """One declared contrast. beside: logistic, linear, linear_risk and e_value, each possibly empty."""

    id: str
    question: Question
    effect: EffectPart
    risks: Risks
    counts: CountsPart
    model: Model
    checks: list[CheckPart]
    sensitivity: list[Line]
    beside: dict[str, dict[str, Any]]
    grade: GradeWord
    more_athletes: int | None
    sentence: str


class Point(TypedDict):
    """One point of a curve: share per 100 with the amount at x in every session."""

    x: float
    per_100: Number
    low: Number
    high: Number


class Rug(TypedDict):
    """Where the data are: the amount in sessions followed by an event, and in the others that were reported."""

    pain: list[float]
    none: list[float]


class Curve(TypedDict):
    """An exploratory curve; curvature_p tests the bends."""

    exposure: str
    unit: str
    points: list[Point]
    rug: Rug
    curvature_p: Number
    grade: None
    exploratory: bool


class LagPoint(TypedDict):
    """One more set that many days before."""

    days_before: int
    per_100: Number
    low: Number
    high: Number


class Cumulative(TypedDict):
    """sets_a_week more on average, for all the days."""

    sets_a_week: float
    days: int
    per_100: Number
    low: Number
    high: Number


class Lags(TypedDict):
    """An exploratory distributed lag of squat sets."""

    exposure: str
    unit: str
    points: list[LagPoint]
    cumulative: Cumulative
    sessions: int
    reported: int
    athletes: int
    grade: None
    exploratory: bool


class OwnExposure(TypedDict):
    """A squad's own exposure, `size` of `unit` more within lifter (yes against no); never graded.

    known: what its file says of when it is known. missing: sessions without it. contributing: lifters in whom it
    changes. per_100 is null where nothing could be estimated; the sentence says why.
    """

    id: str
    label: str
    unit: str
    size: float
    meaning: str
    known: str
    per_100: Number
    low: Number
    high: Number
    sessions: int
    reported: int
    missing: int
    athletes: int
    contributing: int
    grade: None
    exploratory: bool
    sentence: str


class Week(TypedDict):
    """share: of reporting lifters with any arm pain, 0 to 1, Wilson interval."""

    week_start: str
    athletes: int
    reporting: int
    with_pain: int
    share: Number
    low: Number
    high: Number


class Rate(TypedDict):
    """A surveillance figure with its interval, what it divides, and how the interval was made."""

    name: str
    value: Number
    low: Number
    high: Number
    unit: str
    numerator: float
    denominator: float
    how: str


class Site(TypedDict):
    """Reports of pain and lifters who made them, by site and side."""

    site: str
    side: str
    reports: int
    athletes: int


class Surveillance(TypedDict):
    """How much pain there was."""

    weekly: list[Week]
    rates: list[Rate]
    sites: list[Site]


class Bar(TypedDict):
    """One bar: mean rating of the two weeks before it was used, and its raw and adjusted difference from straight."""

    bar: str
    sessions: int
    reported: int
    prior_pain_mean: Number
    prior_pain_low: Number
    prior_pain_high: Number
    raw_per_100: Number
    raw_low: Number
    raw_high: Number
    per_100: Number
    low: Number
    high: Number


class OnsetOdds(TypedDict):
    """Odds ratio of an onset for `per` more of the exposure (1 for words)."""

    exposure: str
    per: float
    odds_ratio: Number
    low: Number
    high: Number


class LeftOut(TypedDict):
    """An exposure and the step in which it would have been told."""

    exposure: str
    per: float


class CaseCrossover(TypedDict):
    """Onsets against the same lifter's other sessions of the same four weeks; description only.

    left_out: exposures that changed around too few onsets.
    """

    exposures: list[OnsetOdds]
    left_out: list[LeftOut]
    onsets: int
    sessions: int
    athletes: int
    block_days: int
    grade: None
    exploratory: bool


class BeforeOnset(TypedDict):
    """The days before an onset less the lifter's ordinary days; statistic: median or mean over flare-ups."""

    exposure: str
    unit: str
    days: int
    flare_ups: int
    athletes: int
    statistic: Literal["median", "mean"]
    difference: Number
    low: Number
    high: Number


class FlareUpPart(TypedDict):
    """One flare-up; end is null while it is not over."""

    number: int
    onset: str
    end: str | None
    peak: float
    over: bool


class Spread(TypedDict):
    """An estimate per 100 with its interval."""

    per_100: Number
    low: Number
    high: Number


class OwnEstimate(TypedDict):
    """The squad's estimate, the lifter's own pulled towards it, and the own rows alone (null where too few)."""

    id: str
    squad: Spread
    own_pulled: Spread | None
    own_alone: Spread | None


class WarningPart(TypedDict):
    """An entry that calls for a clinician's eye: the words as logged, or a rating of 7 or more."""

    date: str
    words: str
    kind: str


class AthletePart(TypedDict):
    """One lifter. slug: safe as a file name, distinct. No grade, no rank."""

    name: str
    slug: str
    sessions: int
    reported: int
    events: int
    onsets: int
    flare_ups: list[FlareUpPart]
    estimates: list[OwnEstimate]
    warnings: list[WarningPart]


class Note(TypedDict):
    """kind: data (what was left out), model, limit (what no log can show)."""

    kind: str
    name: str
    words: str


# The season that was analysed.
SeasonPart = TypedDict("SeasonPart", {"name": str, "from": str | None, "to": str | None, "athletes": int, "weeks": int})


class Definitions(TypedDict):
    """What was decided beforehand: values, their hash, the day they were first seen, later changes."""

    values: dict[str, Any]
    hash: str
    first_seen: str | None
    changed: list[Any]


class Findings(TypedDict):
    """The whole file. made, logs: as the caller gives them, null without."""

    schema_version: int
    made: dict[str, Any] | None
    season: SeasonPart
    definitions: Definitions
    logs: dict[str, Any] | None
    findings: list[Finding]
    curves: list[Curve]
    lags: Lags | None
    exploratory: list[OwnExposure]
    surveillance: Surveillance
    bar_choice: list[Bar]
    case_crossover: CaseCrossover | None
    before_onset: list[BeforeOnset]
    athletes: list[AthletePart]
    changes: list[dict[str, Any]]
    notes: list[Note]
