-- name: exercise
-- label: the canonical exercises
-- one row: exercise
-- key: exercise
-- note: is_back_squat is true for squats with the bar on the back, box and pause squats included.
create table if not exists exercise (
    exercise varchar not null,
    family varchar not null,
    is_back_squat boolean not null,
    forearm_position varchar,
    shoulder_position varchar
)
