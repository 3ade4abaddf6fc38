-- name: written_share
-- label: how often each exposure is written down
-- one row: exposure
-- key: exposure
-- known: after the season
-- column exposure [word]: bar, grip width, bar position, intensity, weekly sets, rating
-- column sessions [count]: squat sessions
-- column written [count]: sessions in which it is known
-- column share [share]: written over sessions
-- zero: never written
-- missing: share when there are no squat sessions
-- not applicable: never
-- source: an exposure known in under half of the rows leaves the formula (analysis plan section 10)
-- checks: written <= sessions; share between 0 and 1
with counted as (
    select
        count(*) as sessions,
        count(bar) as bar,
        count(grip_width) as grip_width,
        count(bar_position) as bar_position,
        count(intensity) as intensity,
        count(sets_7d) as sets_7d,
        count(rating) as rating
    from model_frame
),

long as (
    select
        unnest([
            { 'exposure': 'bar', 'written': bar, 'sessions': sessions },
            { 'exposure': 'grip width', 'written': grip_width, 'sessions': sessions },
            { 'exposure': 'bar position', 'written': bar_position, 'sessions': sessions },
            { 'exposure': 'intensity', 'written': intensity, 'sessions': sessions },
            { 'exposure': 'weekly sets', 'written': sets_7d, 'sessions': sessions },
            { 'exposure': 'rating', 'written': rating, 'sessions': sessions }
        ], recursive := true)
    from counted
)

select
    exposure,
    sessions::integer as sessions,
    written::integer as written,
    (written / nullif(sessions, 0))::double as share
from long
