-- name: curls_by_forearm_7d
-- label: curls of the week before, by forearm position
-- one row: squat session
-- key: session_id
-- known: before the session's day
-- column curl_supinated_7d [sets]: curls with the palm up on days d-7 to d-1, marked warm-ups left out
-- column curl_neutral_7d [sets]: with a neutral forearm
-- column curl_pronated_7d [sets]: with the palm down
-- zero: 7 logged days without such a curl
-- missing: one of the 7 days is unlogged, or the athlete logs no other lifts
-- not applicable: sessions without a back squat
-- source: which muscle each position loads: the evidence conflicts (Kleiber 2015, Boland 2008)
-- checks: curl_supinated_7d >= 0; curl_neutral_7d >= 0; curl_pronated_7d >= 0
with summed as (
    select
        athlete_id,
        date,
        coalesce(sum(curl_supinated_sets) over week_before, 0) as supinated,
        coalesce(sum(curl_neutral_sets) over week_before, 0) as neutral,
        coalesce(sum(curl_pronated_sets) over week_before, 0) as pronated
    from training_day
    window week_before as (
        partition by athlete_id order by date
        range between interval 7 days preceding and interval 1 day preceding
    )
)

select
    squat_session.session_id,
    (case when other_work_7d.elbow_flexion_7d is not null then summed.supinated end)::double as curl_supinated_7d,
    (case when other_work_7d.elbow_flexion_7d is not null then summed.neutral end)::double as curl_neutral_7d,
    (case when other_work_7d.elbow_flexion_7d is not null then summed.pronated end)::double as curl_pronated_7d
from squat_session
inner join other_work_7d on squat_session.session_id = other_work_7d.session_id
inner join summed on squat_session.athlete_id = summed.athlete_id and squat_session.date = summed.date
