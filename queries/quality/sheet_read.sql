-- name: sheet_read
-- label: how every sheet was read, with its accounting
-- one row: file x sheet
-- key: file, sheet
-- known: after the import
-- column file [path]: below the folder that was given
-- column rows_read [rows]: rows of the sheet that are not blank
-- column rows_stored [rows]: rows of which something was stored
-- column rows_rejected [rows]: rows set aside, duplicates included
-- column rows_not_data [rows]: titles, headings, legends, totals
-- column rejected_listed [rows]: rejected rows that rejected_row lists
-- column cells_set_aside [cells]: single cells set aside of rows that were stored
-- column is_balanced [yes/no]: read = stored + rejected + not data, and every rejected row is listed
-- zero: none
-- missing: never
-- not applicable: refused files have no sheets
-- source: the accounting identity
-- checks: rows_read = rows_stored + rows_rejected + rows_not_data; rows_rejected = rejected_listed; is_balanced
with listed as (
    select
        file_id,
        sheet,
        count(distinct source_row) filter (where is_whole_row) as rejected_listed,
        count(*) filter (where not is_whole_row) as cells_set_aside
    from rejected_row
    group by file_id, sheet
)

select
    source_file.path as file,
    source_sheet.* exclude (file_id),
    coalesce(listed.rejected_listed, 0)::integer as rejected_listed,
    coalesce(listed.cells_set_aside, 0)::integer as cells_set_aside,
    source_sheet.rows_read = source_sheet.rows_stored + source_sheet.rows_rejected + source_sheet.rows_not_data
    and source_sheet.rows_rejected = coalesce(listed.rejected_listed, 0) as is_balanced
from source_sheet
inner join source_file on source_sheet.file_id = source_file.file_id
left join listed on source_sheet.file_id = listed.file_id and source_sheet.sheet = listed.sheet
order by source_file.path, source_sheet.sheet
