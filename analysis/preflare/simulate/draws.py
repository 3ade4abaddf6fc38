"""Random numbers that are the same on every machine.

Everything is made from uniform numbers of one generator by inverting distribution functions, because the streams of
the library's own normal and gamma draws may change between its versions, while its uniform stream is kept.
"""

import numpy as np
from numpy.random import PCG64, Generator, SeedSequence
from numpy.typing import NDArray
from scipy.special import ndtri

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Seed = int | SeedSequence
HALF_STEP = 2.0**-54
"""Half the distance between two neighbouring uniform numbers: keeps 0 out, whose inverse is infinite."""


class Draws:
    """One stream of random numbers. Two streams of one seed with different numbers are independent."""

    def __init__(self, seed: Seed, stream: int) -> None:
        root = seed if isinstance(seed, SeedSequence) else SeedSequence(seed)
        child = SeedSequence(root.entropy, spawn_key=(*root.spawn_key, stream))
        self._generator = Generator(PCG64(child))

    def uniform(self, shape: int | tuple[int, ...]) -> Floats:
        """Uniform on (0, 1)."""
        return self._generator.random(shape) + HALF_STEP

    def normal(self, shape: int | tuple[int, ...]) -> Floats:
        """Standard normal."""
        return np.asarray(ndtri(self.uniform(shape)), dtype=np.float64)

    def logistic(self, shape: int | tuple[int, ...]) -> Floats:
        """Standard logistic."""
        u = self.uniform(shape)
        return np.asarray(np.log(u) - np.log1p(-u), dtype=np.float64)

    def happens(self, chance: Floats | float, shape: int | tuple[int, ...]) -> Bools:
        """True with the given chance."""
        return np.asarray(self.uniform(shape) < chance)

    def leaning_to_0(self, power: float, shape: int | tuple[int, ...]) -> Floats:
        """Beta(1, power): 1 - u^(1 / power)."""
        return np.asarray(1.0 - self.uniform(shape) ** (1.0 / power))

    def whole(self, low: int, high: int, shape: int | tuple[int, ...]) -> NDArray[np.int64]:
        """Whole numbers from low to high, both included, equally likely."""
        return low + np.floor(self.uniform(shape) * (high - low + 1)).astype(np.int64)
