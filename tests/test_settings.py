"""season.toml: defaults, errors in words with their line, and definitions that cannot change unseen."""

from datetime import date

import pytest

from preflare.errors import UsageError
from preflare.settings import Settings, load_settings, parse_settings


def test_without_a_file_every_setting_has_its_default():
    settings = load_settings(None)
    assert settings == Settings()
    assert settings.event.rating == 4
    assert settings.flare_up.model_dump() == {"rise": 2, "at_least": 4, "baseline_days": 14, "over_after": 3}


def test_every_table_of_the_design_is_read():
    settings = parse_settings(
        """
        [season]
        name = "Tern Lane"
        from = 2025-09-01
        default_site = "elbow"
        [[athlete]]
        name = "Ada Example"
        aliases = ["A. Example"]
        [[competition]]
        date = 2026-05-16
        [[change]]
        date = 2026-02-02
        athletes = ["Ada Example"]
        what = "safety bar"
        why = "elbow pain"
        [[source]]
        file = "block*.xlsx"
        columns = { Wt = "load" }
        [words]
        bar.safety = ["our yoke bar"]
        exercise."back squat" = ["wall squat day"]
        """
    )
    assert settings.season.from_ == date(2025, 9, 1)
    assert settings.athlete[0].aliases == ["A. Example"]
    assert settings.competition[0].athletes is None
    assert settings.source[0].columns == {"Wt": "load"}
    assert settings.words.bar == {"safety": ["our yoke bar"]}


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ('[season]\nnam = "x"', 'season.toml, line 2: season.nam is not a setting. Did you mean "name"?'),
        ('[event]\nrating = "4"', "season.toml, line 2: event.rating is '4'; it must be a whole number."),
        ("[event]\nrating = true", "season.toml, line 2: event.rating is True; it must be a whole number."),
        ("[event]\nrating = 11", "season.toml, line 2: event.rating is 11; it must be at most 10."),
        (
            '[[competition]]\ndate = "May"',
            "season.toml, line 2: competition.1.date is 'May'; write a date without quotes, such as 2026-05-16.",
        ),
        (
            '[[competition]]\ndate = 2026-05-16\n[[competition]]\nname = "Meet"',
            "season.toml, line 3: competition.2.date is missing. Every [[competition]] needs it.",
        ),
        (
            '[assume]\nbar = "yoke"',
            "season.toml, line 2: assume.bar is 'yoke'; it must be 'straight', 'safety', 'cambered' or 'other'.",
        ),
        (
            "[season]\nfrom = 2026-02-01\nto = 2026-01-01",
            "season.toml, line 1: season: from (2026-02-01) lies after to (2026-01-01); swap them.",
        ),
    ],
)
def test_an_error_names_line_key_value_and_remedy(text, message):
    with pytest.raises(UsageError) as caught:
        parse_settings(text)
    assert str(caught.value) == message


def test_all_errors_are_told_at_once():
    with pytest.raises(UsageError) as caught:
        parse_settings('[event]\nrating = 0\nsites = []\n[season]\nnotes = "yes"')
    assert len(str(caught.value).splitlines()) == 3


def test_broken_toml_and_an_unreadable_file_are_told_in_words(tmp_path):
    with pytest.raises(UsageError, match="not TOML"):
        parse_settings("[season")
    with pytest.raises(UsageError, match="cannot be read"):
        load_settings(tmp_path / "absent.toml")
    latin = tmp_path / "season.toml"
    latin.write_bytes('[season]\nname = "Möwe"'.encode("cp1252"))
    with pytest.raises(UsageError, match="Save it as UTF-8"):
        load_settings(latin)


def test_definitions_hash_changes_with_a_definition_and_with_nothing_else():
    plain = Settings().definitions_hash()
    assert parse_settings('[season]\nname = "Another name"').definitions_hash() == plain
    assert parse_settings("[event]\nrating = 4").definitions_hash() == plain
    assert parse_settings("[event]\nrating = 5").definitions_hash() != plain
    assert parse_settings("[flare_up]\nrise = 3").definitions_hash() != plain
    assert parse_settings('[assume]\nbar = "straight"').definitions_hash() != plain


def test_a_language_without_words_is_refused_with_those_there_are():
    assert parse_settings('[season]\nlanguage = "en"\n').season.language == "en"
    with pytest.raises(UsageError, match=r'line 2: season.language: there are no words in "tlh"; known here: .*en'):
        parse_settings('[season]\nlanguage = "tlh"\n')
