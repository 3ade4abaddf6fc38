-- name: import_change
-- label: what a corrected file changed
-- one row: set or report that appeared, disappeared or changed
-- key: none
create table if not exists import_change (
    run_id integer not null,
    path varchar not null,
    sheet varchar not null,
    source_row integer not null,
    athlete varchar not null,
    date date not null,
    what varchar not null,
    was varchar,
    is_now varchar
)
