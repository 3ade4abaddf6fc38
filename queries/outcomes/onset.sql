-- name: onset
-- label: onsets, and the squat session before each
-- one row: athlete x onset
-- key: athlete_id, number
-- known: on the day
-- column athlete [name]: display name
-- column rating [0 to 10]: the onset day's rating
-- column baseline [0 to 10]: the athlete's own baseline on that day
-- column session_id [id]: the latest squat session on the day or in the two days before
-- zero: never
-- missing: session_id when there was no squat session in those days
-- not applicable: athletes without an onset have no row
-- source: see flare_day
-- checks: rating > baseline
with onsets as (
    select
        flare_day.athlete_id,
        flare_up.athlete,
        flare_day.number,
        flare_day.date,
        flare_day.rating,
        flare_day.baseline
    from flare_day
    inner join setting on flare_day.rise = setting.flare_rise
    inner join flare_up on flare_day.athlete_id = flare_up.athlete_id and flare_day.number = flare_up.number
    where flare_day.is_onset
),

last_of_day as (
    select session_id, athlete_id, date
    from squat_session
    qualify row_number() over (partition by athlete_id, date order by ordinal desc) = 1
)

select
    onsets.*,
    case when last_of_day.date >= onsets.date - 2 then last_of_day.session_id end as session_id
from onsets
asof left join last_of_day on onsets.athlete_id = last_of_day.athlete_id and onsets.date >= last_of_day.date
order by onsets.athlete, onsets.number
