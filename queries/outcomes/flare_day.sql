-- name: flare_day
-- label: every reported day, judged in order for flare-ups
-- one row: athlete x reported day x rise asked for
-- key: athlete_id, rise, date
-- kept: table
-- known: after the day; only earlier days enter its baseline
-- column rise [points]: how far above baseline a flare-up day lies: season.toml's, and 1, 2 and 3 beside it
-- column rating [0 to 10]: the day's highest arm rating
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

-- usual: the reported days outside a flare-up that make the next day's baseline, oldest first
judged as (
    select
        ordered.athlete_id,
        rises.rise,
        ordered.date,
        ordered.rating,
        0::bigint as nth,
        []::double[] as usual,
        null::double as baseline,
        false as is_high,
        false as is_onset,
        false as is_end,
        false as goes_on,
        0 as days_below,
        0 as number
    from ordered
    cross join rises
    where ordered.nth = 1
    union all
    (
        with next_day as (
            select
                ordered.*,
                judged.rise,
                judged.usual,
                judged.goes_on as is_inside,
                judged.days_below,
                judged.number,
                case when len(judged.usual) >= 5 then list_aggregate(judged.usual, 'median') end as baseline
            from judged
            inner join ordered on judged.athlete_id = ordered.athlete_id and judged.nth + 1 = ordered.nth
        ),

        compared as (
            select
                next_day.*,
                setting.flare_baseline_days,
                setting.flare_over_after,
                coalesce(
                    next_day.rating >= next_day.baseline + next_day.rise
                    and next_day.rating >= setting.flare_at_least,
                    false
                ) as is_high
            from next_day
            cross join setting
        )

        select
            athlete_id,
            rise,
            date,
            rating,
            nth,
            case
                when is_inside or is_high then usual
                when len(usual) < flare_baseline_days then list_append(usual, rating)
                else list_append(usual[2:], rating)
            end as usual,
            baseline,
            is_high,
            is_high and not is_inside as is_onset,
            is_inside and not is_high and days_below + 1 >= flare_over_after as is_end,
            is_high or (is_inside and days_below + 1 < flare_over_after) as goes_on,
            case when is_inside and not is_high then days_below + 1 else 0 end as days_below,
            number + (is_high and not is_inside)::integer as number
        from compared
    )
)

select
    athlete_id,
    rise::double as rise,
    date,
    rating,
    baseline,
    is_high,
    number,
    goes_on or is_end as in_flare,
    is_onset,
    is_end
from judged
where nth > 0
