-- name: change_concerned
-- label: recorded changes, each once, with everybody concerned
-- one row: date x what was changed x why
-- key: none
-- known: from season.toml
-- column what [words]: what was changed
-- column why [words]: why
-- column athletes [list of names]: display names; missing: the whole squad
-- zero: never
-- missing: athletes when the whole squad changed; why when not written
-- not applicable: never
-- source: season.toml
-- checks: none
select
    date,
    what,
    why,
    list(athlete order by athlete) filter (where athlete is not null) as athletes
from recorded_change
group by date, what, why
order by date, what, why
