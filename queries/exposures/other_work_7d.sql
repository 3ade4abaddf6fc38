-- name: other_work_7d
-- label: pressing, pulling and curling in the week before
-- one row: squat session
-- key: session_id
-- known: before the session's day
-- column pressing_7d [sets]: sets of presses on days d-7 to d-1, marked warm-ups left out
-- column pulling_7d [sets]: the same for rows, pull-ups and pulldowns
-- column elbow_flexion_7d [sets]: the same for curls
-- column logs_other_lifts [yes/no]: the athlete logs presses, pulls or curls at all, in the whole store
-- zero: 7 logged days without such a set
-- missing: one of the 7 days is unlogged, or the athlete logs no other lifts
-- not applicable: sessions without a back squat
-- source: the other lifts in which arm pain is felt are confounders to record (practitioner sources only)
-- checks: pressing_7d >= 0; pulling_7d >= 0; elbow_flexion_7d >= 0
with window_logged as (
    select
        athlete_id,
        date,
        max(coalesce(unlogged_before, 1000)) over (
            partition by athlete_id order by date range between interval 6 days preceding and current row
        ) <= 10 as is_logged
    from entry_day
),

days as (
    select athlete_id, date, pressing_sets, pulling_sets, elbow_flexion_sets from training_day
),

who_logs as (
    select athlete_id, sum(pressing_sets + pulling_sets + elbow_flexion_sets) > 0 as logs_other_lifts
    from days
    group by athlete_id
),

summed as (
    select
        athlete_id,
        date,
        sum(pressing_sets) over week_before as pressing,
        sum(pulling_sets) over week_before as pulling,
        sum(elbow_flexion_sets) over week_before as elbow_flexion
    from days
    window week_before as (
        partition by athlete_id order by date
        range between interval 7 days preceding and interval 1 day preceding
    )
)

select
    squat_session.session_id,
    (case when is_logged and logs_other_lifts then coalesce(summed.pressing, 0) end)::double as pressing_7d,
    (case when is_logged and logs_other_lifts then coalesce(summed.pulling, 0) end)::double as pulling_7d,
    (case when is_logged and logs_other_lifts then coalesce(summed.elbow_flexion, 0) end)::double as elbow_flexion_7d,
    who_logs.logs_other_lifts
from squat_session
inner join summed on squat_session.athlete_id = summed.athlete_id and squat_session.date = summed.date
inner join who_logs on squat_session.athlete_id = who_logs.athlete_id
inner join window_logged
    on squat_session.athlete_id = window_logged.athlete_id and squat_session.date = window_logged.date
