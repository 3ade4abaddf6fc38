-- name: screen_result
-- label: mobility and strength tests
-- one row: result
-- key: none
-- known: on the day
-- column athlete [name]: display name
-- column value [as unit says]: the result
-- column unit [word]: its unit
-- zero: a result of 0
-- missing: never
-- not applicable: athletes without a test have no row
-- source: the import
-- checks: none
select
    athlete.display_name as athlete,
    screen.date,
    screen.test,
    screen.side,
    screen.value,
    screen.unit
from screen
inner join athlete on screen.athlete_id = athlete.athlete_id
order by athlete, screen.date, screen.test, screen.side
