-- name: file_read
-- label: every file and whether it could be read
-- one row: file
-- key: file
-- known: after the import
-- column file [path]: below the folder that was given
-- column format [word]: csv, tsv, xlsx, xls, ods
-- column encoding [word]: of a text file
-- column refused [words]: why nothing of it could be read
-- column sha256 [hex]: of its bytes
-- zero: never
-- missing: encoding of a workbook; refused when it was read
-- not applicable: never
-- source: the import
-- checks: none
select path as file, format, encoding, refused, sha256
from source_file
order by path
