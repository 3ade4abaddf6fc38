-- name: squat_session
-- label: one squat session and its heaviest back squat
-- one row: session with at least one back squat that is no marked warm-up
-- key: session_id
-- kept: table
-- known: the 1RM before the session; load, bar, grip, position and sets are the session's own
-- column top_load_kg [kg]: load of the heaviest back squat (more reps first, then the earlier set)
-- column one_rm_kg [kg]: estimated 1RM for that bar, see one_rm
-- column intensity [% of 1RM]: 100 x top_load_kg / one_rm_kg
-- column session_sets [sets]: working back-squat sets: none marked warm-up, none below 50 % of the estimated 1RM
-- column light_sets [sets]: sets left out because they are below 50 % of the estimated 1RM
-- column is_mixed_bar [yes/no]: more than one bar written among the sets
-- column is_mixed_grip [yes/no]: more than one grip width written among the sets
-- zero: session_sets is 0 when every set is below 50 %
-- missing: intensity without load or 1RM; bar, grip_width, bar_position when not written
-- not applicable: sessions without a back squat have no row
-- source: heaviest set and the 50 % line: the trade's practice, no published source
-- checks: intensity > 0; session_sets >= 0; light_sets >= 0; top_load_kg >= 0
with sets as (
    select
        back_squat_set.*,
        one_rm.one_rm_kg,
        one_rm.intensity_source,
        one_rm.effort_unmarked_share,
        coalesce(100 * back_squat_set.load_kg / one_rm.one_rm_kg < 50, false) as is_light
    from back_squat_set
    inner join one_rm
        on back_squat_set.session_id = one_rm.session_id and back_squat_set.bar_key = one_rm.bar_key
),

by_session as (
    select
        session_id,
        count(*) filter (where not is_light) as session_sets,
        count(*) filter (where is_light) as light_sets,
        sum(reps) filter (where not is_light) as session_reps,
        -- grams are exact and kg as floats are not: their sum would depend on the order in which threads add
        sum((load_kg * reps)::decimal(18, 3)) filter (where not is_light) as volume_load_kg,
        count(distinct bar) > 1 as is_mixed_bar,
        count(distinct grip_width) > 1 as is_mixed_grip,
        count(*) filter (where not is_light and 100 * load_kg / one_rm_kg >= 80) as sets_from_80,
        sum(reps) filter (where not is_light and 100 * load_kg / one_rm_kg >= 80) as reps_from_80,
        sum(reps) filter (where not is_light and 100 * load_kg / one_rm_kg >= 85) as reps_from_85,
        sum(reps) filter (where not is_light and 100 * load_kg / one_rm_kg >= 90) as reps_from_90
    from sets
    group by session_id
),

heaviest as (
    select *
    from sets
    qualify
        row_number() over (
            partition by session_id order by load_kg desc nulls last, reps desc nulls last, source_order asc
        ) = 1
)

select
    heaviest.session_id,
    heaviest.athlete_id,
    heaviest.date,
    heaviest.ordinal,
    heaviest.exercise,
    heaviest.bar,
    heaviest.bar_position,
    heaviest.grip_width,
    heaviest.grip_style,
    heaviest.load_kg as top_load_kg,
    heaviest.one_rm_kg,
    heaviest.intensity_source,
    heaviest.effort_unmarked_share,
    100 * heaviest.load_kg / heaviest.one_rm_kg as intensity,
    by_session.session_sets::double as session_sets,
    by_session.light_sets::double as light_sets,
    by_session.session_reps::double as session_reps,
    by_session.volume_load_kg::double as volume_load_kg,
    by_session.sets_from_80::double as sets_from_80,
    by_session.reps_from_80::double as reps_from_80,
    by_session.reps_from_85::double as reps_from_85,
    by_session.reps_from_90::double as reps_from_90,
    by_session.is_mixed_bar,
    by_session.is_mixed_grip
from heaviest
inner join by_session on heaviest.session_id = by_session.session_id
