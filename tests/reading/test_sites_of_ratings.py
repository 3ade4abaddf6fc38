"""Which site a rating without one is about: what the legend or the heading says. Invented people all."""

import pytest

ROWS = "Ada Berg;2026-03-02;squat;100;5;{};{}\nAda Berg;2026-03-04;squat;100;5;{};{}\n"


@pytest.mark.parametrize(
    ("heading", "blank"),
    [("Where? (blank = elbow)", "elbow"), ("Ort (leer = Ellenbogen)", "elbow"), ("Où (vide = avant-bras)", "forearm"),
     ("Dove (vuoto = gomito)", "elbow"), ("Gdzie (puste = łokieć)", "elbow"), ("Where?", "unknown")],
)  # fmt: skip
def test_the_heading_says_what_a_blank_site_means(read, heading, blank):
    log = f"Name;Date;Exercise;Load;Reps;Pain 0-10;{heading}\n" + ROWS.format(3, "", 2, "wrist")
    assert [one.site for one in read({"log.csv": log}).pain] == [blank, "wrist"]


@pytest.mark.parametrize(
    "line",
    ["Just a number = elbow", "nur Zahl = Ellenbogen", "chiffre seul : coude", "solo número = codo",
     "los cijfer = elleboog", "sama liczba = łokieć", "bara siffra = armbåge"],
)  # fmt: skip
def test_a_number_alone_is_about_the_site_that_the_legend_names(read, line):
    log = f"{line}\nName;Date;Exercise;Load;Reps;Arms\n" + ROWS.replace(";{};{}", ";{}").format("3", "left wrist 2")
    assert [(one.site, one.rating) for one in read({"log.csv": log}).pain] == [("elbow", 3.0), ("wrist", 2.0)]


def test_without_such_a_line_the_arm_is_the_upper_arm(read):
    log = "Name;Date;Exercise;Load;Reps;Arms\n" + ROWS.replace(";{};{}", ";{}").format(3, 2)
    assert {one.site for one in read({"log.csv": log}).pain} == {"upper arm"}


NICK = "{}\n\nName;Date;Exercise;Load;Reps\nThibault Orval;2026-03-02;squat;100;5\nTibo;2026-03-04;squat;105;5\n"


@pytest.mark.parametrize("line", ["Tibo = Thibault", "Noms : Tibo = Thibault Orval, le reste en entier"])
def test_a_nickname_that_a_line_explains_is_that_person(read, line):
    logs = read({"log.csv": NICK.format(line)})
    assert {one.athlete for one in logs.sets} == {"Thibault Orval"}
    assert [choice.how for choice in logs.choices if choice.written == "Tibo"] == ["legend"]


def test_a_nickname_that_no_line_explains_stays_apart(read):
    assert {one.athlete for one in read({"log.csv": NICK.format("Thibault squats")}).sets} == {"Thibault Orval", "Tibo"}
