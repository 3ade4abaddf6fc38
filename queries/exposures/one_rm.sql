-- name: one_rm
-- label: estimated 1RM for the bar, before the session
-- one row: squat session x bar lifted in it
-- key: session_id, bar_key
-- kept: table
-- known: before the session's day; only earlier days count
-- column one_rm_kg [kg]: the athlete's own estimate for the bar, else the straight-bar estimate times a ratio
-- column intensity_source [word]: own bar; squad ratio (from 3 lifters with both bars on); published ratio; none
-- column effort_unmarked_share [share]: sessions behind it whose best set has no effort mark
-- zero: never
-- missing: no session with that bar in 42 days, and no straight-bar estimate that a ratio could be applied to
-- not applicable: sessions without a back squat
-- source: analysis plan section 10, first sessions on a bar; see own_one_rm, squad_bar_ratio, published_bar_ratio
-- checks: one_rm_kg > 0; effort_unmarked_share between 0 and 1; (one_rm_kg is null) = (intensity_source = 'none')
with sourced as (
    select
        own_one_rm.*,
        squad_bar_ratio.ratio as squad_ratio,
        published_bar_ratio.ratio as published_ratio,
        case
            when own_one_rm.own_kg is not null then 'own bar'
            when own_one_rm.straight_kg is not null and squad_bar_ratio.athletes >= 3 then 'squad ratio'
            when own_one_rm.straight_kg is not null and published_bar_ratio.ratio is not null then 'published ratio'
            else 'none'
        end as intensity_source
    from own_one_rm
    left join squad_bar_ratio
        on
            own_one_rm.bar_key = squad_bar_ratio.bar_key
            and date_trunc('week', own_one_rm.date)::date = squad_bar_ratio.week_start
    left join published_bar_ratio on own_one_rm.bar_key = published_bar_ratio.bar_key
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
