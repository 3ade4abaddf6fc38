-- name: rating_day
-- label: the day's arm rating
-- one row: athlete x day with an arm rating
-- key: athlete_id, date
-- known: at the end of the day
-- column athlete [name]: display name
-- column rating [0 to 10]: highest rating of the configured sites that day, whatever the moment
-- zero: a report of no pain
-- missing: a day without a report has no row
-- not applicable: other sites, other kinds than pain, severity words without a number
-- source: design of the flare-up: a day's rating is the highest of the day
-- checks: rating between 0 and 10
select
    arm_report.athlete_id,
    athlete.display_name as athlete,
    arm_report.date,
    max(arm_report.rating)::double as rating
from arm_report
inner join athlete on arm_report.athlete_id = athlete.athlete_id
group by arm_report.athlete_id, athlete.display_name, arm_report.date
order by athlete.display_name, arm_report.date
