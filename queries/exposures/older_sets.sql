-- name: older_sets
-- label: squat sets before the last week
-- one row: squat session
-- key: session_id
-- known: before the 7 days that sets_7d counts
-- column older_sets [sets a session]: exponentially weighted mean (half-life 7 days) of the working sets of the squat
--     sessions up to day d-8
-- zero: those sessions had no working set
-- missing: no squat session up to day d-8
-- not applicable: sessions without a back squat
-- source: the recent past of the same exposure adjusts weekly sets (analysis plan, measured in simulation)
-- checks: older_sets >= 0
with weighted as (
    select
        *,
        pow(2, (date - min(date) over (partition by athlete_id)) / 7) as weight
    from squat_session
)

select
    session_id,
    (
        sum(weight * session_sets) over up_to_the_window / sum(weight) over up_to_the_window
    )::double as older_sets
from weighted
window up_to_the_window as (
    partition by athlete_id order by date range between unbounded preceding and interval 8 days preceding
)
