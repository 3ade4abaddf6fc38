"""Whether a federation's logs fit: sets made by SQL inside a store, then every kept table and the model frame.

    python tests/benchmarks/federation_store.py 1000 3 6GB     # athletes, seasons of 40 weeks, DuckDB's memory limit

Prints seconds by kept table and the peak resident memory. The sets never pass through Python, so that the figure is
that of the queries.
"""

import sys
import tempfile
import time
from pathlib import Path

from preflare.settings import Settings
from preflare.store import Store
from preflare.store.importing import _write_vocabulary
from preflare.store.queries import view_queries
from preflare.store.season_file import write_settings

SETS = """
with sessions as (
    select
        athlete.range as athlete_id, week.range as week, weekday.range as weekday,
        date '2022-01-03' + (7 * (week.range + 12 * (week.range // 40)) + 2 * weekday.range)::integer as date
    from range(1, {athletes} + 1) as athlete, range(40 * {seasons}) as week, range(3) as weekday
    where hash(athlete.range, week.range, weekday.range) % 100 >= 8
)
select row_number() over (order by athlete_id, date)::integer as session_id, * from sessions
"""
LIFTS = "(values ('back squat', 5), ('bench press', 5), ('row', 4), ('curl', 3)) as lifts (exercise, n)"


def fill(store: Store, athletes: int, seasons: int) -> None:
    """The canonical tables, full of invented work."""
    run = store._connection.execute
    run("begin")
    write_settings(store._connection, Settings(), "")
    run("create temp table incoming_set (exercise varchar)")
    _write_vocabulary(store._connection)
    run("insert into athlete select range, 'Lifter ' || range, [] from range(1, ? + 1)", [athletes])
    run(f"create temp table made as {SETS.format(athletes=athletes, seasons=seasons)}")
    run("insert into session select session_id, athlete_id, date, 1, null, null, null, null from made")
    run(
        f"""
        insert into lift_set
        select
            session_id, number.range, exercise, exercise,
            case when exercise = 'back squat' then
                ['straight', 'straight', 'straight', 'safety', 'cambered']
                [(1 + hash(session_id, 'bar') % 5)::integer]
            end,
            null, 'low', 'medium', null, null,
            (100 + athlete_id % 100) * (0.7 + (hash(session_id, exercise) % 20) / 100), 5, 8, null,
            false, false, null, 1, '', (session_id % 1000000) * 20 + number.range, ''
        from made, {LIFTS}, range(1, n + 1) as number
        """
    )
    run(
        """
        insert into pain_report
        select
            athlete_id, date, null, greatest(0, (hash(session_id, 'pain') % 9)::integer - 4.0), null, 'elbow',
            'right', 'after', 'pain', 'column', '', 1, '', 1, ''
        from made where hash(session_id, 'said') % 4 > 0
        """
    )
    run("commit")


def main(athletes: int, seasons: int, memory_limit: str) -> None:
    """Fills a store and builds everything on it."""
    with tempfile.TemporaryDirectory() as folder, Store.open(Path(folder) / "season.duckdb") as store:
        store._connection.execute("set memory_limit = ?", [memory_limit])
        fill(store, athletes, seasons)
        ((sets,),) = store.rows("select count(*) from lift_set")
        print(f"{sets} sets; {peak_memory_mb():.0f} MB after making them", flush=True)
        for query in view_queries():
            begun = time.perf_counter()
            store._connection.execute(f"create {'table' if query.is_table else 'view'} {query.name} as {query.text}")
            if query.is_table:
                print(f"  {query.name:<24}{time.perf_counter() - begun:8.2f} s  {peak_memory_mb():8.0f} MB", flush=True)
        begun = time.perf_counter()
        store._connection.execute("create temp table frame as select * from model_frame")
        print(f"  {'model_frame':<24}{time.perf_counter() - begun:8.2f} s  {peak_memory_mb():8.0f} MB")
        size = (Path(folder) / "season.duckdb").stat().st_size
        print(f"file: {size / 2**20:.0f} MB")


def peak_memory_mb() -> float:
    """Peak resident memory of this process so far; Linux only."""
    status = Path("/proc/self/status").read_text()
    return int(status.split("VmHWM:")[1].split()[0]) / 1024


if __name__ == "__main__":
    main(int(sys.argv[1]), int(sys.argv[2]), sys.argv[3])
