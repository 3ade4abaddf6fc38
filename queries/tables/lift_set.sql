-- name: lift_set
-- label: one set of one exercise
-- one row: set
-- key: none
-- note: a set keeps its file, sheet and row. Null means not written; nothing is assumed that season.toml does not say.
create table if not exists lift_set (
    session_id integer not null,
    set_number integer not null,
    exercise varchar not null,
    exercise_written varchar not null,
    bar varchar,
    bar_written varchar,
    bar_position varchar,
    grip_width varchar,
    grip_style varchar,
    grip_written varchar,
    load_kg double,
    reps integer,
    rpe double,
    rir double,
    is_warm_up boolean not null,
    is_failed boolean not null,
    note varchar,
    file_id integer not null,
    sheet varchar not null,
    source_row integer not null,
    source_column varchar not null
)
