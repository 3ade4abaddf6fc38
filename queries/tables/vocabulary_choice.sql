-- name: vocabulary_choice
-- label: what a word was taken to mean
-- one row: file x sheet x kind x word
-- key: none
-- note: understood null: not known; nearest is then the nearest known word.
create table if not exists vocabulary_choice (
    file_id integer not null,
    sheet varchar not null,
    kind varchar not null,
    written varchar not null,
    understood varchar,
    how varchar not null,
    nearest varchar,
    n_rows integer not null
)
