-- name: recorded_change
-- label: recorded changes in training
-- one row: change x athlete concerned
-- key: none
-- known: from season.toml
-- column athlete [name]: display name; missing: the whole squad
-- column what [words]: what was changed
-- column why [words]: why
-- column is_known [yes/no]: the name in season.toml is one of the logs' athletes
-- zero: never
-- missing: athlete when the whole squad changed; why when not written
-- not applicable: never
-- source: season.toml
-- checks: none
select
    coalesce(athlete.display_name, change.athlete_written) as athlete,
    change.date,
    change.what,
    change.why,
    change.is_for_all or athlete.athlete_id is not null as is_known
from change
left join athlete on change.athlete_id = athlete.athlete_id
order by change.date, change.what, athlete
