-- name: setting
-- label: season.toml as it stood at the last import
-- one row: the store
-- key: definitions_hash
-- note: queries read their numbers from here: the event, the flare-up, the season's limits.
create table if not exists setting (
    season_name varchar not null,
    season_from date,
    season_to date,
    event_rating double not null,
    flare_rise double not null,
    flare_at_least double not null,
    flare_baseline_days integer not null,
    flare_over_after integer not null,
    seed integer not null,
    definitions_hash varchar not null,
    settings_text varchar not null
)
