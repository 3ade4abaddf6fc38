-- name: newest_screen
-- label: the newest result of each mobility or strength test
-- one row: squat session x test x side
-- key: session_id, test, side
-- known: before the session's day
-- column test [word]: the test
-- column side [word]: left, right, both, unknown
-- column value [as unit says]: the newest earlier result (the mean where one day has several)
-- column unit [word]: its unit
-- column age_days [days]: its age on the session's day
-- zero: a result of 0
-- missing: no earlier result: no row
-- not applicable: athletes without a test
-- source: the squad's own tests
-- checks: age_days >= 1
with results as (
    select athlete_id, test, side, unit, date, avg(value) as value
    from screen
    group by athlete_id, test, side, unit, date
),

until_next as (
    select
        *,
        lead(date) over (partition by athlete_id, test, side order by date) as next_date
    from results
    qualify row_number() over (partition by athlete_id, test, side, date order by unit) = 1
)

select
    squat_session.session_id,
    until_next.test,
    until_next.side,
    until_next.value::double as value,
    until_next.unit,
    squat_session.date - until_next.date as age_days
from squat_session
inner join until_next
    on
        squat_session.athlete_id = until_next.athlete_id
        and squat_session.date > until_next.date
        and squat_session.date <= coalesce(until_next.next_date, squat_session.date)
