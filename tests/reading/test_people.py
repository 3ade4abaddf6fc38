"""Who is who: joined only where nobody else could be meant."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from preflare.reading.people import join_people, name_key
from preflare.settings import Athlete

TWO = ["Ada Berg", "Bo Dahl"]


@pytest.mark.parametrize(
    "written", ["ada berg", "Berg, Ada", "BERG Ada", "Àda Bérg", "A. Berg", "Ada B.", "Ada", "Berg"]
)
def test_ways_of_writing_one_name_are_joined(written):
    people = join_people([*TWO, written], [])
    assert people[written].name == people["Ada Berg"].name != people["Bo Dahl"].name


def test_two_people_who_fit_stay_apart_and_are_asked_about():
    people = join_people(["Ada Berg", "Ada Bruun", "Ada", "Ada B."], [])
    assert people["Ada"].name == "Ada"
    assert people["Ada"].how == "not known"
    assert people["Ada B."].nearest == "Ada Berg or Ada Bruun"


def test_a_misspelt_name_is_another_person_with_the_nearest_shown():
    people = join_people(["Ada Berg", "Ada Bergh", "Bo Dahl"], [])
    assert people["Ada Bergh"].name == "Ada Bergh"
    assert people["Ada Bergh"].nearest == "Ada Berg"


def test_season_toml_settles_nicknames_and_spellings():
    known = [Athlete(name="Ada Berg", aliases=["Addy", "A. Example"])]
    people = join_people(["Addy", "A. Example", "Berg Ada", "Bo Dahl"], known)
    assert [people[name].name for name in ("Addy", "A. Example", "Berg Ada", "Bo Dahl")] == ["Ada Berg"] * 3 + [
        "Bo Dahl"
    ]
    assert people["Addy"].how == "season.toml"


def test_letters_that_unicode_leaves_whole_are_folded_too():
    # Unicode has no decomposition for these (UnicodeData.txt): l with stroke, o with slash, sharp s, dotless i.
    assert name_key("Łoś Ødegård Weiß") == name_key("los odegard weiss")


def test_the_name_shown_has_its_accents_and_stands_first_name_first():
    people = join_people(["soren kvist", "Kvist, Søren", "Søren Kvist"], [])
    assert {person.name for person in people.values()} == {"Søren Kvist"}


@given(st.permutations(["Ada Berg", "Bo Dahl", "Cy Eklund", "A. Berg", "Bo", "dahl, bo"]))
def test_the_order_of_rows_does_not_matter(names):
    assert {name: person.name for name, person in join_people(names, []).items()} == {
        "Ada Berg": "Ada Berg", "Bo Dahl": "Bo Dahl", "Cy Eklund": "Cy Eklund", "A. Berg": "Ada Berg", "Bo": "Bo Dahl",
        "dahl, bo": "Bo Dahl",
    }  # fmt: skip


def test_people_are_joined_across_files(read):
    log = "Date,Name,Exercise,Load,Reps\n2026-01-05,Łucja Berg,squat,100,5\n"
    form = "Date,Name,Elbow pain\n2026-01-05,berg lucja,3\n"
    logs = read({"log.csv": log, "form.csv": form})
    assert logs.people == {"Łucja Berg": ("berg lucja", "Łucja Berg")}
    assert {p.athlete for p in logs.pain} == {"Łucja Berg"}
