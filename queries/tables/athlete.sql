-- name: athlete
-- label: a person in the logs
-- one row: person
-- key: athlete_id
-- note: ids are kept when files are imported again; aliases are the ways in which the name was written.
create table if not exists athlete (
    athlete_id integer not null,
    display_name varchar not null,
    aliases varchar[] not null
)
