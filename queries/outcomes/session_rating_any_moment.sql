-- name: session_rating_any_moment
-- label: pain after squatting, reports of unknown moment included
-- one row: squat session with a rating in its outcome window
-- key: session_id
-- known: only afterwards; for the reading that is shown beside the primary one
-- column rating_any_moment [0 to 10]: as session_rating, but a report whose moment is not known counts as made after
--     the day's session
-- zero: a report of no pain
-- missing: an unreported session has no row
-- not applicable: other sites and kinds
-- source: unknown timing is shown both ways
-- checks: rating_any_moment between 0 and 10
select session_id, max(rating)::double as rating_any_moment
from arm_report
where session_id is not null
group by session_id
