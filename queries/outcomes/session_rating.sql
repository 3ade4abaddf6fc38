-- name: session_rating
-- label: pain after squatting
-- one row: squat session with a rating in its outcome window
-- key: session_id
-- known: only afterwards; the outcome
-- column rating [0 to 10]: highest arm rating after the session of day d, up to the end of day d+2 and before the next
--     squat session
-- column rating_first [0 to 10]: the first report of that window alone (its highest site)
-- column n_reports [count]: reports in the window (sites of one day and moment together are one report)
-- zero: a report of no pain
-- missing: an unreported session has no row and is never read as no pain
-- not applicable: reports whose moment is not known are no outcome here; see session_rating_any_moment
-- source: analysis plan sections 3 and 10
-- checks: rating between 0 and 10; rating_first <= rating; n_reports >= 1
with reports as (
    select session_id, date, moment_order, max(rating) as rating
    from arm_report
    where session_id is not null and moment != 'unknown'
    group by session_id, date, moment_order
)

select
    session_id,
    max(rating)::double as rating,
    arg_min(rating, (date - date '1900-01-01') * 10 + moment_order)::double as rating_first,
    count(*)::integer as n_reports
from reports
group by session_id
