"""Print how the engine agrees with other programs and with published examples.

    python tests/models/agreement.py [M]

One line a compared quantity (with M the large data set too, half a minute): the largest deviation, the limit, the
source. README of tests/reference/mixed_models says what is known about the references themselves.
"""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from models.references import all_cases, deviations, large_cases


def main() -> int:
    """Number of quantities that do not agree."""
    print(f"{'case':38} {'quantity':22} {'deviation':>10} {'limit':>8}  agrees  source")
    outside = 0
    for case in all_cases() + (large_cases() if "M" in sys.argv[1:] else []):
        for row in deviations(case):
            outside += not row.agrees
            word = "yes" if row.agrees else "NO"
            print(f"{row.case:38} {row.quantity:22} {row.deviation:10.1e} {row.limit:8.0e}  {word:6}  {row.source}")
    print(f"{outside} outside their limit")
    return outside


if __name__ == "__main__":
    raise SystemExit(min(main(), 1))
