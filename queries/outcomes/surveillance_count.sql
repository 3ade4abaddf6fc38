-- name: surveillance_count
-- label: the counts behind the surveillance figures
-- one row: season
-- key: season
-- known: after the season
-- column onsets [count]: onsets of flare-ups
-- column squat_sets [sets]: working back-squat sets
-- column squat_sessions [count]: squat sessions
-- column reported_sessions [count]: of these, with a rating
-- column event_sessions [count]: of these, with a rating that reaches the event rating
-- column flare_days [days]: calendar days from onset to the last high day of each flare-up
-- column athlete_days [days]: logged days of all athletes
-- column hours [h]: training time, where every session of the day gives its duration
-- column days_with_duration [days]: training days behind hours
-- column training_days [days]: all training days
-- zero: none
-- missing: hours when no duration is written
-- not applicable: days outside every season
-- source: incidence, prevalence, burden: Bahr et al. 2020, BJSM 54:372-389
-- checks: reported_sessions <= squat_sessions; event_sessions <= reported_sessions
with flares as (
    select
        season.season,
        count(*) as onsets,
        sum(flare_up.last_high_date - flare_up.onset_date + 1) as flare_days
    from flare_up
    inner join season on flare_up.onset_date between season.first_date and season.last_date
    group by season.season
),

sessions as (
    select
        season.season,
        sum(squat_session.session_sets) as squat_sets,
        count(*) as squat_sessions,
        count(session_rating.rating) as reported_sessions,
        count(*) filter (where session_rating.rating >= setting.event_rating) as event_sessions
    from squat_session
    cross join setting
    inner join season on squat_session.date between season.first_date and season.last_date
    left join session_rating on squat_session.session_id = session_rating.session_id
    group by season.season
),

training as (
    select
        season.season,
        sum(training_day.duration_min) / 60 as hours,
        count(training_day.duration_min) as days_with_duration,
        count(*) as training_days
    from training_day
    inner join season on training_day.date between season.first_date and season.last_date
    group by season.season
),

logged as (
    select season, count(*) filter (where is_logged) as athlete_days from athlete_day group by season
)

select
    season.season,
    coalesce(flares.onsets, 0)::integer as onsets,
    coalesce(sessions.squat_sets, 0)::double as squat_sets,
    coalesce(sessions.squat_sessions, 0)::integer as squat_sessions,
    coalesce(sessions.reported_sessions, 0)::integer as reported_sessions,
    coalesce(sessions.event_sessions, 0)::integer as event_sessions,
    coalesce(flares.flare_days, 0)::integer as flare_days,
    coalesce(logged.athlete_days, 0)::integer as athlete_days,
    training.hours::double as hours,
    coalesce(training.days_with_duration, 0)::integer as days_with_duration,
    coalesce(training.training_days, 0)::integer as training_days
from season
left join flares on season.season = flares.season
left join sessions on season.season = sessions.season
left join training on season.season = training.season
left join logged on season.season = logged.season
