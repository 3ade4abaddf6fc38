"""Kill an import at random moments and see what it leaves: `python tests/store/kill_imports.py [NUMBER] [SEED]`.

Each time a store of 5,000 sets takes in a corrected copy of its log in a process of its own, which is sent SIGKILL at a
moment drawn evenly from the time that an undisturbed import takes. The store must then open, pass its own check, and
equal the state before the import or the one after it, set by set.
"""

import os
import random
import signal
import subprocess
import sys
import time
from collections import Counter
from pathlib import Path
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).parents[1]))
from preflare.settings import Settings
from preflare.store import Store
from store.big_season import big_season

BEFORE_KG, AFTER_KG = 100.0, 120.0
_PROGRAM = """
import sys
from pathlib import Path
sys.path[:0] = {paths!r}
from store.big_season import big_season
from preflare.settings import Settings
from preflare.store import Store
logs = big_season({load_kg!r})
with Store.open(Path({store!r})) as store:
    print("ready", flush=True)
    store.import_logs(logs, Settings(), "")
"""


def importing(store: Path) -> "subprocess.Popen[bytes]":
    """A process that imports the corrected log into `store`; returns when it is about to begin."""
    code = _PROGRAM.format(paths=[str(Path(__file__).parents[1]), *sys.path], load_kg=AFTER_KG, store=str(store))
    process = subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE, env=dict(os.environ))
    assert process.stdout is not None
    if process.stdout.readline() != b"ready\n":
        raise RuntimeError("the import did not begin")
    return process


def new_store(path: Path) -> None:
    """A store with the log before its correction."""
    with Store.open(path) as store:
        store.import_logs(big_season(BEFORE_KG), Settings(), "")


def state_of(path: Path) -> str:
    """ "before", "after", or what is wrong with the store."""
    with Store.open(path) as store:
        runs = len(store.rows("select run_id from import_run"))
        loads = store.rows("select load_kg, count(*) from lift_set group by 1")
        problems = store.verify()
    known = {(1, ((BEFORE_KG, 5000),)): "before", (2, ((AFTER_KG, 5000),)): "after"}
    return "; ".join(map(str, problems)) or known.get((runs, tuple(loads)), f"{runs} imports, loads {loads}")


def killed_after(path: Path, seconds: float) -> str:
    """The state that an import killed after so many seconds leaves in the new store at `path`."""
    new_store(path)
    with importing(path) as process:
        time.sleep(seconds)
        process.send_signal(signal.SIGKILL)
    return state_of(path)


def undisturbed(path: Path) -> float:
    """Seconds that the import takes when nobody kills it."""
    new_store(path)
    with importing(path) as process:
        begun = time.perf_counter()
        process.wait()
    return time.perf_counter() - begun


def main(number: int, seed: int) -> int:
    """Kill `number` imports; 1 when one of them left anything but the state before or after."""
    draw = random.Random(seed)
    with TemporaryDirectory() as folder:
        longest = undisturbed(Path(folder) / "undisturbed.duckdb")
        states = Counter(killed_after(Path(folder) / f"{i}.duckdb", draw.uniform(0, longest)) for i in range(number))
    print(f"{number} imports killed within {longest:.2f} s: {dict(states)}")
    return 0 if set(states) <= {"before", "after"} else 1


if __name__ == "__main__":
    told = [int(text) for text in sys.argv[1:3]]
    sys.exit(main(*told, *[50, 1][len(told) :]))
