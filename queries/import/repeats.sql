-- name: repeats
-- label: sessions that an earlier import already brought from another file
-- one row: incoming file x sheet x athlete x day, in the temporary table incoming_repeat
-- key: path, sheet, athlete, date
-- note: a session is a repeat when one other stored file holds all of its sets (exercise, load, reps) on that day.
--     Its sets are set aside, so that nothing counts twice; a source row of which nothing else is left is rejected.
create or replace temp table incoming_repeat as
with stored_items as (
    select
        source_file.path, athlete.display_name as athlete, session.date, lift_set.exercise,
        coalesce(lift_set.load_kg, -1) as load_kg, coalesce(lift_set.reps, -1) as reps, count(*) as n
    from lift_set
    inner join session on lift_set.session_id = session.session_id
    inner join athlete on session.athlete_id = athlete.athlete_id
    inner join source_file on lift_set.file_id = source_file.file_id
    where lift_set.file_id not in (select file_id from incoming_status)
    group by all
),

incoming_items as (
    select
        path, sheet, athlete, date, exercise, coalesce(load_kg, -1) as load_kg, coalesce(reps, -1) as reps,
        count(*) as n
    from incoming_set
    semi join stored_items
        on incoming_set.athlete = stored_items.athlete and incoming_set.date = stored_items.date
    group by all
),

in_all as (
    select path, sheet, athlete, date, sum(n) as n from incoming_items group by path, sheet, athlete, date
),

shared as (
    select
        incoming_items.path, incoming_items.sheet, incoming_items.athlete, incoming_items.date,
        stored_items.path as other_path, sum(least(incoming_items.n, stored_items.n)) as n
    from incoming_items
    inner join stored_items
        on
            incoming_items.athlete = stored_items.athlete
            and incoming_items.date = stored_items.date
            and incoming_items.exercise = stored_items.exercise
            and incoming_items.load_kg = stored_items.load_kg
            and incoming_items.reps = stored_items.reps
    group by all
)

select shared.path, shared.sheet, shared.athlete, shared.date, min(shared.other_path) as other_path
from shared
inner join in_all
    on
        shared.path = in_all.path
        and shared.sheet = in_all.sheet
        and shared.athlete = in_all.athlete
        and shared.date = in_all.date
        and shared.n = in_all.n
group by all;

create or replace temp table repeated_row as
select
    incoming_set.path,
    incoming_set.sheet,
    incoming_set.source_row,
    min(incoming_set.athlete) as athlete,
    min(incoming_set.date) as date,
    min(incoming_repeat.other_path) as other_path,
    string_agg(
        set_in_words(
            incoming_set.exercise, incoming_set.load_kg, incoming_set.reps, incoming_set.rpe, incoming_set.rir,
            incoming_set.bar, incoming_set.bar_position, incoming_set.grip_width, incoming_set.is_warm_up,
            incoming_set.is_failed
        ), ' | '
        order by incoming_set.set_number
    ) as value
from incoming_set
inner join incoming_repeat
    on
        incoming_set.path = incoming_repeat.path
        and incoming_set.sheet = incoming_repeat.sheet
        and incoming_set.athlete = incoming_repeat.athlete
        and incoming_set.date = incoming_repeat.date
group by incoming_set.path, incoming_set.sheet, incoming_set.source_row;

delete from incoming_set
where (path, sheet, athlete, date) in (select (path, sheet, athlete, date) from incoming_repeat);

-- a rating that the same row repeats goes with it; one that differs is a report of its own
delete from incoming_pain
where
    (path, sheet, source_row) in (select (path, sheet, source_row) from repeated_row)
    and (athlete, date, site, side, moment, kind, coalesce(rating, -1)) in (
        select
            (
                athlete.display_name, pain_report.date, pain_report.site, pain_report.side, pain_report.moment,
                pain_report.kind, coalesce(pain_report.rating, -1)
            )
        from pain_report
        inner join athlete on pain_report.athlete_id = athlete.athlete_id
        where pain_report.file_id not in (select file_id from incoming_status)
    );

insert into incoming_rejected by name
with left_over as (
    select path, sheet, source_row from incoming_set
    semi join repeated_row using (path, sheet, source_row)
    union
    select path, sheet, source_row from incoming_session
    semi join repeated_row using (path, sheet, source_row)
    union
    select path, sheet, source_row from incoming_pain
    semi join repeated_row using (path, sheet, source_row)
    union
    select path, sheet, source_row from incoming_screen
    semi join repeated_row using (path, sheet, source_row)
)

select
    repeated_row.path,
    repeated_row.sheet,
    repeated_row.source_row,
    '' as source_column,
    repeated_row.value,
    'the session of ' || repeated_row.athlete || ' on ' || repeated_row.date || ' stands in '
    || repeated_row.other_path || ' already, imported earlier' as reason,
    'nothing, unless both took place; remove one of the two copies' as remedy,
    (repeated_row.path, repeated_row.sheet, repeated_row.source_row) not in (
        select (left_over.path, left_over.sheet, left_over.source_row) from left_over
    ) as is_whole_row
from repeated_row;

update incoming_sheet
set
    rows_stored = rows_stored - gone.n,
    rows_rejected = rows_rejected + gone.n
from (
    select repeated_row.path, repeated_row.sheet, count(*) as n
    from repeated_row
    inner join incoming_rejected
        on
            repeated_row.path = incoming_rejected.path
            and repeated_row.sheet = incoming_rejected.sheet
            and repeated_row.source_row = incoming_rejected.source_row
            and incoming_rejected.is_whole_row
    group by repeated_row.path, repeated_row.sheet
) as gone
where incoming_sheet.path = gone.path and incoming_sheet.sheet = gone.sheet
