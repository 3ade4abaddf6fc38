-- name: squad_bar_ratio
-- label: the squad's own ratio of a bar's 1RM to the straight bar's
-- one row: bar x ISO week in which somebody lifts it
-- key: bar_key, week_start
-- known: before the week begins; only earlier weeks count
-- column week_start [date]: Monday
-- column ratio [kg per kg]: median over all sessions of earlier weeks, of anybody who has both bars
-- column athletes [count]: lifters behind it
-- zero: never
-- missing: ratio when nobody had both bars before
-- not applicable: the straight bar, and bars that are not written
-- source: analysis plan section 10: the squad's own ratio goes before a published one
-- checks: ratio > 0; athletes >= 0
with pairs as (
    select bar_key, athlete_id, date_trunc('week', date)::date as week_start, ratio
    from own_one_rm
    where ratio is not null
),

weeks as (
    select distinct bar_key, date_trunc('week', date)::date as week_start
    from own_one_rm
    where bar_key not in ('straight', 'unwritten')
)

select
    weeks.bar_key,
    weeks.week_start,
    median(pairs.ratio) as ratio,
    count(distinct pairs.athlete_id)::integer as athletes
from weeks
left join pairs on weeks.bar_key = pairs.bar_key and weeks.week_start > pairs.week_start
group by weeks.bar_key, weeks.week_start
