-- name: import_run
-- label: one run of an import
-- one row: run
-- key: run_id
-- note: the only table that a repeated import changes.
create table if not exists import_run (
    run_id integer not null,
    ran_at timestamp not null,
    program_version varchar not null,
    definitions_hash varchar not null,
    settings_text varchar not null,
    files_new integer not null,
    files_replaced integer not null,
    files_unchanged integer not null,
    rows_read integer not null,
    rows_stored integer not null,
    rows_rejected integer not null,
    rows_not_data integer not null
)
