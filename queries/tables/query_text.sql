-- name: query_text
-- label: the queries with which this store was made
-- one row: query
-- key: name
-- note: is_exploratory: from the user's own folder, not from the program.
create table if not exists query_text (
    name varchar not null,
    room varchar not null,
    is_exploratory boolean not null,
    text varchar not null
)
