-- name: session_entry
-- label: what one source row says of a whole session
-- one row: source row about a session
-- key: none
-- note: the table session takes the first written value of each column from here, in the order of the files.
create table if not exists session_entry (
    session_id integer not null,
    session_rpe double,
    duration_min double,
    started_at timestamp,
    note varchar,
    file_id integer not null,
    sheet varchar not null,
    source_row integer not null,
    source_column varchar not null
)
