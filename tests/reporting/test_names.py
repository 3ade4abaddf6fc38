"""People in full, by initials or by code, and the names of their files."""

import pandas as pd

from preflare.reporting.disguise import Disguise
from preflare.reporting.names import file_names, shown_names


def test_file_names_are_plain_and_no_two_alike():
    names = ["Žofia Ångström", "zofia angstrom", "李雷", "🏋", "../../etc/passwd", "CON", "a" * 300, "a" * 300 + "b"]
    files = file_names(names)
    assert len(set(files.values())) == len(names)
    for file in files.values():
        assert file.isascii()
        assert file.replace("-", "").isalnum()
        assert len(file) < 80
        assert file not in {"con", "prn", "aux", "nul"}  # reserved by Windows


def test_initials_that_two_share_are_numbered():
    assert shown_names(["Elin Strand", "Eva Storm", "Hugo Pell"], "initials") == {
        "Elin Strand": "E.S.1", "Eva Storm": "E.S.2", "Hugo Pell": "H.P."}  # fmt: skip


def test_a_code_stands_for_a_name_wherever_it_stands():
    disguise = Disguise({"Elin Strand": "L01"}, {"Elin Strand": ["Elin", "E. Strand", "elin_strand"]})
    assert disguise.text("One lifter, Elin Strand: without that lifter") == "One lifter, L01: without that lifter"
    assert disguise.text("logs/elin_strand.csv") == "logs/L01.csv"
    assert disguise.text("Elin-Strand 2026.xlsx") == "L01 2026.xlsx"
    assert disguise.text("Elinor was not there") == "Elinor was not there"
    assert disguise.data({"athletes": [{"name": "Elin Strand"}]}) == {"athletes": [{"name": "L01"}]}
    frame = pd.DataFrame({"athlete": ["Elin Strand", None], "sessions": [3, 4]})
    shown = disguise.frame(frame)["athlete"]
    assert shown[0] == "L01"
    assert pd.isna(shown[1])
