-- name: source_sheet
-- label: how one sheet was read
-- one row: file x sheet
-- key: file_id, sheet
-- note: columns maps each heading as written to what it was taken for; recorded once a sheet.
create table if not exists source_sheet (
    file_id integer not null,
    sheet varchar not null,
    layout varchar not null,
    columns map (varchar, varchar) not null,
    date_order varchar not null,
    unit varchar not null,
    language varchar not null,
    is_hidden boolean not null,
    rows_read integer not null,
    rows_stored integer not null,
    rows_rejected integer not null,
    rows_not_data integer not null,
    assumptions varchar[] not null
)
