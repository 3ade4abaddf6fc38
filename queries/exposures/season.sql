-- name: season
-- label: the seasons in the store
-- one row: season
-- key: season
-- known: from the calendar of the whole squad
-- column first_date [date]: the season's first day with an entry of anybody
-- column last_date [date]: its last day with an entry
-- zero: the first season is number 0
-- missing: never
-- not applicable: days outside [season] from and to belong to no season
-- source: more than 90 days without an entry of anybody part two seasons; common practice, no published source
-- checks: first_date <= last_date
with squad_days as (
    select distinct entry_day.date
    from entry_day
    cross join setting
    where
        entry_day.date >= coalesce(setting.season_from, entry_day.date)
        and entry_day.date <= coalesce(setting.season_to, entry_day.date)
),

days_since as (
    select date, date - lag(date) over (order by date) - 1 as unlogged_before from squad_days
),

numbered as (
    select date, count(*) filter (where unlogged_before > 90) over (order by date) as season from days_since
)

select season::integer as season, min(date) as first_date, max(date) as last_date
from numbered
group by season
