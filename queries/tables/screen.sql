-- name: screen
-- label: one mobility or strength test result
-- one row: athlete x date x test x side
-- key: none
create table if not exists screen (
    athlete_id integer not null,
    date date not null,
    test varchar not null,
    side varchar not null,
    value double not null,
    unit varchar not null,
    file_id integer not null,
    sheet varchar not null,
    source_row integer not null,
    source_column varchar not null
)
