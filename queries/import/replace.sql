-- name: replace
-- label: the incoming files take the place of what the store holds of them
-- one row: none; statements run inside the import's one transaction
-- key: none
-- note: people and sessions keep their ids; those that no row speaks of any more go.
delete from lift_set where file_id in (select file_id from incoming_status);
delete from session_entry where file_id in (select file_id from incoming_status);
delete from pain_report where file_id in (select file_id from incoming_status);
delete from screen where file_id in (select file_id from incoming_status);
delete from rejected_row where file_id in (select file_id from incoming_status);
delete from vocabulary_choice where file_id in (select file_id from incoming_status);
delete from source_sheet where file_id in (select file_id from incoming_status);
delete from source_file where file_id in (select file_id from incoming_status);

insert into source_file
select incoming_status.file_id, incoming_file.*
from incoming_file
inner join incoming_status on incoming_file.path = incoming_status.path;

insert into source_sheet by name
select
    incoming_status.file_id,
    incoming_sheet.* exclude (path, headings, meanings),
    map(incoming_sheet.headings, incoming_sheet.meanings) as columns
from incoming_sheet
inner join incoming_status on incoming_sheet.path = incoming_status.path;

insert into rejected_row
select incoming_status.file_id, sheet, source_row, source_column, value, reason, remedy, is_whole_row
from incoming_rejected
inner join incoming_status on incoming_rejected.path = incoming_status.path;

insert into vocabulary_choice
select incoming_status.file_id, sheet, kind, written, understood, how, nearest, n_rows
from incoming_choice
inner join incoming_status on incoming_choice.path = incoming_status.path;

create or replace temp table known_alias as
select athlete.display_name as name, unnest(athlete.aliases) as alias from athlete
union
select athlete as name, unnest(aliases) as alias from incoming_person;

insert into athlete
with names as (
    select athlete from incoming_set
    union
    select athlete from incoming_session
    union
    select athlete from incoming_pain
    union
    select athlete from incoming_screen
)

select
    (
        (select coalesce(max(athlete_id), 0) from athlete) + row_number() over (order by names.athlete)
    )::integer as athlete_id,
    names.athlete as display_name,
    [] as aliases
from names
where names.athlete not in (select athlete.display_name from athlete);

update athlete
set
    aliases = (
        select coalesce(list_sort(list(known_alias.alias)), [])
        from known_alias
        where known_alias.name = athlete.display_name
    );

insert into session by name
with days as (
    select athlete, date, ordinal from incoming_set
    union
    select athlete, date, ordinal from incoming_session
)

select
    (
        (select coalesce(max(session_id), 0) from session)
        + row_number() over (order by athlete.athlete_id, days.date, days.ordinal)
    )::integer as session_id,
    athlete.athlete_id,
    days.date,
    days.ordinal
from days
inner join athlete on days.athlete = athlete.display_name
anti join session as known
    on
        athlete.athlete_id = known.athlete_id
        and days.date = known.date
        and days.ordinal = known.ordinal;

insert into lift_set
select
    session.session_id, incoming_set.* exclude (athlete, date, ordinal, path, sheet, source_row, source_column),
    incoming_status.file_id, incoming_set.sheet, incoming_set.source_row, incoming_set.source_column
from incoming_set
inner join incoming_status on incoming_set.path = incoming_status.path
inner join athlete on incoming_set.athlete = athlete.display_name
inner join session
    on
        athlete.athlete_id = session.athlete_id
        and incoming_set.date = session.date
        and incoming_set.ordinal = session.ordinal;

insert into session_entry
select
    session.session_id, incoming_session.session_rpe, incoming_session.duration_min, incoming_session.started_at,
    incoming_session.note, incoming_status.file_id, incoming_session.sheet, incoming_session.source_row,
    incoming_session.source_column
from incoming_session
inner join incoming_status on incoming_session.path = incoming_status.path
inner join athlete on incoming_session.athlete = athlete.display_name
inner join session
    on
        athlete.athlete_id = session.athlete_id
        and incoming_session.date = session.date
        and incoming_session.ordinal = session.ordinal;

insert into pain_report
select
    athlete.athlete_id, incoming_pain.* exclude (athlete, path, sheet, source_row, source_column),
    incoming_status.file_id, incoming_pain.sheet, incoming_pain.source_row, incoming_pain.source_column
from incoming_pain
inner join incoming_status on incoming_pain.path = incoming_status.path
inner join athlete on incoming_pain.athlete = athlete.display_name;

insert into screen
select
    athlete.athlete_id, incoming_screen.* exclude (athlete, path, sheet, source_row, source_column),
    incoming_status.file_id, incoming_screen.sheet, incoming_screen.source_row, incoming_screen.source_column
from incoming_screen
inner join incoming_status on incoming_screen.path = incoming_status.path
inner join athlete on incoming_screen.athlete = athlete.display_name;

create or replace temp table session_now as
with written as (
    select
        session_id,
        arg_min(session_rpe, file_id * 10000000::bigint + source_row) as session_rpe,
        arg_min(duration_min, file_id * 10000000::bigint + source_row) as duration_min,
        arg_min(started_at, file_id * 10000000::bigint + source_row) as started_at,
        arg_min(note, file_id * 10000000::bigint + source_row) as note
    from session_entry
    group by session_id
)

select
    session.session_id, session.athlete_id, session.date, session.ordinal, written.session_rpe,
    written.duration_min, written.started_at, written.note
from session
left join written on session.session_id = written.session_id
where
    session.session_id in (select lift_set.session_id from lift_set)
    or session.session_id in (select session_entry.session_id from session_entry);

delete from session;
insert into session select * from session_now;

delete from athlete
where
    athlete_id not in (select session.athlete_id from session)
    and athlete_id not in (select pain_report.athlete_id from pain_report)
    and athlete_id not in (select screen.athlete_id from screen);
