"""A remark that corrects a load elsewhere is pointed to; the load is never changed in silence."""

import pytest

HEAD = "Date,Name,Exercise,Load,Reps,Notes\n"


@pytest.mark.parametrize(
    "remark",
    [
        "third set was 82.5 not 92.5",
        "92.5 is wrong and should be 82.5",
        "nicht 92.5 sondern 82.5",
        "82.5 au lieu de 92.5",
        "era 82.5 y no 92.5",
        "82.5 ikke 92.5",
    ],
)
def test_a_remark_that_corrects_a_load_points_to_the_set(read, remark):
    logs = read({"log.csv": f"{HEAD}2026-03-05,Ada Berg,Squat,80,5,\n2026-03-05,Ada Berg,Squat,92.5,5,{remark}\n"})
    assert [one.load_kg for one in logs.sets] == [80, 92.5]
    told = [one for one in logs.rejected if "may correct this load" in one.reason]
    assert [(one.place.row, one.value) for one in told] == [(3, "92.5")]


@pytest.mark.parametrize("remark", ["felt not so good", "next time 95 instead", "no pain", "bar was 20 kg"])
def test_another_remark_points_to_nothing(read, remark):
    logs = read({"log.csv": f"{HEAD}2026-03-05,Ada Berg,Squat,92.5,5,{remark}\n"})
    assert not [one for one in logs.rejected if "may correct this load" in one.reason]


@pytest.mark.parametrize(
    "remark",
    [
        "load is wrong, was 87.5",
        "Last stimmt nicht, waren 87.5",
        "erreur : 87.5",
        "error, eran 87.5",
        "errore, erano 87.5",
        "erro, eram 87.5",
        "fout, was 87.5",
        "poprawka: 87.5",
        "feil, var 87.5",
        "fejl, var 87.5",
        "rättat: det var 87.5",
    ],
)
def test_a_remark_beside_a_load_that_gives_another_points_to_it(read, remark):
    logs = read({"log.csv": f"{HEAD.replace(',', ';')}2026-03-05;Ada Berg;Squat;90;5;{remark}\n"})
    assert [one.load_kg for one in logs.sets] == [90.0]
    assert [one.value for one in logs.rejected] == ["90"]


@pytest.mark.parametrize("remark", ["not 100 % today", "2 reps were wrong", "no pain at 3", "wrong shoes"])
def test_other_numbers_beside_a_load_point_to_nothing(read, remark):
    logs = read({"log.csv": f"{HEAD}2026-03-05,Ada Berg,Squat,90,5,{remark}\n"})
    assert not logs.rejected
