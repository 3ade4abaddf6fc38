-- name: squat_work_before
-- label: squat work of the 7 and 28 days before
-- one row: squat session
-- key: session_id
-- known: before the session's day
-- column reps_7d [reps]: repetitions of working back squats on days d-7 to d-1
-- column volume_load_7d [kg]: load x reps of the same sets
-- column squat_days_7d [days]: days with a back squat among them
-- column sets_28d [sets]: working back-squat sets on days d-28 to d-1
-- column reps_28d [reps]: their repetitions
-- column volume_load_28d [kg]: their load x reps
-- column squat_days_28d [days]: days with a back squat among them
-- column days_since_squat [days]: since the last earlier day with a back squat
-- zero: the days are logged and hold no back squat
-- missing: one of the days is unlogged; days_since_squat before the second squat day
-- not applicable: sessions without a back squat
-- source: 7 and 28 days: the squad's week and block; common practice, no published source
-- checks: sets_28d >= 0; squat_days_7d between 0 and 7; squat_days_28d between 0 and 28; days_since_squat >= 1
with logged as (
    select
        athlete_id,
        date,
        max(coalesce(unlogged_before, 1000)) over (
            partition by athlete_id order by date range between interval 6 days preceding and current row
        ) <= 10 as is_week_logged,
        max(coalesce(unlogged_before, 1000)) over (
            partition by athlete_id order by date range between interval 27 days preceding and current row
        ) <= 10 as is_month_logged
    from entry_day
),

days as (
    select
        athlete_id,
        date,
        sum(session_sets) as sets,
        sum(coalesce(session_reps, 0)) as reps,
        sum(coalesce(volume_load_kg, 0)) as volume_load
    from squat_session
    group by athlete_id, date
),

summed as (
    select
        athlete_id,
        date,
        coalesce(sum(reps) over week_before, 0) as reps_7d,
        coalesce(sum(volume_load) over week_before, 0) as volume_load_7d,
        count(*) over week_before as squat_days_7d,
        coalesce(sum(sets) over month_before, 0) as sets_28d,
        coalesce(sum(reps) over month_before, 0) as reps_28d,
        coalesce(sum(volume_load) over month_before, 0) as volume_load_28d,
        count(*) over month_before as squat_days_28d,
        date - lag(date) over (partition by athlete_id order by date) as days_since_squat
    from days
    window
        week_before as (
            partition by athlete_id order by date
            range between interval 7 days preceding and interval 1 day preceding
        ),
        month_before as (
            partition by athlete_id order by date
            range between interval 28 days preceding and interval 1 day preceding
        )
)

select
    squat_session.session_id,
    (case when logged.is_week_logged then summed.reps_7d end)::double as reps_7d,
    (case when logged.is_week_logged then summed.volume_load_7d end)::double as volume_load_7d,
    (case when logged.is_week_logged then summed.squat_days_7d end)::double as squat_days_7d,
    (case when logged.is_month_logged then summed.sets_28d end)::double as sets_28d,
    (case when logged.is_month_logged then summed.reps_28d end)::double as reps_28d,
    (case when logged.is_month_logged then summed.volume_load_28d end)::double as volume_load_28d,
    (case when logged.is_month_logged then summed.squat_days_28d end)::double as squat_days_28d,
    summed.days_since_squat::double as days_since_squat
from squat_session
inner join summed on squat_session.athlete_id = summed.athlete_id and squat_session.date = summed.date
inner join logged on squat_session.athlete_id = logged.athlete_id and squat_session.date = logged.date
