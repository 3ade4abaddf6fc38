-- name: flare_day
-- label: every reported day, judged in order for flare-ups
-- one row: athlete x reported day x rise asked for
-- key: athlete_id, rise, date
-- kept: table
-- known: after the day; only earlier days enter its baseline
-- column rise [points]: how far above baseline a flare-up day lies: season.toml's, and 1, 2 and 3 beside it
-- column baseline [0 to 10]: median of the last 14 (season.toml) reported days outside a flare-up; at least 5 needed
-- column is_high [yes/no]: the rating is at least rise above baseline and at least 4 (season.toml)
-- column number [count]: flare-ups of the athlete so far, this day's included
-- column in_flare [yes/no]: the day belongs to a flare-up, the days that end it included
-- column is_onset [yes/no]: the first day of a flare-up
-- column is_end [yes/no]: the third (season.toml) reported day in a row that is not high: the flare-up is over
-- zero: number 0 before the first flare-up
-- missing: baseline before 5 reported days outside a flare-up; then no flare-up can begin
-- not applicable: days without a report are stepped over
-- source: our own working definition, no published one; rise of 2: Farrar et al. 2001, Pain 94(2):149-158 (a drop of
--     2 points), used here for a rise by convention
-- checks: baseline between 0 and 10; number >= 0; not (is_onset and is_end); in_flare or not is_high
with recursive ordered as (
    select
        athlete_id,
        date,
        rating,
        row_number() over (partition by athlete_id order by date) as nth
    from rating_day
),

rises as (
    select flare_rise as rise from setting
    union
    select unnest([1, 2, 3])
),

judged as (
    select
        athletes.athlete_id,
        rises.rise,
        null::date as date,
        null::double as rating,
        0::bigint as nth,
        []::double [] as usual,
        null::double as baseline,
        false as is_high,
        false as is_onset,
        false as is_end,
        false as in_flare,
        false as stays_in_flare,
        0 as days_below,
        0 as number
    from (select distinct athlete_id from ordered) as athletes
    cross join rises
    union all
    select
        ordered.athlete_id,
        judged.rise,
        ordered.date,
        ordered.rating,
        ordered.nth,
        -- a day outside a flare-up joins the days that make the baseline; the oldest leaves
        case
            when judged.stays_in_flare or high.is_high then judged.usual
            when len(judged.usual) < setting.flare_baseline_days then list_append(judged.usual, ordered.rating)
            else list_append(judged.usual[2:], ordered.rating)
        end as usual,
        base.baseline,
        high.is_high,
        high.is_high and not judged.stays_in_flare as is_onset,
        not high.is_high and judged.stays_in_flare and judged.days_below + 1 >= setting.flare_over_after as is_end,
        high.is_high or judged.stays_in_flare as in_flare,
        high.is_high
        or (judged.stays_in_flare and judged.days_below + 1 < setting.flare_over_after) as stays_in_flare,
        case when high.is_high or not judged.stays_in_flare then 0 else judged.days_below + 1 end as days_below,
        judged.number + (high.is_high and not judged.stays_in_flare)::integer as number
    from judged
    inner join ordered on judged.athlete_id = ordered.athlete_id and judged.nth + 1 = ordered.nth
    cross join setting
    cross join lateral (
        select case when len(judged.usual) >= 5 then list_aggregate(judged.usual, 'median') end as baseline
    ) as base
    cross join lateral (
        select
            coalesce(
                ordered.rating >= base.baseline + judged.rise and ordered.rating >= setting.flare_at_least, false
            ) as is_high
    ) as high
)

select athlete_id, rise::double as rise, date, rating, baseline, is_high, number, in_flare, is_onset, is_end
from judged
where nth > 0
