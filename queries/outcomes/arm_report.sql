-- name: arm_report
-- label: arm-pain ratings and the squat session that each follows
-- one row: report of one configured site with a number
-- key: none
-- kept: table
-- known: when it is reported
-- column rating [0 to 10]: as reported
-- column session_id [id]: the latest squat session before the report, at most two days back; a report made before the
--     day's session (before, next morning) belongs to a session of the two days before; null when there is none
-- column moment_order [0, 1, 2]: within the day: 0 before or in the morning, 1 during, 2 after; 3 not known
-- zero: 0 is a report of no pain
-- missing: severity words without a number are no rating and have no row
-- not applicable: soreness, numbness and other kinds; sites outside season.toml's [event] sites
-- source: design of the outcome window: up to the end of day d+2 and before the next squat session
-- checks: rating between 0 and 10
with reports as (
    select
        pain_report.athlete_id,
        pain_report.date,
        pain_report.reported_at,
        pain_report.rating,
        pain_report.site,
        pain_report.side,
        pain_report.moment,
        case pain_report.moment
            when 'before' then 0 when 'next morning' then 0 when 'during' then 1 when 'after' then 2 else 3
        end as moment_order
    from pain_report
    inner join outcome_site on pain_report.site = outcome_site.site
    where pain_report.kind = 'pain' and pain_report.rating is not null
),

with_latest_day as (
    select *, case when moment_order = 0 then date - 1 else date end as latest_session_date from reports
),

last_of_day as (
    select session_id, athlete_id, date
    from squat_session
    qualify row_number() over (partition by athlete_id, date order by ordinal desc) = 1
)

select
    with_latest_day.* exclude (latest_session_date),
    case when last_of_day.date >= with_latest_day.date - 2 then last_of_day.session_id end as session_id
from with_latest_day
asof left join last_of_day
    on
        with_latest_day.athlete_id = last_of_day.athlete_id
        and with_latest_day.latest_session_date >= last_of_day.date
