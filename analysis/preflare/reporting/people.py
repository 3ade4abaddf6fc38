"""Who? Athletes in alphabetical order, each with the season in one line and the way to the own page."""

from typing import Any

from preflare.reporting.charts.strip import strip
from preflare.reporting.material import Material, figure, paragraph, section
from preflare.reporting.names import alphabetical
from preflare.reporting.numbers import out_of
from preflare.reporting.records import Figure, Person, Section
from preflare.reporting.views import athlete_season, of_athlete


def people_section(material: Material) -> Section | None:
    """No ranks, no colours: counts and a strip."""
    words = material.words
    people = sorted(material.findings.get("athletes") or [], key=lambda a: alphabetical(a["name"]))
    if not people:
        return None
    return section(words, "team.who", paragraph(words, "team.who.lead"), *[_person(a, material) for a in people])


def _person(athlete: dict[str, Any], material: Material) -> Person:
    words, file = material.words, material.files[athlete["name"]]
    facts = words.spans(
        "team.who.facts",
        sessions=words.count("squat_sessions", athlete["sessions"]),
        events=out_of(athlete["events"], athlete["reported"], words),
        flares=words.count("flare_ups", len(athlete["flare_ups"])),
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
