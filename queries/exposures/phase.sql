-- name: phase
-- label: phase of the season
-- one row: squat session
-- key: session_id
-- known: before the session, from the season's plan
-- column phase [word]: last weeks: 3 weeks or less to a competition entered; preparation: under 12; no meet near: else
-- zero: never
-- missing: never
-- not applicable: sessions without a back squat
-- source: common practice, no published source
-- checks: phase in ('last weeks', 'preparation', 'no meet near')
select
    session_id,
    case
        when weeks_to_competition <= 3 then 'last weeks'
        when weeks_to_competition < 12 then 'preparation'
        else 'no meet near'
    end as phase
from weeks_to_competition
