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


def test_one_comma_outweighs_any_number_of_surname_first_spellings():
    written = ["Støveland Håkon"] * 9 + ["hakon stoveland", "Støveland, Håkon"] + ["Kaménková Věra"] * 9
    people = join_people([*written, "Kamenkova, Vera"], [])
    assert people["Støveland Håkon"].name == "Håkon Støveland"
    assert {people["Kaménková Věra"].name, people["Kamenkova, Vera"].name} == {"Věra Kaménková"}
    listed = join_people(written, [Athlete(name="Věra Kaménková"), Athlete(name="Håkon Støveland")])
    assert {person.name for person in listed.values()} == {"Věra Kaménková", "Håkon Støveland"}


def test_a_name_listed_surname_first_is_shown_first_name_first_and_still_found(read):
    season = '[[athlete]]\nname = "Berg, Łucja"\naliases = ["Lu"]\n[[athlete]]\nname = "Dahl Bo"\n'
    log = "Date,Name,Exercise,Load,Reps\n2026-01-05,Lu,squat,100,5\n2026-01-05,berg lucja,squat,105,5\n"
    log += '2026-01-05,"Dahl, Bo",squat,100,5\n2026-01-06,Dahl Bo,squat,100,5\n'
    logs = read({"log.csv": log}, season)
    assert {one.athlete for one in logs.sets} == {"Łucja Berg", "Bo Dahl"}
    assert "Berg, Łucja" in logs.people["Łucja Berg"]
    assert "Dahl Bo" in logs.people["Bo Dahl"]


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


def written_as(read, *names):
    rows = [f"2026-01-{day:02},{name},squat,100,5\n" for day, name in enumerate(names, start=5)]
    return read({"log.csv": "Date,Name,Exercise,Load,Reps\n" + "".join(rows)}).people


def test_surname_first_in_one_place_and_given_name_first_in_another_is_one_person(read):
    assert written_as(read, "Berg Ada", "Berg Ada", "Ada Berg") == {"Berg Ada": ("Ada Berg", "Berg Ada")}


def test_initials_and_shortened_names_are_joined_where_they_fit_one_person_only(read):
    people = written_as(read, "Alexandra Berg", "Cy Eklund", "AB", "Alex", "CE")
    assert people == {"Alexandra Berg": ("AB", "Alex", "Alexandra Berg"), "Cy Eklund": ("CE", "Cy Eklund")}


def test_initials_and_shortened_names_that_fit_two_people_stay_apart(read):
    people = written_as(read, "Alexandra Berg", "Alexis Bohr", "AB", "Alex")
    assert set(people) == {"Alexandra Berg", "Alexis Bohr", "AB", "Alex"}


def test_a_short_name_in_ordinary_letters_is_not_taken_for_initials(read):
    assert set(written_as(read, "Jon Olsen", "Jo")) == {"Jon Olsen", "Jo"}


@pytest.mark.parametrize(
    ("full", "written"),
    [("Sjoerd van Aken", "S. v. Aken"), ("Sjoerd van Aken", "Sjoerd v Aken"), ("Sjoerd van Aken", "Aken, Sjoerd van"),
     ("Sjoerd van Aken", "sjoerd AKEN"), ("Sjoerd van Aken", "v. Aken"), ("Ana Sousa Pinto", "Ana Sousa"),
     ("Ana Sousa Pinto", "A. Pinto"), ("Íñigo Brañas", "inigo branas"), ("Karl von der Tann", "Karl Tann"),
     ("Marie-Luise Kern", "Marie Luise Kern"), ("Łucja Żak", "Lucja Z."), ("Fenna D.", "Fenna")],
)  # fmt: skip
def test_shorter_forms_of_one_name_are_joined_and_keep_the_fullest(full, written):
    people = join_people([full, "Bo Dahl", written], [])
    assert people[written].name == people[full].name == full
    assert people["Bo Dahl"].name == "Bo Dahl"


@pytest.mark.parametrize("short", ["Ana Sousa", "Ana S.", "Ana"])
def test_shorter_forms_that_fit_two_people_stay_apart(short):
    people = join_people(["Ana Sousa Pinto", "Ana Sousa Reis", short], [])
    assert people[short].name == short


def test_first_names_with_different_initials_are_different_people():
    people = join_people(["Fenna D.", "Fenna K.", "Fenna"], [])
    assert {name: person.name for name, person in people.items()} == {name: name for name in people}


@pytest.mark.parametrize(
    ("full", "written"),
    [("Mira Östreich", "Mira Oestreich"), ("Mira Östreich", "M. Oestreich"), ("Mira Östreich", "Oestreich, Mira"),
     ("Søren Kjær", "Soeren Kjaer"), ("Åse Bråten", "Aase Braaten"), ("Jürgen Groß", "Juergen Gross"),
     ("Mira Östreich", "Mira Ostreich")],
)  # fmt: skip
def test_letters_spelt_out_are_the_same_name(full, written):
    people = join_people([full, "Bo Dahl", written], [])
    assert people[written].name == people[full].name == full


def test_two_names_without_such_letters_stay_apart():
    people = join_people(["Mira Boe", "Mira Bo"], [])
    assert people["Mira Boe"].name != people["Mira Bo"].name
