"""How many invented examples a property test tries: few in the suite, as many as EXAMPLES says where it is set."""

import os


def examples(usually: int) -> int:
    """The number of examples: EXAMPLES of the environment, else `usually`."""
    return int(os.environ.get("EXAMPLES") or usually)
