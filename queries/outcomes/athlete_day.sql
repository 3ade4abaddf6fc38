-- name: athlete_day
-- label: the season day by day
-- one row: athlete x day of a season
-- key: athlete_id, date
-- known: after the day
-- column athlete [name]: display name
-- column is_logged [yes/no]: between the athlete's first and last entry and in no gap of more than 10 days
-- column squat_sets [sets]: working back-squat sets
-- column pressing_sets [sets]: press sets
-- column pulling_sets [sets]: pull sets
-- column elbow_flexion_sets [sets]: curl sets
-- column volume_load_kg [kg]: load x reps of the working back squats
-- column rating [0 to 10]: the day's highest arm rating
-- zero: a logged day without such sets is rest: 0
-- missing: sets of an unlogged day; rating of a day without a report
-- not applicable: days outside every season
-- source: days inside a gap of more than 10 days without any entry are unlogged; ours, no published source
-- checks: squat_sets >= 0; rating between 0 and 10; is_logged = (squat_sets is not null)
with days as (
    select season.season, unnest(generate_series(season.first_date, season.last_date, interval 1 day))::date as date
    from season
),

athlete_days as (
    select athlete.athlete_id, athlete.display_name, days.season, days.date
    from athlete
    cross join days
),

with_last_entry as (
    select
        athlete_days.*,
        entry_day.date is not null
        and (entry_day.date = athlete_days.date or coalesce(entry_day.unlogged_after, 1000) <= 10) as is_logged
    from athlete_days
    asof left join entry_day
        on athlete_days.athlete_id = entry_day.athlete_id and athlete_days.date >= entry_day.date
),

volume as (
    select athlete_id, date, sum(volume_load_kg) as volume_load_kg from squat_session group by athlete_id, date
)

select
    with_last_entry.athlete_id,
    with_last_entry.display_name as athlete,
    with_last_entry.season,
    with_last_entry.date,
    with_last_entry.is_logged,
    case when with_last_entry.is_logged then coalesce(training_day.squat_sets, 0) end as squat_sets,
    case when with_last_entry.is_logged then coalesce(training_day.pressing_sets, 0) end as pressing_sets,
    case when with_last_entry.is_logged then coalesce(training_day.pulling_sets, 0) end as pulling_sets,
    case when with_last_entry.is_logged then coalesce(training_day.elbow_flexion_sets, 0) end as elbow_flexion_sets,
    case
        when with_last_entry.is_logged then coalesce(volume.volume_load_kg, 0)
    end as volume_load_kg,
    rating_day.rating
from with_last_entry
left join training_day
    on with_last_entry.athlete_id = training_day.athlete_id and with_last_entry.date = training_day.date
left join volume on with_last_entry.athlete_id = volume.athlete_id and with_last_entry.date = volume.date
left join rating_day on with_last_entry.athlete_id = rating_day.athlete_id and with_last_entry.date = rating_day.date
order by athlete, with_last_entry.date
