-- name: competition
-- label: a competition and who is entered
-- one row: competition x athlete entered
-- key: none
-- note: athlete null: everybody (season.toml left athletes out). A name that no log holds keeps athlete_id null and
--     the name in athlete_written.
create table if not exists competition (
    date date not null,
    name varchar not null,
    priority integer,
    is_for_all boolean not null,
    athlete_id integer,
    athlete_written varchar
)
