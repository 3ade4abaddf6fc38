-- name: weekly_pain
-- label: lifters with arm pain, week by week
-- one row: ISO week of a season
-- key: season, week_start
-- known: after the week
-- column week_start [date]: Monday
-- column athletes [count]: lifters with a logged day that week
-- column reporting [count]: lifters with an arm rating
-- column with_pain [count]: of these, with a rating of 1 or more
-- column with_event [count]: of these, with a rating that reaches the event rating
-- zero: nobody
-- missing: never; lifters without a report are in athletes, not in reporting
-- not applicable: weeks outside every season
-- source: weekly prevalence, Bahr et al. 2020, BJSM 54:372-389
-- checks: with_event <= with_pain; with_pain <= reporting; reporting <= athletes
select
    athlete_week.season,
    athlete_week.week_start,
    count(*) filter (where athlete_week.logged_days > 0)::integer as athletes,
    count(athlete_week.rating)::integer as reporting,
    count(*) filter (where athlete_week.rating >= 1)::integer as with_pain,
    count(*) filter (where athlete_week.rating >= setting.event_rating)::integer as with_event
from athlete_week
cross join setting
group by athlete_week.season, athlete_week.week_start
order by athlete_week.season, athlete_week.week_start
