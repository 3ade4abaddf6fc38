-- name: past_exposure
-- label: how the athlete squatted lately
-- one row: squat session
-- key: session_id
-- known: before the session
-- column past_intensity [% of 1RM]: exponentially weighted mean (half-life 7 days) of the earlier sessions' intensity
-- column past_safety [share]: the same for "the bar was the safety bar"
-- column past_cambered [share]: the same for the cambered bar
-- column past_other [share]: the same for another bar
-- column past_narrow [share]: the same for a narrow grip
-- column past_wide [share]: the same for a wide grip
-- column past_high [share]: the same for a high bar position
-- zero: no earlier session was so
-- missing: no earlier session, or none in which it was written
-- not applicable: sessions without a back squat
-- source: earlier exposure carries over through irritability (analysis plan, measured in simulation)
-- checks: past_intensity > 0; past_safety between 0 and 1; past_narrow between 0 and 1; past_high between 0 and 1
with indicators as (
    select
        session_id,
        athlete_id,
        date,
        ordinal,
        intensity,
        (bar = 'safety')::integer as is_safety,
        (bar = 'cambered')::integer as is_cambered,
        (bar = 'other')::integer as is_other,
        (grip_width = 'narrow')::integer as is_narrow,
        (grip_width = 'wide')::integer as is_wide,
        (bar_position = 'high')::integer as is_high,
        pow(2, (date - min(date) over (partition by athlete_id)) / 7) as weight
    from squat_session
),

summed as (
    select
        session_id,
        sum(weight * intensity) over earlier as intensity_sum,
        sum(weight) filter (where intensity is not null) over earlier as intensity_weight,
        sum(weight * is_safety) over earlier as safety_sum,
        sum(weight * is_cambered) over earlier as cambered_sum,
        sum(weight * is_other) over earlier as other_sum,
        sum(weight) filter (where is_safety is not null) over earlier as bar_weight,
        sum(weight * is_narrow) over earlier as narrow_sum,
        sum(weight * is_wide) over earlier as wide_sum,
        sum(weight) filter (where is_narrow is not null) over earlier as grip_weight,
        sum(weight * is_high) over earlier as high_sum,
        sum(weight) filter (where is_high is not null) over earlier as position_weight
    from indicators
    window earlier as (
        partition by athlete_id order by date, ordinal rows between unbounded preceding and 1 preceding
    )
)

select
    session_id,
    intensity_sum / intensity_weight as past_intensity,
    safety_sum / bar_weight as past_safety,
    cambered_sum / bar_weight as past_cambered,
    other_sum / bar_weight as past_other,
    narrow_sum / grip_weight as past_narrow,
    wide_sum / grip_weight as past_wide,
    high_sum / position_weight as past_high
from summed
