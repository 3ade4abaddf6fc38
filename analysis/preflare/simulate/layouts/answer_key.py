"""README.md beside the simulated logs: what was planted, what is true in this very season, and where the mess lies."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from preflare.simulate.constants import EFFECTS, constants
from preflare.simulate.layouts.common import Mess
from preflare.simulate.people import CLUB, Person
from preflare.simulate.truth import truth
from preflare.simulate.worlds import SimulatedSeason

FILE = "README.md"
CONTRASTS = {
    "intensity": "10 points of %1RM more, around the own mean",
    "safety": "safety bar instead of straight bar",
    "cambered": "cambered bar instead of straight bar",
    "narrow": "narrow grip instead of medium",
    "wide": "wide grip instead of medium",
    "high": "high bar position instead of low",
    "sets": "5 working sets more in the 7 days before",
}


def write(
    folder: Path,
    season: SimulatedSeason,
    lifters: Sequence[Person],
    files: Mapping[str, Sequence[int]],
    mess: list[Mess],
) -> None:
    """Write the answer key."""
    parts = [_opening(season), _planted(season), _truth(season), _coach(season), _files(files, lifters), _mess(mess)]
    (folder / FILE).write_text("\n\n".join(parts) + "\n", encoding="utf-8", newline="\n")


def _opening(season: SimulatedSeason) -> str:
    return (
        f"# A season of the {CLUB}\n\n"
        "The club, its lifters and their pain are invented. A program made these logs, untidy on purpose, so that the\n"
        "true causes are known and what `preflare review` says can be compared with them. "
        f"World `{season.world.name}`, seed {season.seed},\n{season.n_athletes} lifters, "
        f"{int(season.week[-1]) + 1} weeks, {int(season.trained.sum())} squat sessions. The seed was fixed before anything"
        " was fitted.\n\nMake the files again with `preflare simulate --out FOLDER --seed N`."
    )


def _planted(season: SimulatedSeason) -> str:
    planted = constants()["planted"]
    has_mean = season.world.effects == "planted"
    lines = [
        "## What was planted",
        "",
        "| exposure | mean log-odds of a higher rating | athletes differ by (SD) |",
        "|---|---|---|",
    ]
    for name in EFFECTS:
        mean = planted["mean"][name] if has_mean else 0.0
        spread = planted["sd"][name] if season.world.effects != "none" else 0.0
        lines.append(f"| {CONTRASTS[name]} | {mean:+.1f} | {spread:.2f} |")
    per_set = planted["sets_mean"] if has_mean else 0.0
    fades = constants()["irritability"]["decay_per_day"]
    lines += [
        "",
        f"Every working set adds {per_set:.2f} on average to irritability, which keeps {100 * fades:.0f} % of itself from one day to",
        f"the next; {100 * constants()['irritability']['carry_over']:.0f} % of what a session's exposures add stays behind in it too. A rating follows the sum through",
        "11 ordered grades. Pain also follows the time of year and the nearness of a competition. Pressing, pulling and",
        f"curling {'are the only cause' if season.world.curling else 'do nothing'}.",
    ]
    return "\n".join(lines)


def _truth(season: SimulatedSeason) -> str:
    event = constants()["ratings"]["event"]
    lines = [
        "## What is true in this season",
        "",
        f"Sessions of 100 followed by a rating of {event} or more: this session's exposure set to either level, everything",
        "before as it was, averaged over every session that took place, reported or not.",
        "",
        "| contrast | without, per 100 | difference, per 100 |",
        "|---|---|---|",
    ]
    for name, value in truth(season).items():
        lines.append(f"| {CONTRASTS[name]} | {value.risk_from:.1f} | {value.per_100:+.1f} |")
    return "\n".join(lines)


def _coach(season: SimulatedSeason) -> str:
    reaction, done = constants()["reaction"], season.trained
    n_events = int((season.rating[done] >= constants()["ratings"]["event"]).sum())
    return (
        "## Why the raw numbers mislead\n\n"
        f"After {reaction['after_events']} sessions in a row at the event rating the coach eases off for "
        f"{reaction['shortest']} to {reaction['longest']} sessions: the safety bar in\n{100 * reaction['safety']:.0f} % of them, "
        f"{-reaction['intensity']:.0f} points less on the bar, {-100 * reaction['sets']:.0f} % fewer sets. "
        f"That is {100 * season.reacting[done].mean():.0f} % of all sessions here. Pain lasts,\n"
        "so the safety bar is found beside pain that it did not bring.\n\n"
        f"{n_events} of {int(done.sum())} sessions were followed by a rating of 4 or more; "
        f"{100 * season.reported[done].mean():.0f} % of sessions were reported, and sessions\nwithout pain less often than "
        "painful ones. An unreported session is not a session without pain."
    )


def _files(files: Mapping[str, Sequence[int]], lifters: Sequence[Person]) -> str:
    lines = ["## Which file holds whom", "", "| file | lifters |", "|---|---|"]
    lines += [
        f"| {file} | {', '.join(lifters[i].name for i in members)} |" for file, members in files.items() if members
    ]
    return "\n".join(lines)


def _mess(mess: list[Mess]) -> str:
    lines = ["## The mess, and where it lies", "", "| file | where | what |", "|---|---|---|"]
    return "\n".join(lines + [f"| {one.file} | {one.where} | {one.what} |" for one in mess])
