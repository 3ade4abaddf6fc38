-- name: sets_7d
-- label: weekly squat sets
-- one row: squat session
-- key: session_id
-- known: before the session's day
-- column sets_7d [sets]: working back-squat sets on the 7 days before the session's day (days d-7 to d-1)
-- zero: 7 logged days without a back squat
-- missing: one of the 7 days is unlogged (before the first entry, or in a gap of more than 10 days without one)
-- not applicable: sessions without a back squat
-- source: 7 days: the squad's week; common practice, no published source
-- checks: sets_7d >= 0
with window_logged as (
    select
        athlete_id,
        date,
        max(coalesce(unlogged_before, 1000)) over (
            partition by athlete_id order by date range between interval 6 days preceding and current row
        ) <= 10 as is_logged
    from entry_day
),

summed as (
    select
        session_id,
        athlete_id,
        date,
        coalesce(sum(session_sets) over (
            partition by athlete_id order by date
            range between interval 7 days preceding and interval 1 day preceding
        ), 0)::double as sets
    from squat_session
)

select summed.session_id, case when window_logged.is_logged then summed.sets end as sets_7d
from summed
inner join window_logged
    on summed.athlete_id = window_logged.athlete_id and summed.date = window_logged.date
