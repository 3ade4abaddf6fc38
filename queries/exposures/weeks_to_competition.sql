-- name: weeks_to_competition
-- label: weeks to the next competition entered
-- one row: squat session
-- key: session_id
-- known: before the session, from the season's plan
-- column weeks_to_competition [weeks]: days to the athlete's next competition, over 7; at most 12
-- column competition_entered [yes/no]: a competition that the athlete has entered lies ahead
-- zero: the day of the competition
-- missing: never; 12 when none lies ahead
-- not applicable: sessions without a back squat
-- source: capped at 12 weeks, analysis plan section 3
-- checks: weeks_to_competition between 0 and 12
with entered as (
    select distinct athlete.athlete_id, competition.date as competition_date
    from competition
    inner join athlete on competition.is_for_all or competition.athlete_id = athlete.athlete_id
)

select
    squat_session.session_id,
    least(coalesce((entered.competition_date - squat_session.date) / 7, 12), 12)::double as weeks_to_competition,
    entered.competition_date is not null as competition_entered
from squat_session
asof left join entered
    on squat_session.athlete_id = entered.athlete_id and squat_session.date <= entered.competition_date
