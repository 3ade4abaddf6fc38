"""Rows by athlete in rectangular blocks, so that sums over an athlete's rows are sums over one axis.

Athletes are sorted by number of rows and cut into blocks of about ROWS_A_BLOCK padded rows, small enough to stay in
the processor's cache. A padding row has weight 0 and zeros everywhere: it adds nothing to any sum.
"""

from dataclasses import dataclass

import numpy as np

from preflare.models.inputs import Inputs
from preflare.models.records import Bools, Floats, Ints

ROWS_A_BLOCK = 12_000


@dataclass(frozen=True)
class Block:
    """G athletes of up to T rows. athletes: (G,) codes. y: (G, T) category. X: (G, T, p). Z: (G, T, q).

    weight, offset: (G, T). cell: (G, T) g * K + y, the place of a row in a table of athlete by category.
    rows: (G, T) index of the row in the data. real: (G, T) False for padding.
    """

    athletes: Ints
    y: Ints
    X: Floats
    Z: Floats
    weight: Floats
    offset: Floats
    cell: Ints
    rows: Ints
    real: Bools


def make_blocks(inputs: Inputs, X: Floats, Z: Floats, n_categories: int) -> list[Block]:
    """Cut the rows into blocks. X, Z: the standardised columns of the same rows."""
    counts = np.bincount(inputs.group, minlength=inputs.n_groups)
    largest_first = np.argsort(-counts, kind="stable")
    largest_first = largest_first[counts[largest_first] > 0]
    rank = np.empty(len(counts), dtype=np.int64)
    rank[largest_first] = np.arange(len(largest_first))
    order = np.argsort(rank[inputs.group], kind="stable")
    sizes = counts[largest_first]
    first = np.cumsum(sizes) - sizes
    blocks = []
    start = 0
    while start < len(sizes):
        stop = min(start + max(1, ROWS_A_BLOCK // int(sizes[start])), len(sizes))
        blocks.append(
            _block(
                inputs,
                X,
                Z,
                n_categories,
                largest_first[start:stop],
                first[start:stop],
                sizes[start:stop],
                order,
            )
        )
        start = stop
    return blocks


def _block(
    inputs: Inputs,
    X: Floats,
    Z: Floats,
    n_categories: int,
    athletes: Ints,
    first: Ints,
    sizes: Ints,
    order: Ints,
) -> Block:
    position = np.arange(sizes[0])
    real = position < sizes[:, None]
    rows = order[np.where(real, first[:, None] + position, first[:, None])]
    y = np.where(real, inputs.y[rows], 0).astype(np.int64)
    return Block(
        athletes=athletes,
        y=y,
        X=np.where(real[..., None], X[rows], 0.0),
        Z=np.where(real[..., None], Z[rows], 0.0),
        weight=np.where(real, inputs.weights[rows], 0.0),
        offset=np.where(real, inputs.offset[rows], 0.0),
        cell=np.arange(len(athletes))[:, None] * n_categories + y,
        rows=rows,
        real=real,
    )
