-- name: set_aside
-- label: every row, or cell of a row, that was set aside
-- one row: row or cell
-- key: none
-- known: after the import
-- column file [path]: below the folder that was given
-- column row [number]: as the spreadsheet program shows it
-- column column [letters]: of a single cell
-- column value [text]: as it stood
-- column reason [words]: why
-- column remedy [words]: what can be done
-- column is_whole_row [yes/no]: no: the rest of the row was stored
-- zero: nothing set aside: no row
-- missing: never
-- not applicable: never
-- source: the import
-- checks: none
select
    source_file.path as file,
    rejected_row.sheet,
    rejected_row.source_row as row,
    rejected_row.source_column as "column",
    rejected_row.value,
    rejected_row.reason,
    rejected_row.remedy,
    rejected_row.is_whole_row
from rejected_row
inner join source_file on rejected_row.file_id = source_file.file_id
order by file, rejected_row.sheet, rejected_row.source_row, "column"
