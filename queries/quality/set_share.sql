-- name: set_share
-- label: how many sets and estimates rest on something unwritten
-- one row: season
-- key: season
-- known: after the season
-- column squat_sets [sets]: working back-squat sets
-- column light_sets [sets]: unmarked sets left out because they are below 50 % of the estimated 1RM
-- column warm_up_sets [sets]: back-squat sets marked as warm-ups
-- column unmarked_effort_share [share]: mean share of sessions behind a 1RM whose best set has no effort mark
-- column mixed_bar_sessions [count]: squat sessions whose sets name more than one bar
-- column mixed_grip_sessions [count]: squat sessions whose sets name more than one grip width
-- column squat_sessions [count]: all squat sessions
-- zero: none
-- missing: unmarked_effort_share when no session has a 1RM
-- not applicable: days outside every season
-- source: shares that every report prints (analysis plan section 10)
-- checks: light_sets >= 0; unmarked_effort_share between 0 and 1; mixed_bar_sessions <= squat_sessions
with warm_ups as (
    select season.season, count(*) as n
    from lift_set
    inner join exercise on lift_set.exercise = exercise.exercise
    inner join session on lift_set.session_id = session.session_id
    inner join season on session.date between season.first_date and season.last_date
    where exercise.is_back_squat and lift_set.is_warm_up
    group by season.season
),

squats as (
    select
        season.season,
        sum(squat_session.session_sets) as squat_sets,
        sum(squat_session.light_sets) as light_sets,
        avg(squat_session.effort_unmarked_share) as unmarked_effort_share,
        count(*) filter (where squat_session.is_mixed_bar) as mixed_bar_sessions,
        count(*) filter (where squat_session.is_mixed_grip) as mixed_grip_sessions,
        count(*) as squat_sessions
    from squat_session
    inner join season on squat_session.date between season.first_date and season.last_date
    group by season.season
)

select
    season.season,
    coalesce(squats.squat_sets, 0)::integer as squat_sets,
    coalesce(squats.light_sets, 0)::integer as light_sets,
    coalesce(warm_ups.n, 0)::integer as warm_up_sets,
    squats.unmarked_effort_share::double as unmarked_effort_share,
    coalesce(squats.mixed_bar_sessions, 0)::integer as mixed_bar_sessions,
    coalesce(squats.mixed_grip_sessions, 0)::integer as mixed_grip_sessions,
    coalesce(squats.squat_sessions, 0)::integer as squat_sessions
from season
left join squats on season.season = squats.season
left join warm_ups on season.season = warm_ups.season
