"""Files to tidy rows: whatever a season left behind, read without being told its layout, and nothing lost.

`read_logs` is the way in. rows.py says what comes out.
"""

from preflare.reading.logs import read_logs
from preflare.reading.propose import propose_sources

__all__ = ["propose_sources", "read_logs"]
