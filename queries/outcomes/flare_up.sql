-- name: flare_up
-- label: flare-ups under season.toml's definition
-- one row: athlete x flare-up with its onset in the season
-- key: athlete_id, number
-- known: the onset on its day; the end only later
-- column athlete [name]: display name
-- column number [count]: 1 for the athlete's first in the store
-- column onset_date [date]: the first high day
-- column end_date [date]: the reported day on which it was over; missing while it is not
-- column last_high_date [date]: the last high day
-- column peak [0 to 10]: its highest rating
-- column is_over [yes/no]: three (season.toml) reported days in a row were not high
-- column reported_days [days]: reported days in it
-- zero: never
-- missing: end_date while it is not over
-- not applicable: athletes without a flare-up have no row
-- source: see flare_day
-- checks: end_date > onset_date; number >= 1
select flare_up_by_rise.* exclude (rise)
from flare_up_by_rise
inner join setting on flare_up_by_rise.rise = setting.flare_rise
inner join season on flare_up_by_rise.onset_date between season.first_date and season.last_date
order by flare_up_by_rise.athlete, flare_up_by_rise.number
