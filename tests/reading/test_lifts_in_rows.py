"""A lift in the name of a sheet or file never stands for rows that name their own lifts. Invented people all."""

import pytest

ROWS = (("squat", 100), ("bench press", 60), ("deadlift", 140))


@pytest.mark.parametrize("heading", ["Training", "Type", "Part", "Comments", "x", "What"])
@pytest.mark.parametrize("file", ["squat log Ada Berg.csv", "Kniebeugen Ada Berg.csv"])
def test_no_lift_is_stored_as_that_of_the_files_name(read, heading, file):
    log = f"Name;Date;{heading};kg;Reps\n" + "".join(
        f"Ada Berg;2026-03-0{day};{lift};{load};5\n" for day in (2, 4, 6) for lift, load in ROWS
    )
    for one in read({file: log}).sets:
        lift, _ = next(row for row in ROWS if row[1] == one.load_kg)
        assert one.exercise in {lift.replace("squat", "back squat"), "unknown"}


def test_rows_that_name_none_take_it_from_the_files_name(read):
    log = "Name;Date;kg;Reps\nAda Berg;2026-03-02;100;5\nAda Berg;2026-03-04;105;5\n"
    assert {one.exercise for one in read({"squat log.csv": log}).sets} == {"back squat"}
