-- name: heavy_reps
-- label: heavy repetitions of the session
-- one row: squat session
-- key: session_id
-- known: the 1RM before the session; the repetitions are the session's own
-- column heavy_reps_80 [reps]: repetitions of working back squats at 80 % of the estimated 1RM or more
-- column heavy_reps_85 [reps]: at 85 % or more
-- column heavy_reps_90 [reps]: at 90 % or more
-- zero: no set was so heavy
-- missing: no estimated 1RM for the heaviest set's bar
-- not applicable: sessions without a back squat
-- source: the bounds are trade practice attributed to Prilepin; bins for description only
-- checks: heavy_reps_80 >= heavy_reps_85; heavy_reps_85 >= heavy_reps_90; heavy_reps_90 >= 0
select
    session_id,
    (case when one_rm_kg is not null then coalesce(reps_from_80, 0) end)::double as heavy_reps_80,
    (case when one_rm_kg is not null then coalesce(reps_from_85, 0) end)::double as heavy_reps_85,
    (case when one_rm_kg is not null then coalesce(reps_from_90, 0) end)::double as heavy_reps_90
from squat_session
