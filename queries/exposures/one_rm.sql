-- name: one_rm
-- label: estimated 1RM for the bar, before the session
-- one row: squat session x bar lifted in it
-- key: session_id, bar_key
-- kept: table
-- known: before the session's day; only earlier days count
-- column one_rm_kg [kg]: median of the best estimates of the sessions of the last 42 days with that bar
-- column intensity_source [word]: own bar; squad ratio or published ratio (straight-bar estimate times it); none
-- column effort_unmarked_share [share]: of those sessions, how many rest on a set without an effort mark
-- zero: never
-- missing: no such session in 42 days, and no straight-bar estimate that a ratio could be applied to
-- not applicable: sessions without a back squat
-- source: the median of 42 days, not the highest: rarer bars would read too intense (measured in simulation); the
--     squad ratio is the median over all earlier sessions of anybody who has both bars, from 3 athletes on
-- checks: one_rm_kg > 0; effort_unmarked_share between 0 and 1
with wanted as (
    select session_id, athlete_id, date, bar_key as bar_lifted, bar_key as bar_estimated, best_kg, is_effort_unmarked
    from bar_of_session
    union all
    select
        session_id,
        athlete_id,
        date,
        bar_key as bar_lifted,
        'straight' as bar_estimated,
        null as best_kg,
        null as is_effort_unmarked
    from bar_of_session
    where bar_key not in ('straight', 'unwritten')
),

estimated as (
    select
        session_id,
        athlete_id,
        date,
        bar_lifted,
        bar_estimated,
        best_kg,
        median(best_kg) over last_42_days as estimate_kg,
        avg(case when best_kg is not null then is_effort_unmarked::integer end) over last_42_days as unmarked_share
    from wanted
    window last_42_days as (
        partition by athlete_id, bar_estimated order by date
        range between interval 42 days preceding and interval 1 day preceding
    )
),

side_by_side as (
    select
        own.session_id,
        own.athlete_id,
        own.date,
        own.bar_lifted as bar_key,
        own.estimate_kg as own_kg,
        own.unmarked_share as own_unmarked_share,
        straight.estimate_kg as straight_kg,
        straight.unmarked_share as straight_unmarked_share,
        own.best_kg / straight.estimate_kg as ratio
    from estimated as own
    left join estimated as straight
        on
            own.session_id = straight.session_id
            and own.bar_lifted = straight.bar_lifted
            and straight.bar_estimated = 'straight'
            and own.bar_lifted != 'straight'
    where own.bar_lifted = own.bar_estimated
),

first_pairs as (
    select
        *,
        ratio is not null and row_number() over (
            partition by athlete_id, bar_key, ratio is null order by date, session_id
        ) = 1 as is_first_pair
    from side_by_side
),

squad as (
    select
        *,
        median(ratio) over earlier_days as squad_ratio,
        count(*) filter (where is_first_pair) over earlier_days as athletes_with_both
    from first_pairs
    window earlier_days as (
        partition by bar_key order by date range between unbounded preceding and interval 1 day preceding
    )
),

sourced as (
    select
        squad.*,
        published_bar_ratio.ratio as published_ratio,
        case
            when squad.own_kg is not null then 'own bar'
            when squad.straight_kg is not null and squad.athletes_with_both >= 3 then 'squad ratio'
            when squad.straight_kg is not null and published_bar_ratio.ratio is not null then 'published ratio'
            else 'none'
        end as intensity_source
    from squad
    left join published_bar_ratio on squad.bar_key = published_bar_ratio.bar_key
)

select
    session_id,
    bar_key,
    intensity_source,
    (case intensity_source
        when 'own bar' then own_kg
        when 'squad ratio' then straight_kg * squad_ratio
        when 'published ratio' then straight_kg * published_ratio
    end)::double as one_rm_kg,
    (case intensity_source
        when 'own bar' then own_unmarked_share
        when 'none' then null
        else straight_unmarked_share
    end)::double as effort_unmarked_share
from sourced
