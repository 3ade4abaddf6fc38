"""Units of load other than kg and lb in a heading: converted where they are a mass, set aside where they are none."""

import re
from functools import lru_cache

from preflare.reading.text import fold

# kg in one of each. Stone: 14 lb of 0.45359237 kg (Weights and Measures Act 1985, schedule 1). Pud: 40 Russian pounds,
# 16.3805 kg (Cardarelli 2003, Encyclopaedia of Scientific Units). Gram and tonne: SI.
_MASS = {
    "stone": 6.35029318, "stones": 6.35029318, "st": 6.35029318, "pud": 16.3805, "pood": 16.3805, "poods": 16.3805,
    "g": 0.001, "gram": 0.001, "grams": 0.001, "gramm": 0.001, "t": 1000.0, "tonne": 1000.0, "tonnes": 1000.0,
}  # fmt: skip
_NO_MASS = frozenset(
    # plates, pins, holes, levels of a machine; forces, lengths, times: a number of these is no load in kg
    {"plates", "plate", "pin", "pins", "hole", "holes", "level", "levels", "notch", "notches", "bricks", "stack"}
    | {"scheiben", "scheibe", "platten", "stufe", "stufen", "loch", "locher", "raste", "rasten"}
    | {"plaques", "plaque", "disques", "disque", "cran", "crans", "niveau", "niveaux", "trou", "trous"}
    | {"placas", "placa", "discos", "disco", "nivel", "niveles", "agujero"}
    | {"dischi", "piastre", "piastra", "livello", "livelli", "tacca", "tacche", "foro"}
    | {"anilhas", "anilha", "niveis", "furo", "pino", "pinos"}
    | {"schijven", "schijf", "platen", "plaat", "stand", "standen", "gat"}
    | {"talerze", "krazki", "plyty", "plytki", "poziom", "poziomy", "otwor", "sztabki"}
    | {"skiver", "skive", "niva", "hull", "plater", "trinn", "trin", "skivor", "skiva", "hal", "niveauer"}
    | {"n", "kn", "newton", "newtons", "psi", "w", "watt", "watts", "cm", "mm", "m", "s", "sec", "sek", "min", "bands"}
)  # fmt: skip
_INSIDE = re.compile(r"[(\[{]([^)\]}]*)[)\]}]")


@lru_cache(maxsize=2000)
def other_unit(heading: str) -> tuple[str, float | None] | None:
    """(unit, kg in one of it) for the unit in the brackets of a heading, or its last word, that is neither kg nor lb.

    The second value is None for what is no mass. None: no such unit is named.
    """
    inside = [word for group in _INSIDE.findall(heading) for word in re.split(r"[\s,;]+", group)]
    bare = _INSIDE.sub(" ", heading).split()
    last = bare[-1:] if len(bare) > 1 else []
    for word in (*inside, *last):
        unit = fold(word)
        if unit in _MASS and not (word in last and len(unit) < 3):  # "Load t" may be anything
            return word, _MASS[unit]
        if unit in _NO_MASS and not (word in last and len(unit) < 4):
            return word, None
    return None
