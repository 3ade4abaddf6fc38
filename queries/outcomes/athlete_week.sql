-- name: athlete_week
-- label: the season week by week
-- one row: athlete x ISO week of a season
-- key: athlete_id, season, week_start
-- known: after the week
-- column athlete [name]: display name
-- column week_start [date]: Monday
-- column logged_days [days]: logged days of the week
-- column squat_sets [sets]: working back-squat sets
-- column pressing_sets [sets]: press sets
-- column pulling_sets [sets]: pull sets
-- column elbow_flexion_sets [sets]: curl sets
-- column rating [0 to 10]: the week's highest arm rating
-- zero: a logged week without such sets
-- missing: sets of a week without a logged day; rating of a week without a report
-- not applicable: weeks outside every season
-- source: ISO 8601 weeks, Monday to Sunday
-- checks: logged_days between 0 and 7; squat_sets >= 0
select
    athlete_id,
    athlete,
    season,
    date_trunc('week', date)::date as week_start,
    count(*) filter (where is_logged)::integer as logged_days,
    sum(squat_sets)::double as squat_sets,
    sum(pressing_sets)::double as pressing_sets,
    sum(pulling_sets)::double as pulling_sets,
    sum(elbow_flexion_sets)::double as elbow_flexion_sets,
    max(rating)::double as rating
from athlete_day
group by all
order by athlete, week_start
