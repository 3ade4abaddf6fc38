-- name: contrast_data
-- label: what these logs hold for each question
-- one row: primary contrast
-- key: contrast
-- known: after the season
-- column contrast [word]: intensity, safety, cambered, narrow, wide, high, sets
-- column athletes [count]: athletes with 3 or more reported sessions at each of the two levels (at all, for amounts)
-- column exposed [count]: reported sessions at the level asked about (all, for amounts)
-- column events [count]: reported sessions that reach the event rating
-- column is_enough [yes/no]: athletes at least 6, exposed at least 30, events at least 30
-- zero: none
-- missing: never
-- not applicable: never
-- source: the data gate of the analysis plan, section 5; the reports count once more on the rows that a model used
-- checks: athletes >= 0; exposed >= 0
with reported as (
    select model_frame.*, setting.event_rating
    from model_frame
    cross join setting
    where model_frame.rating is not null
),

levels as (
    select
        athlete,
        rating,
        event_rating,
        unnest([
            { 'contrast': 'intensity', 'is_exposed': intensity is not null, 'is_reference': intensity is not null },
            { 'contrast': 'safety', 'is_exposed': bar = 'safety', 'is_reference': bar = 'straight' },
            { 'contrast': 'cambered', 'is_exposed': bar = 'cambered', 'is_reference': bar = 'straight' },
            { 'contrast': 'narrow', 'is_exposed': grip_width = 'narrow', 'is_reference': grip_width = 'medium' },
            { 'contrast': 'wide', 'is_exposed': grip_width = 'wide', 'is_reference': grip_width = 'medium' },
            { 'contrast': 'high', 'is_exposed': bar_position = 'high', 'is_reference': bar_position = 'low' },
            { 'contrast': 'sets', 'is_exposed': sets_7d is not null, 'is_reference': sets_7d is not null }
        ], recursive := true) as level
    from reported
),

by_athlete as (
    select
        contrast,
        athlete,
        count(*) filter (where is_exposed) as exposed,
        count(*) filter (where is_reference) as unexposed,
        count(*) filter (where rating >= event_rating) as events
    from levels
    group by contrast, athlete
),

summed as (
    select
        contrast,
        count(*) filter (where exposed >= 3 and unexposed >= 3) as athletes,
        sum(exposed) as exposed,
        sum(events) as events
    from by_athlete
    group by contrast
),

asked as (
    select
        unnest(['intensity', 'safety', 'cambered', 'narrow', 'wide', 'high', 'sets']) as contrast,
        unnest([1, 2, 3, 4, 5, 6, 7]) as place
)

select
    asked.contrast,
    coalesce(summed.athletes, 0)::integer as athletes,
    coalesce(summed.exposed, 0)::integer as exposed,
    coalesce(summed.events, 0)::integer as events,
    coalesce(summed.athletes >= 6 and summed.exposed >= 30 and summed.events >= 30, false) as is_enough
from asked
left join summed on asked.contrast = summed.contrast
order by asked.place
