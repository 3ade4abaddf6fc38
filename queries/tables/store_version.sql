-- name: store_version
-- label: the version of these tables
-- one row: the store
-- key: schema_version
create table if not exists store_version (
    schema_version integer not null
)
