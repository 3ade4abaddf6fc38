-- name: flare_up_by_rise
-- label: flare-ups, also under the other rises
-- one row: athlete x rise x flare-up
-- key: athlete_id, rise, number
-- known: the onset on its day; the end only later
-- column athlete [name]: display name
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
-- checks: end_date > onset_date; last_high_date >= onset_date; peak between 0 and 10; is_over = (end_date is not null)
select
    flare_day.athlete_id,
    athlete.display_name as athlete,
    flare_day.rise,
    flare_day.number,
    min(flare_day.date) as onset_date,
    max(flare_day.date) filter (where flare_day.is_end) as end_date,
    max(flare_day.date) filter (where flare_day.is_high) as last_high_date,
    max(flare_day.rating)::double as peak,
    bool_or(flare_day.is_end) as is_over,
    count(*)::integer as reported_days
from flare_day
inner join athlete on flare_day.athlete_id = athlete.athlete_id
where flare_day.in_flare
group by flare_day.athlete_id, athlete.display_name, flare_day.rise, flare_day.number
