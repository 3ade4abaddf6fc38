-- name: response_week
-- label: who trained and reported, week by week
-- one row: athlete x ISO week of a season
-- key: athlete_id, season, week_start
-- known: after the week
-- column athlete [name]: display name
-- column week_start [date]: Monday
-- column state [word]: reported: an arm rating that week; unreported: a session but no arm rating; no log: neither
-- column sessions [count]: squat sessions
-- column reported [count]: squat sessions with a rating in their outcome window
-- zero: a week without squats
-- missing: never; a week without any entry says so in its state
-- not applicable: weeks outside every season
-- source: three states only, so that a missing report is never read as no pain
-- checks: reported <= sessions; state in ('reported', 'unreported', 'no log')
with sessions as (
    select
        squat_session.athlete_id,
        date_trunc('week', squat_session.date)::date as week_start,
        count(*) as sessions,
        count(session_rating.rating) as reported
    from squat_session
    left join session_rating on squat_session.session_id = session_rating.session_id
    group by all
),

trained as (
    select distinct athlete_id, date_trunc('week', date)::date as week_start from training_day
)

select
    athlete_week.athlete_id,
    athlete_week.athlete,
    athlete_week.season,
    athlete_week.week_start,
    case
        when athlete_week.rating is not null or sessions.reported > 0 then 'reported'
        when trained.week_start is not null then 'unreported'
        else 'no log'
    end as state,
    coalesce(sessions.sessions, 0)::integer as sessions,
    coalesce(sessions.reported, 0)::integer as reported
from athlete_week
left join sessions
    on athlete_week.athlete_id = sessions.athlete_id and athlete_week.week_start = sessions.week_start
left join trained
    on athlete_week.athlete_id = trained.athlete_id and athlete_week.week_start = trained.week_start
order by athlete_week.athlete, athlete_week.week_start
