-- name: session_rating_elsewhere
-- label: pain elsewhere after squatting
-- one row: squat session with a rating of knee, hip or back in its outcome window
-- key: session_id
-- known: only afterwards; the outcome of a check
-- column rating_elsewhere [0 to 10]: highest rating of knee, hip or back after the session, in the window of
--     session_rating; sites that season.toml counts as arm are left out
-- zero: a report of no pain there
-- missing: a session without such a report has no row and is never read as no pain
-- not applicable: wrist, shoulder and unnamed sites, which the hold on a bar may move too; soreness and other kinds
-- source: a negative-control outcome, Lipsitch M et al. Epidemiology 2010;21:383-388
-- checks: rating_elsewhere between 0 and 10
with reports as (
    select
        pain_report.athlete_id,
        pain_report.rating,
        case
            when pain_report.moment in ('before', 'next morning') then pain_report.date - 1 else pain_report.date
        end as latest_session_date,
        pain_report.date
    from pain_report
    anti join outcome_site on pain_report.site = outcome_site.site
    where
        pain_report.kind = 'pain' and pain_report.rating is not null and pain_report.moment != 'unknown'
        and pain_report.site in ('knee', 'hip', 'back')
),

last_of_day as (
    select session_id, athlete_id, date
    from squat_session
    qualify row_number() over (partition by athlete_id, date order by ordinal desc) = 1
)

select last_of_day.session_id, max(reports.rating)::double as rating_elsewhere
from reports
asof inner join last_of_day
    on reports.athlete_id = last_of_day.athlete_id and reports.latest_session_date >= last_of_day.date
where last_of_day.date >= reports.date - 2
group by last_of_day.session_id
