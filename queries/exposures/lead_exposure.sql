-- name: lead_exposure
-- label: how the athlete squatted in the week after
-- one row: squat session
-- key: session_id
-- known: only afterwards; for the lead check alone, never an exposure
-- column lead_intensity [% of 1RM]: mean intensity of the squat sessions of days d+1 to d+7
-- column lead_safety [share]: share of those sessions with the safety bar
-- column lead_cambered [share]: the same for the cambered bar
-- column lead_narrow [share]: the same for a narrow grip
-- column lead_wide [share]: the same for a wide grip
-- column lead_high [share]: the same for a high bar position
-- column lead_sets [sets]: working back-squat sets of days d+1 to d+7
-- zero: lead_sets: 7 logged days without a back squat
-- missing: no squat session in the 7 days, or not written; lead_sets when one of the days is unlogged
-- not applicable: sessions without a back squat
-- source: what comes after cannot cause what came before: a negative-control exposure (analysis plan section 6)
-- checks: lead_intensity > 0; lead_safety between 0 and 1; lead_sets >= 0
with window_logged as (
    select
        athlete_id,
        date,
        max(coalesce(unlogged_after, 1000)) over (
            partition by athlete_id order by date range between current row and interval 6 days following
        ) <= 10 as is_logged
    from entry_day
),

ahead as (
    select
        session_id,
        athlete_id,
        date,
        avg(intensity) over week_after as lead_intensity,
        avg((bar = 'safety')::integer) over week_after as lead_safety,
        avg((bar = 'cambered')::integer) over week_after as lead_cambered,
        avg((grip_width = 'narrow')::integer) over week_after as lead_narrow,
        avg((grip_width = 'wide')::integer) over week_after as lead_wide,
        avg((bar_position = 'high')::integer) over week_after as lead_high,
        coalesce(sum(session_sets) over week_after, 0)::double as sets
    from squat_session
    window week_after as (
        partition by athlete_id order by date
        range between interval 1 day following and interval 7 days following
    )
)

select
    ahead.session_id,
    ahead.lead_intensity,
    ahead.lead_safety,
    ahead.lead_cambered,
    ahead.lead_narrow,
    ahead.lead_wide,
    ahead.lead_high,
    case when window_logged.is_logged then ahead.sets end as lead_sets
from ahead
inner join window_logged
    on ahead.athlete_id = window_logged.athlete_id and ahead.date = window_logged.date
