-- name: outcome_site
-- label: the sites whose pain counts as arm pain
-- one row: site
-- key: site
create table if not exists outcome_site (
    site varchar not null
)
