-- name: daily_load
-- label: whole-session load, its monotony, strain and weighted averages (description only)
-- one row: athlete x day of a season
-- key: athlete_id, date
-- known: after the day
-- column load [RPE x min]: session RPE times minutes, summed over the day's sessions
-- column weekly_total [RPE x min]: of the 7 days up to this one
-- column monotony [ratio]: their mean over their standard deviation (n - 1)
-- column strain [RPE x min]: weekly total times monotony
-- column ewma_7 [RPE x min]: E = lambda x load + (1 - lambda) x E of the day before, lambda = 2 / (7 + 1)
-- column ewma_28 [RPE x min]: the same with 28; the first load seeds both, so the first weeks mean little
-- zero: a logged day of rest
-- missing: unlogged days; training days without RPE or minutes; the 7-day figures when one of the days is missing;
--     monotony of seven equal days
-- not applicable: days outside every season
-- source: Foster et al. 2001, JSCR 15(1):109-115 (monotony and strain as given there, from memory); Williams et al.
--     2017, BJSM 51(3):209-210; no ratio of the two averages is made, and none of these drives a finding
-- checks: load >= 0; weekly_total >= 0; monotony >= 0; ewma_7 >= 0
with written as (
    select
        athlete_id,
        date,
        case
            when count(session_rpe * duration_min) = count(*) then sum(session_rpe * duration_min)
        end as load
    from session
    group by athlete_id, date
),

days as (
    select
        athlete_day.athlete_id,
        athlete_day.athlete,
        athlete_day.season,
        athlete_day.date,
        case
            when not athlete_day.is_logged then null
            when written.date is null then 0
            else written.load
        end as load
    from athlete_day
    left join written on athlete_day.athlete_id = written.athlete_id and athlete_day.date = written.date
),

-- a run is a stretch of days without a missing load
runs as (
    select
        *,
        count(*) filter (where load is null) over (
            partition by athlete_id, season order by date rows between unbounded preceding and current row
        ) as run
    from days
),

numbered as (
    select
        *,
        row_number() over (partition by athlete_id, season, run, load is null order by date) as nth
    from runs
),

summed as (
    select
        *,
        count(load) over week as days_with_load,
        sum(load) over week as week_sum,
        avg(load) over week as week_mean,
        stddev_samp(load) over week as week_sd,
        sum(load * (case when nth = 1 then 1 else 0.25::double end) * pow(0.75::double, -nth)) over so_far as sum_7,
        sum(
            load * (case when nth = 1 then 1 else 2::double / 29 end) * pow(27::double / 29, -nth)
        ) over so_far as sum_28
    from numbered
    window
        week as (partition by athlete_id order by date range between interval 6 days preceding and current row),
        so_far as (
            partition by athlete_id, season, run, load is null order by date
            rows between unbounded preceding and current row
        )
)

select
    athlete_id,
    athlete,
    season,
    date,
    load::double as load,
    (case when days_with_load = 7 then week_sum end)::double as weekly_total,
    (case when days_with_load = 7 then week_mean / nullif(week_sd, 0) end)::double as monotony,
    (case when days_with_load = 7 then week_sum * week_mean / nullif(week_sd, 0) end)::double as strain,
    (case when load is not null then sum_7 * pow(0.75::double, nth) end)::double as ewma_7,
    (case when load is not null then sum_28 * pow(27::double / 29, nth) end)::double as ewma_28
from summed
order by athlete, date
