-- name: file_accounting
-- label: rows read, stored, rejected and not data, file by file
-- one row: file
-- key: file
-- known: after the import
-- column file [path]: below the folder that was given
-- column refused [words]: why nothing of it could be read
-- column rows_read [rows]: over its sheets; 0 when refused
-- column rows_stored [rows]: rows of which something was stored
-- column rows_rejected [rows]: rows set aside, duplicates included
-- column rows_not_data [rows]: titles, headings, legends, totals
-- column cells_set_aside [cells]: single cells of stored rows
-- zero: a refused or empty file
-- missing: refused when it was read
-- not applicable: never
-- source: the accounting identity
-- checks: rows_read = rows_stored + rows_rejected + rows_not_data
select
    file_read.file,
    file_read.refused,
    coalesce(sum(sheet_read.rows_read), 0)::integer as rows_read,
    coalesce(sum(sheet_read.rows_stored), 0)::integer as rows_stored,
    coalesce(sum(sheet_read.rows_rejected), 0)::integer as rows_rejected,
    coalesce(sum(sheet_read.rows_not_data), 0)::integer as rows_not_data,
    coalesce(sum(sheet_read.cells_set_aside), 0)::integer as cells_set_aside
from file_read
left join sheet_read on file_read.file = sheet_read.file
group by file_read.file, file_read.refused
order by file_read.file
