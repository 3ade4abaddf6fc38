-- name: person
-- label: who is who
-- one row: athlete
-- key: name
-- known: after the import
-- column name [name]: display name
-- column written [list of names]: the ways in which the logs write it
-- zero: never
-- missing: never
-- not applicable: never
-- source: the import
-- checks: none
select display_name as name, aliases as written
from athlete
order by display_name
