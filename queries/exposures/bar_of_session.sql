-- name: bar_of_session
-- label: the best estimated 1RM of a session, by bar
-- one row: squat session x bar
-- key: session_id, bar_key
-- known: after the session
-- column best_kg [kg]: the highest estimate among the session's sets with this bar
-- column is_effort_unmarked [yes/no]: the best set has no effort mark
-- zero: never
-- missing: no set of the session allows an estimate
-- not applicable: sessions without a back squat
-- source: analysis of the session's sets, see back_squat_set
-- checks: best_kg > 0
select
    session_id,
    athlete_id,
    date,
    bar_key,
    max(estimate_kg) as best_kg,
    arg_max(is_effort_unmarked, estimate_kg) as is_effort_unmarked
from back_squat_set
group by session_id, athlete_id, date, bar_key
