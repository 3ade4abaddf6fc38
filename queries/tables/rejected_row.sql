-- name: rejected_row
-- label: a row, or a cell of a stored row, that was set aside
-- one row: row or cell
-- key: none
-- note: is_whole_row false: the rest of the row was stored. value is the text as it stood.
create table if not exists rejected_row (
    file_id integer not null,
    sheet varchar not null,
    source_row integer not null,
    source_column varchar not null,
    value varchar not null,
    reason varchar not null,
    remedy varchar not null,
    is_whole_row boolean not null
)
