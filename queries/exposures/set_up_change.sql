-- name: set_up_change
-- label: changes of bar, grip and position
-- one row: squat session
-- key: session_id
-- known: at the start of the session
-- column bar_changed [0 or 1]: another bar than at the last squat session
-- column grip_width_changed [0 or 1]: another grip width
-- column grip_style_changed [0 or 1]: another grip style
-- column bar_position_changed [0 or 1]: another bar position
-- zero: the same as last time
-- missing: not written this time or last time, or no earlier squat session
-- not applicable: sessions without a back squat
-- source: the squad's question; no published source
-- checks: bar_changed in (0, 1); grip_width_changed in (0, 1); bar_position_changed in (0, 1)
select
    session_id,
    (bar != lag(bar) over squats)::double as bar_changed,
    (grip_width != lag(grip_width) over squats)::double as grip_width_changed,
    (grip_style != lag(grip_style) over squats)::double as grip_style_changed,
    (bar_position != lag(bar_position) over squats)::double as bar_position_changed
from squat_session
window squats as (partition by athlete_id order by date, ordinal)
