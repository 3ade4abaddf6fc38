-- name: pain_report
-- label: one rating, or one severity word, for one site
-- one row: report of one site
-- key: none
-- note: rating 0 to 10; null where only a word was given. 0 is a report of no pain; no row is no report.
create table if not exists pain_report (
    athlete_id integer not null,
    date date not null,
    reported_at timestamp,
    rating double,
    severity_word varchar,
    site varchar not null,
    side varchar not null,
    moment varchar not null,
    kind varchar not null,
    origin varchar not null,
    evidence varchar not null,
    file_id integer not null,
    sheet varchar not null,
    source_row integer not null,
    source_column varchar not null
)
