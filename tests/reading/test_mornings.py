"""What a session's row says of the next morning was given a day later, so that it follows that session and no other."""

from datetime import date


def days(logs):
    return [(one.athlete, one.date, one.moment, one.rating) for one in logs.pain]


def test_a_column_of_next_mornings_is_dated_a_day_later(read):
    text = "Date,Name,Exercise,Load,Reps,Elbow after,Elbow next morning\n2026-03-05,Ada Berg,Squat,100,5,2,4\n"
    assert days(read({"log.csv": text})) == [
        ("Ada Berg", date(2026, 3, 5), "after", 2),
        ("Ada Berg", date(2026, 3, 6), "next morning", 4),
    ]


def test_a_remark_on_the_next_morning_is_dated_a_day_later(read):
    text = "Date,Name,Exercise,Load,Reps,Notes\n2026-03-05,Ada Berg,Squat,100,5,left elbow 4/10 the next morning\n"
    assert days(read({"log.csv": text})) == [("Ada Berg", date(2026, 3, 6), "next morning", 4)]


def test_a_form_filled_in_the_next_morning_keeps_its_day(read):
    training = "Date,Name,Exercise,Load,Reps\n2026-03-05,Ada Berg,Squat,100,5\n2026-03-06,Ada Berg,Squat,100,5\n"
    form = "Date,Name,Elbow pain,When\n2026-03-06,Ada Berg,4,next morning\n"
    logs = read({"log.csv": training, "form.csv": form})
    assert days(logs) == [("Ada Berg", date(2026, 3, 6), "next morning", 4)]
