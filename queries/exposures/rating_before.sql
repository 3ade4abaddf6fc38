-- name: rating_before
-- label: the pain known before the session
-- one row: squat session
-- key: session_id
-- known: before the session
-- column last_rating [0 to 10]: the latest earlier rating
-- column last_rating_age [days]: its age on the session's day
-- column second_last_rating [0 to 10]: the rating before that
-- column recent_rating [0 to 10]: exponentially weighted mean (half-life 10 days) of all earlier ratings
-- column any_event_7d [0 or 1]: an earlier rating of the days d-7 to d reached the event rating
-- zero: 0 is a report of no pain; any_event_7d 0: no such rating was reported
-- missing: no earlier rating (no second one)
-- not applicable: sessions without a back squat
-- source: analysis plan sections 3 and 11: a coach acts on thresholds as well as on the last pain
-- checks: last_rating between 0 and 10; last_rating_age >= 0; recent_rating between 0 and 10; any_event_7d in (0, 1)
with moments as (
    select
        session_id,
        athlete_id,
        date,
        (date - date '1900-01-01') * 100 + ordinal as session_key,
        (date - date '1900-01-01' - 7) * 100 as week_before_key
    from squat_session
)

select
    moments.session_id,
    latest.rating as last_rating,
    (moments.date - latest.date)::double as last_rating_age,
    latest.second_last_rating,
    latest.recent_rating,
    (coalesce(latest.events_so_far, 0) > coalesce(week_before.events_so_far, 0))::double as any_event_7d
from moments
asof left join known_rating as latest
    on moments.athlete_id = latest.athlete_id and moments.session_key > latest.moment_key
asof left join known_rating as week_before
    on moments.athlete_id = week_before.athlete_id and moments.week_before_key > week_before.moment_key
