-- name: rating_before_window
-- label: the pain known before the week that sets_7d counts
-- one row: squat session
-- key: session_id
-- known: before day d-7
-- column last_rating_pre [0 to 10]: the latest rating up to day d-8
-- column last_rating_pre_age [days]: its age on the session's day
-- column second_last_rating_pre [0 to 10]: the rating before that
-- column recent_rating_pre [0 to 10]: exponentially weighted mean (half-life 10 days) of all ratings up to day d-8
-- column any_event_8_14d [0 or 1]: a rating of the days d-14 to d-8 reached the event rating
-- zero: 0 is a report of no pain; any_event_8_14d 0: no such rating was reported
-- missing: no rating (no second one) up to day d-8
-- not applicable: sessions without a back squat
-- source: analysis plan section 3: recent pain is mediator and confounder of weekly sets at once
-- checks: last_rating_pre between 0 and 10; last_rating_pre_age >= 8; any_event_8_14d in (0, 1)
with moments as (
    select
        session_id,
        athlete_id,
        date,
        (date - date '1900-01-01' - 7) * 100 as window_key,
        (date - date '1900-01-01' - 14) * 100 as two_weeks_before_key
    from squat_session
)

select
    moments.session_id,
    latest.rating as last_rating_pre,
    (moments.date - latest.date)::double as last_rating_pre_age,
    latest.second_last_rating as second_last_rating_pre,
    latest.recent_rating as recent_rating_pre,
    (coalesce(latest.events_so_far, 0) > coalesce(two_weeks_before.events_so_far, 0))::double as any_event_8_14d
from moments
asof left join known_rating as latest
    on moments.athlete_id = latest.athlete_id and moments.window_key > latest.moment_key
asof left join known_rating as two_weeks_before
    on
        moments.athlete_id = two_weeks_before.athlete_id
        and moments.two_weeks_before_key > two_weeks_before.moment_key
