-- name: own_one_rm
-- label: estimated 1RM from the athlete's own earlier sessions
-- one row: squat session x bar lifted in it
-- key: session_id, bar_key
-- kept: table
-- known: before the session's day; ratio only after it
-- column own_kg [kg]: median of the best estimates of the sessions of the last 42 days with that bar
-- column own_unmarked_share [share]: of those sessions, how many rest on a set without an effort mark
-- column straight_kg [kg]: the same for the straight bar, for sessions with another bar
-- column straight_unmarked_share [share]: of those sessions, how many rest on a set without an effort mark
-- column ratio [kg per kg]: this session's best estimate with its bar over straight_kg
-- zero: never
-- missing: no such session in the 42 days; ratio without either estimate, and for the straight bar
-- not applicable: sessions without a back squat
-- source: the median of 42 days, not the highest: rarer bars would read too intense (measured in simulation)
-- checks: own_kg > 0; straight_kg > 0; ratio > 0; own_unmarked_share between 0 and 1
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
)

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
