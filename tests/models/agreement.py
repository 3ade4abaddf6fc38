"""Print how the engine agrees with other programs and with published examples.

    python tests/models/agreement.py [--large] [--out agreement.txt]

One line a compared quantity: the largest deviation, the limit, whether it agrees, the source; a line below says why a
limit is wider than usual. --large adds M, 150,000 rows (half a minute). At the end, what is not compared, and why. Half
a minute on one core. The toenail data come from R's HSAUR3; where that is not on the machine the table says so.
"""

import argparse
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from models.cases import classic_cases, large_cases, simulated_cases
from models.published import published_cases, toenail_cases
from models.quantities import NOT_COMPARED, quantities
from models.references import Case, Deviation, Quantity, deviations

HEAD = f"{'case':36} {'quantity':22} {'deviation':>10} {'limit':>8}  agrees  source"
MEASURES = """Deviations are ours less theirs: estimates in standard errors, SE and SD as a share, log-likelihoods
as they are (a positive one is a better optimum), other quantities as they are. Usual limits: 1e-4 of an SE, 1e-3, and
1e-4; of exact references, R's fits polished to the optimum by tests/reference/mixed_models, 1e-6, 2e-4, 1e-6. As
stopped: what the package gives with its own settings."""


def groups(large: bool) -> dict[str, list[Case] | list[Quantity]]:
    """The table's parts by heading."""
    parts: dict[str, list[Case] | list[Quantity]] = {"Simulated seasons, S (30 athletes x 200 days)": simulated_cases()}
    if large:
        parts["Simulated seasons, M (500 athletes x 300 days)"] = large_cases()
    parts["Data sets that R's packages bring along"] = classic_cases()
    parts["Published worked examples"] = [*published_cases(), *toenail_cases()]
    parts["Other quantities"] = quantities()
    return parts


def lines(rows: list[Deviation]) -> list[str]:
    """A case's lines, its note below them."""
    made = [
        f"{row.case:36} {row.quantity:22} {row.deviation:10.1e} {row.limit:8.1e}  {'yes' if row.agrees else 'NO':6}"
        f"  {row.source}"
        for row in rows
    ]
    return [*made, f"    why: {rows[0].note}"] if rows[0].note else made


def table(large: bool) -> tuple[list[str], int]:
    """The printed lines, and the number of quantities that do not agree."""
    made, compared, outside = [MEASURES], 0, 0
    for heading, cases in groups(large).items():
        made += ["", heading, HEAD]
        for case in cases:
            rows = deviations(case)
            compared, outside = compared + len(rows), outside + sum(not row.agrees for row in rows)
            made += lines(rows)
    made += ["", "Not compared", *(f"{name}: {why}" for name, why in NOT_COMPARED.items())]
    if not toenail_cases():
        made.append("toenail: R's package HSAUR3, which carries the data, is not on this machine")
    if not large:
        made.append("M: asked for by --large")
    return [*made, "", f"{compared} compared, {outside} outside their limit"], outside


def main() -> int:
    """1 where a quantity does not agree."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--large", action="store_true")
    parser.add_argument("--out", type=Path)
    asked = parser.parse_args()
    made, outside = table(asked.large)
    text = "\n".join(made)
    print(text)
    if asked.out:
        asked.out.write_text(text + "\n", encoding="utf-8")
    return min(outside, 1)


if __name__ == "__main__":
    raise SystemExit(main())
