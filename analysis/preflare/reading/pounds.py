"""Loads without a unit that look like pounds: a 45 lb bar with 45 lb plates gives 135, 225, 315, and few kilograms do.

Common practice in the gym, no published source: bars and the plates that lifters reach for weigh 20 kg or 45 lb.
Nothing is converted on this ground; the doubt is set down beside the loads, with the line for season.toml.
"""

from collections import Counter

from preflare.reading.vocabulary import barbell_lifts

POUND_LADDER = frozenset({95, *range(135, 900, 45), *range(185, 900, 90)})  # 45 lb plates, with or without one of 25
KG_LADDER = frozenset(range(60, 420, 20))  # 20 kg plates, with or without one of 10
FEW_SETS = 6
LEAST_SHARE = 0.2
_NO_PLATES = {"triceps extension", "hip thrust"}  # with a barbell, but seldom with whole plates of the ladder
HEAVY, MANY_HEAVY = 300.0, 0.1  # kg that hardly anyone lifts; so large a share of sets above is no squad's


def look_like_pounds(loads: Counter[tuple[str, float]]) -> list[float]:
    """The telling ones of (exercise, load), counted over sets whose unit nobody wrote; [] when in no doubt.

    The commonest first, of equals the lightest.
    """
    on_plates: Counter[float] = Counter()
    for (exercise, load), n_sets in loads.items():
        if exercise in barbell_lifts() and exercise not in _NO_PLATES and load > 45:
            on_plates[load] += n_sets
    n = on_plates.total()
    if n < FEW_SETS:
        return []
    by_pounds = Counter({load: count for load, count in on_plates.items() if load in POUND_LADDER})
    by_kg = sum(count for load, count in on_plates.items() if load in KG_LADDER or load % 5 != 0)
    heavy = Counter({load: count for load, count in on_plates.items() if load > HEAVY})
    is_ladder = len(by_pounds) >= 2 and by_pounds.total() >= max(LEAST_SHARE * n, 1.5 * by_kg)
    is_heavy = len(heavy) >= 2 and heavy.total() >= max(MANY_HEAVY * n, 3)  # one load alone may be a slip ("1000")
    if not is_ladder and not is_heavy:
        return []
    telling = by_pounds or heavy
    return sorted(telling, key=lambda load: (-telling[load], load))[:3]
