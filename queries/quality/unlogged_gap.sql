-- name: unlogged_gap
-- label: gaps of more than 10 days without an entry
-- one row: athlete x gap inside a season
-- key: athlete, first_day
-- known: after the gap
-- column athlete [name]: display name
-- column first_day [date]: the first day without an entry
-- column last_day [date]: the last
-- column days [days]: its length
-- zero: no such gap: no row
-- missing: never
-- not applicable: before an athlete's first and after the last entry
-- source: see entry_day
-- checks: days > 10
select
    athlete.display_name as athlete,
    entry_day.date + 1 as first_day,
    entry_day.date + entry_day.unlogged_after as last_day,
    entry_day.unlogged_after as days
from entry_day
inner join athlete on entry_day.athlete_id = athlete.athlete_id
inner join season
    on
        entry_day.date between season.first_date and season.last_date
        and entry_day.date + entry_day.unlogged_after < season.last_date
where entry_day.unlogged_after > 10
order by athlete, first_day
