-- name: competition_entry
-- label: competitions and who is entered
-- one row: competition x athlete entered
-- key: none
-- known: from season.toml
-- column athlete [name]: display name; missing: everybody
-- column is_known [yes/no]: the name in season.toml is one of the logs' athletes
-- zero: never
-- missing: athlete when everybody is entered
-- not applicable: never
-- source: season.toml
-- checks: none
select
    coalesce(athlete.display_name, competition.athlete_written) as athlete,
    competition.date,
    competition.name,
    competition.priority,
    competition.is_for_all or athlete.athlete_id is not null as is_known
from competition
left join athlete on competition.athlete_id = athlete.athlete_id
order by competition.date, competition.name, athlete
