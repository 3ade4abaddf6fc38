-- name: change
-- label: a recorded change in training and why it was made
-- one row: change x athlete concerned
-- key: none
-- note: athlete null: the whole squad. A name that no log holds keeps athlete_id null and the name in athlete_written.
create table if not exists change (
    date date not null,
    what varchar not null,
    why varchar,
    is_for_all boolean not null,
    athlete_id integer,
    athlete_written varchar
)
