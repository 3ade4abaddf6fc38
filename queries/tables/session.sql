-- name: session
-- label: one training session
-- one row: athlete x date x ordinal
-- key: session_id
-- note: made from the sets and session notes of all files; ids are kept when files are imported again.
create table if not exists session (
    session_id integer not null,
    athlete_id integer not null,
    date date not null,
    ordinal integer not null,
    session_rpe double,
    duration_min double,
    started_at timestamp,
    note varchar
)
