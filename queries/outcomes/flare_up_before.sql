-- name: flare_up_before
-- label: the 28 days before each flare-up against the athlete's own ordinary sessions
-- one row: athlete x flare-up with its onset in the season
-- key: athlete_id, number
-- known: the days before on the onset's day; the ordinary sessions after the season
-- column athlete [name]: display name
-- column number [count]: as in flare_up
-- column sessions_before [count]: squat sessions on the 28 days before the onset's day
-- column sessions_usual [count]: ordinary sessions: in no 28 days before an onset, and from no onset to its end
-- column intensity_before [% of 1RM]: mean over the sessions before
-- column intensity_usual [% of 1RM]: mean over the ordinary sessions
-- column sets_before [sets]: mean of the working squat sets in the 7 days before, over the sessions before
-- column sets_usual [sets]: the same over the ordinary sessions
-- column curls_before [sets]: mean of the curl sets in the 7 days before, over the sessions before
-- column curls_usual [sets]: the same over the ordinary sessions
-- column straight_before [count]: sessions before on the straight bar
-- column straight_usual [count]: ordinary sessions on the straight bar
-- column safety_before [count]: sessions before on a safety bar
-- column safety_usual [count]: ordinary sessions on a safety bar
-- column cambered_before [count]: sessions before on a cambered bar
-- column cambered_usual [count]: ordinary sessions on a cambered bar
-- column other_before [count]: sessions before on another bar
-- column other_usual [count]: ordinary sessions on another bar
-- zero: no such session, no such set
-- missing: a mean of fewer than three sessions, or where it is not written or not logged in all of them
-- not applicable: athletes without a flare-up have no row
-- source: the windows of before_onset in findings.json; fewer than three sessions tell no habit (practice, no source)
-- checks: sessions_before >= 0; straight_before + safety_before + cambered_before + other_before <= sessions_before
with sessions as (
    select
        squat_session.athlete_id,
        squat_session.date,
        squat_session.intensity,
        squat_session.bar,
        sets_7d.sets_7d as sets,
        other_work_7d.elbow_flexion_7d as curls
    from squat_session
    inner join season on squat_session.date between season.first_date and season.last_date
    inner join sets_7d on squat_session.session_id = sets_7d.session_id
    inner join other_work_7d on squat_session.session_id = other_work_7d.session_id
),

ordinary as (
    select sessions.*
    from sessions
    anti join flare_up
        on
            sessions.athlete_id = flare_up.athlete_id
            and sessions.date >= flare_up.onset_date - 28
            and sessions.date <= coalesce(flare_up.end_date, sessions.date)
),

usual as (
    select
        athlete_id,
        count(*) as n,
        avg(intensity order by date, intensity) as intensity,
        avg(sets) as sets,
        avg(curls) as curls,
        count(*) filter (where bar = 'straight') as straight,
        count(*) filter (where bar = 'safety') as safety,
        count(*) filter (where bar = 'cambered') as cambered,
        count(*) filter (where bar = 'other') as other
    from ordinary
    group by athlete_id
),

before as (
    select
        flare_up.athlete_id,
        flare_up.athlete,
        flare_up.number,
        count(sessions.date) as n,
        avg(sessions.intensity order by sessions.date, sessions.intensity) as intensity,
        avg(sessions.sets) as sets,
        avg(sessions.curls) as curls,
        count(*) filter (where sessions.bar = 'straight') as straight,
        count(*) filter (where sessions.bar = 'safety') as safety,
        count(*) filter (where sessions.bar = 'cambered') as cambered,
        count(*) filter (where sessions.bar = 'other') as other
    from flare_up
    left join sessions
        on
            flare_up.athlete_id = sessions.athlete_id
            and sessions.date between flare_up.onset_date - 28 and flare_up.onset_date - 1
    group by all
)

select
    before.athlete_id,
    before.athlete,
    before.number,
    before.n::integer as sessions_before,
    coalesce(usual.n, 0)::integer as sessions_usual,
    case when before.n >= 3 then before.intensity end as intensity_before,
    case when usual.n >= 3 then usual.intensity end as intensity_usual,
    case when before.n >= 3 then before.sets end as sets_before,
    case when usual.n >= 3 then usual.sets end as sets_usual,
    case when before.n >= 3 then before.curls end as curls_before,
    case when usual.n >= 3 then usual.curls end as curls_usual,
    before.straight::integer as straight_before,
    coalesce(usual.straight, 0)::integer as straight_usual,
    before.safety::integer as safety_before,
    coalesce(usual.safety, 0)::integer as safety_usual,
    before.cambered::integer as cambered_before,
    coalesce(usual.cambered, 0)::integer as cambered_usual,
    before.other::integer as other_before,
    coalesce(usual.other, 0)::integer as other_usual
from before
left join usual on before.athlete_id = usual.athlete_id
order by before.athlete, before.number
