"""Who? Athletes in alphabetical order, each with the season in one line and the way to the own page."""

from typing import Any

from preflare.reporting.charts.strip import strip
from preflare.reporting.material import Material, figure, paragraph, section
from preflare.reporting.names import alphabetical
from preflare.reporting.numbers import out_of, short_day
from preflare.reporting.records import Figure, Person, Section, Text
from preflare.reporting.views import athlete_season, of_athlete
from preflare.reporting.words import link


def people_section(material: Material) -> Section | None:
    """No ranks, no colours: counts and a strip."""
    words = material.words
    people = sorted(material.findings.get("athletes") or [], key=lambda a: alphabetical(a["name"]))
    if not people:
        return None
    return section(words, "team.who", paragraph(words, "team.who.lead"), *[_person(a, material) for a in people])


def now_line(material: Material) -> Text:
    """How many lifters were in a flare-up when the logs end, how many notes hold a warning word, and where they are."""
    words, athletes = material.words, material.findings.get("athletes") or []
    told = [
        words.count(noun, n)
        for noun, n in (("in_flare_up", sum(map(is_open, athletes))), ("warned", sum(map(has_warning_word, athletes))))
        if n
    ]
    if not told:
        return ()
    return words.spans("team.now", told=words.listing(told), link=link(words.text("team.now_link"), "#who"))


def is_open(athlete: dict[str, Any]) -> bool:
    """Whether the last flare-up was not over when the log ends."""
    return bool(athlete["flare_ups"]) and not athlete["flare_ups"][-1].get("over")


def has_warning_word(athlete: dict[str, Any]) -> bool:
    """Whether a note of this athlete holds a warning word; high ratings alone do not count here."""
    return any(warning.get("kind") != "rating" for warning in athlete.get("warnings") or [])


def _person(athlete: dict[str, Any], material: Material) -> Person:
    words, file = material.words, material.files[athlete["name"]]
    facts = words.spans(
        "team.who.facts",
        sessions=words.count("squat_sessions", athlete["sessions"]),
        events=out_of(athlete["events"], athlete["reported"], words),
        flares=words.count("flare_ups", len(athlete["flare_ups"])),
        since=words.text("team.who.since", day=short_day(athlete["flare_ups"][-1]["onset"], words))
        if is_open(athlete)
        else "",
        warned=words.text("team.who.warned") if has_warning_word(athlete) else "",
    )
    return Person(athlete["name"], f"athletes/{file}.html", _strip(athlete, material, file), facts)


def _strip(athlete: dict[str, Any], material: Material, file: str) -> Figure | None:
    words, season = material.words, material.season
    data = athlete_season(of_athlete(material.views, athlete["name"]), athlete["flare_ups"])
    if season is None or not (data.sessions or data.ratings):
        return None
    bars = words.listing([words.word("bar_long", b) for b in data.bars]) or words.text("number.unknown")
    alternative = words.text(
        "alt.strip",
        name=athlete["name"],
        ratings=words.count("ratings", sum(r > 0 for _, r in data.ratings)),
        flares=words.count("flare_ups", len(athlete["flare_ups"])),
        bars=bars,
    )
    return figure(f"strip-{file}", lambda _: strip(data, season), alternative, once=True)
