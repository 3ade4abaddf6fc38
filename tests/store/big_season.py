"""A season large enough that its import takes a while."""

from dataclasses import replace

from hand_logs import HandLogs, on
from preflare.reading.rows import Logs


def big_season(load_kg: float) -> Logs:
    """5,000 sets, so that an import takes long enough to be killed in its midst."""
    logs = HandLogs()
    row = logs.set(0, load_kg).logs.sets[0]
    logs.logs.sets = [
        replace(row, date=on(day), set_number=number, place=replace(row.place, row=2 + 25 * day + number))
        for day in range(200)
        for number in range(1, 26)
    ]
    return logs.done()
