-- name: training_day
-- label: the day's sets by lift family
-- one row: athlete x day with a session
-- key: athlete_id, date
-- kept: table
-- known: after the day
-- column squat_sets [sets]: working back-squat sets, see squat_session
-- column pressing_sets [sets]: sets of presses, marked warm-ups left out
-- column pulling_sets [sets]: the same for rows, pull-ups and pulldowns
-- column elbow_flexion_sets [sets]: the same for curls
-- column curl_supinated_sets [sets]: curls with the palm up
-- column curl_neutral_sets [sets]: curls with a neutral forearm
-- column curl_pronated_sets [sets]: curls with the palm down
-- column other_squat_sets [sets]: squats without the bar on the back
-- column hinge_sets [sets]: deadlifts and the like
-- column duration_min [min]: training time, where written for every session of the day
-- zero: trained, but no such set
-- missing: duration_min when a session's is not written
-- not applicable: days without a session have no row
-- source: lift families of the exercise vocabulary
-- checks: squat_sets >= 0; pressing_sets >= 0; pulling_sets >= 0; elbow_flexion_sets >= 0
with by_session as (
    select
        lift_set.session_id,
        count(*) filter (where exercise.family = 'press') as pressing_sets,
        count(*) filter (where exercise.family = 'pull') as pulling_sets,
        count(*) filter (where exercise.family = 'elbow flexion') as elbow_flexion_sets,
        count(*) filter (where exercise.forearm_position = 'supinated') as curl_supinated_sets,
        count(*) filter (where exercise.forearm_position = 'neutral') as curl_neutral_sets,
        count(*) filter (where exercise.forearm_position = 'pronated') as curl_pronated_sets,
        count(*) filter (where exercise.family = 'squat' and not exercise.is_back_squat) as other_squat_sets,
        count(*) filter (where exercise.family = 'hinge') as hinge_sets
    from lift_set
    inner join exercise on lift_set.exercise = exercise.exercise
    where not lift_set.is_warm_up
    group by lift_set.session_id
)

select
    session.athlete_id,
    session.date,
    coalesce(sum(squat_session.session_sets), 0)::double as squat_sets,
    coalesce(sum(by_session.pressing_sets), 0)::double as pressing_sets,
    coalesce(sum(by_session.pulling_sets), 0)::double as pulling_sets,
    coalesce(sum(by_session.elbow_flexion_sets), 0)::double as elbow_flexion_sets,
    coalesce(sum(by_session.curl_supinated_sets), 0)::double as curl_supinated_sets,
    coalesce(sum(by_session.curl_neutral_sets), 0)::double as curl_neutral_sets,
    coalesce(sum(by_session.curl_pronated_sets), 0)::double as curl_pronated_sets,
    coalesce(sum(by_session.other_squat_sets), 0)::double as other_squat_sets,
    coalesce(sum(by_session.hinge_sets), 0)::double as hinge_sets,
    (case when count(session.duration_min) = count(*) then sum(session.duration_min) end)::double as duration_min
from session
left join by_session on session.session_id = by_session.session_id
left join squat_session on session.session_id = squat_session.session_id
group by session.athlete_id, session.date
