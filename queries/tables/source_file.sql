-- name: source_file
-- label: a file that was imported
-- one row: file, by its path below the folder that was given
-- key: file_id
-- note: refused says why nothing of it could be read, else null.
create table if not exists source_file (
    file_id integer not null,
    path varchar not null,
    sha256 varchar not null,
    format varchar not null,
    encoding varchar,
    refused varchar
)
