-- name: back_squat_set
-- label: sets of squats with the bar on the back
-- one row: set of a back squat (box and pause squats included), marked warm-ups left out
-- key: session_id, source_order
-- known: after the set
-- column estimate_kg [kg]: estimated 1RM, Brzycki: 36 x load / (37 - possible reps)
-- column possible_reps [reps]: reps done plus reps in reserve (10 - RPE where only RPE is written; 0 when unmarked)
-- column is_effort_unmarked [yes/no]: neither RPE nor RIR is written, so the estimate is a lower bound
-- column bar_key [word]: the bar, or "unwritten"
-- zero: a load of 0 gives no estimate
-- missing: no estimate for failed sets, without load or reps, or above 10 possible reps
-- not applicable: other exercises, marked warm-ups
-- source: Brzycki 1993, JOPERD 64(1):88-90; reps in reserve = 10 - RPE, Zourdos et al. 2016, JSCR 30(1):267-275
-- checks: estimate_kg > 0; possible_reps > 0; estimate_kg >= load_kg
with back_squats as (
    select
        session.session_id,
        session.athlete_id,
        session.date,
        session.ordinal,
        lift_set.exercise,
        lift_set.bar,
        coalesce(lift_set.bar, 'unwritten') as bar_key,
        lift_set.bar_position,
        lift_set.grip_width,
        lift_set.grip_style,
        lift_set.load_kg,
        lift_set.reps,
        lift_set.is_failed,
        coalesce(lift_set.rir, 10 - lift_set.rpe) as reps_in_reserve,
        row_number() over (
            partition by session.session_id
            order by lift_set.file_id, lift_set.sheet, lift_set.source_row, lift_set.set_number, lift_set.source_column
        )::integer as source_order
    from lift_set
    inner join session on lift_set.session_id = session.session_id
    inner join exercise on lift_set.exercise = exercise.exercise
    where exercise.is_back_squat and not lift_set.is_warm_up
),

with_effort as (
    select
        *,
        reps_in_reserve is null as is_effort_unmarked,
        (case when reps >= 1 then reps + coalesce(reps_in_reserve, 0) end)::double as possible_reps
    from back_squats
)

select
    *,
    (case
        when not is_failed and load_kg > 0 and possible_reps <= 10 then 36 * load_kg / (37 - possible_reps)
    end)::double as estimate_kg
from with_effort
