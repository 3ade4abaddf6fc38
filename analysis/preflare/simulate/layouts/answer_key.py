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
    weeks, sessions = int(season.week[-1]) + 1, int(season.trained.sum())
    return "\n".join(
        [
            f"# A season of the {CLUB}",
            "",
            "The club, its lifters and their pain are invented. A program made these logs, untidy on purpose, so that",
            "the true causes are known and what `preflare review` says can be compared with them.",
            f"World `{season.world.name}`, seed {season.seed}, {season.n_athletes} lifters, {weeks} weeks,"
            f" {sessions} squat sessions.",
            *(["The seed was fixed before anything was fitted."] if season.seed == 1 else []),
            "",
            f"The same again: `preflare simulate --out FOLDER --seed {season.seed}`.",
        ]
    )


def _planted(season: SimulatedSeason) -> str:
    planted, table = constants()["planted"], constants()["irritability"]
    has_mean, differ = season.world.effects == "planted", season.world.effects != "none"
    lines = ["## What was planted", ""]
    lines += ["| exposure | mean log-odds of a higher rating | athletes differ by (SD) |", "|---|---|---|"]
    for name in EFFECTS:
        lines.append(
            f"| {CONTRASTS[name]} | {planted['mean'][name] * has_mean:+.1f} | {planted['sd'][name] * differ:.2f} |"
        )
    others = "are the only cause" if season.world.curling else "do nothing"
    lines += [
        "",
        f"Every working set adds {planted['sets_mean'] * has_mean:.2f} on average to irritability, which keeps"
        f" {100 * table['decay_per_day']:.0f} % of itself from",
        f"one day to the next; {100 * table['carry_over']:.0f} % of what a session's exposures add stays in it too.",
        "A rating follows the sum through 11 ordered grades. Pain also follows the time of year and the nearness of a",
        "competition.",
        f"Curls {others}; presses and pulls do nothing.",
    ]
    return "\n".join(lines)


def _truth(season: SimulatedSeason) -> str:
    event = constants()["ratings"]["event"]
    lines = [
        "## What is true in this season",
        "",
        f"Sessions of 100 followed by a rating of {event} or more: this session's exposure set to either level,",
        "everything before as it was, averaged over every session that took place, reported or not.",
        "",
        "| contrast | at the first level, per 100 | difference, per 100 |",
        "|---|---|---|",
    ]
    for name, value in truth(season).items():
        lines.append(f"| {CONTRASTS[name]} | {value.risk_from:.1f} | {value.per_100:+.1f} |")
    return "\n".join(lines)


def _coach(season: SimulatedSeason) -> str:
    reaction, done = constants()["reaction"], season.trained
    event = constants()["ratings"]["event"]
    n_events = int((season.rating[done] >= event).sum())
    eased, told = 100 * season.reacting[done].mean(), 100 * season.reported[done].mean()
    lines = ["## Why the raw numbers mislead", ""]
    if season.world.reacts:
        lines += [
            f"After {reaction['after_events']} sessions in a row at {event} or more the coach eases off for"
            f" {reaction['shortest']} to {reaction['longest']} sessions: the safety",
            f"bar in {100 * reaction['safety']:.0f} % of them, {-reaction['intensity']:.0f} points less on the bar,"
            f" {-100 * reaction['sets']:.0f} % fewer sets. That is {eased:.0f} % of all sessions here.",
            "Pain lasts, so the safety bar is found beside pain that it did not bring.",
            "",
        ]
    lines += [
        f"{n_events} of {int(done.sum())} sessions were followed by a rating of {event} or more;"
        f" {told:.0f} % of sessions were reported.",
        "An unreported session is not a session without pain.",
    ]
    return "\n".join(lines)


def _files(files: Mapping[str, Sequence[int]], lifters: Sequence[Person]) -> str:
    lines = ["## Which file holds whom", "", "| file | lifters |", "|---|---|"]
    for file, members in files.items():
        if members:
            lines.append(f"| {file} | {', '.join(lifters[i].name for i in members)} |")
    return "\n".join(lines)


def _mess(mess: list[Mess]) -> str:
    lines = ["## The mess, and where it lies", "", "| file | where | what |", "|---|---|---|"]
    return "\n".join(lines + [f"| {one.file} | {one.where} | {one.what} |" for one in mess])
