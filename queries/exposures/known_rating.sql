-- name: known_rating
-- label: arm ratings in the order in which they became known
-- one row: athlete x moment with a rating
-- key: athlete_id, moment_key
-- kept: table
-- known: from moment_key on (100 x day number + session ordinal; 0 before the day's sessions, 99 after them)
-- column rating [0 to 10]: a squat session's rating (see session_rating), or the day's highest rating that belongs
--     to no squat session
-- column second_last_rating [0 to 10]: the rating before this one
-- column recent_rating [0 to 10]: exponentially weighted mean (half-life 10 days) of the ratings up to this one
-- column events_so_far [count]: ratings so far that reach the event rating
-- zero: 0 is a report of no pain
-- missing: an unreported session or day has no row
-- not applicable: other sites, other kinds than pain, severity words without a number
-- source: a rating belongs to the session it follows (analysis plan sections 3 and 10)
-- checks: rating between 0 and 10; recent_rating between 0 and 10; events_so_far >= 0
with entries as (
    select
        squat_session.athlete_id,
        squat_session.date,
        squat_session.ordinal as moment_order,
        session_rating.rating
    from session_rating
    inner join squat_session on session_rating.session_id = squat_session.session_id
    union all
    select
        athlete_id,
        date,
        case when moment in ('before', 'next morning') then 0 else 99 end as moment_order,
        max(rating) as rating
    from arm_report
    where session_id is null or moment = 'unknown'
    group by all
),

weighted as (
    select
        *,
        (date - date '1900-01-01') * 100 + moment_order as moment_key,
        pow(2, (date - min(date) over (partition by athlete_id)) / 10) as weight
    from entries
)

select
    weighted.athlete_id,
    weighted.date,
    weighted.moment_key,
    weighted.rating,
    lag(weighted.rating) over (
        partition by weighted.athlete_id order by weighted.moment_key
    ) as second_last_rating,
    (sum(weighted.weight * weighted.rating) over so_far / sum(weighted.weight) over so_far)::double as recent_rating,
    (count(*) filter (where weighted.rating >= setting.event_rating) over so_far)::integer as events_so_far
from weighted
cross join setting
window so_far as (
    partition by weighted.athlete_id order by weighted.moment_key rows between unbounded preceding and current row
)
