-- name: differences
-- label: what the incoming files change in what the store holds of them
-- one row: set, session, report or screen that appeared, disappeared or changed, in the temporary table
--     incoming_difference
-- key: none
-- note: a row that only moved up or down in its sheet is no change.
create or replace temp table incoming_difference as
with stored as (
    select
        incoming_status.path, lift_set.sheet, lift_set.source_row, athlete.display_name as athlete, session.date,
        concat_ws(
            ', ', lift_set.exercise_written, 'set ' || lift_set.set_number,
            case when session.ordinal > 1 then 'session ' || session.ordinal end
        ) as what,
        set_in_words(
            lift_set.exercise, lift_set.load_kg, lift_set.reps, lift_set.rpe, lift_set.rir, lift_set.bar,
            lift_set.bar_position, lift_set.grip_width, lift_set.is_warm_up, lift_set.is_failed
        ) as words
    from lift_set
    inner join incoming_status on lift_set.file_id = incoming_status.file_id
    inner join session on lift_set.session_id = session.session_id
    inner join athlete on session.athlete_id = athlete.athlete_id
    union all
    select
        incoming_status.path, session_entry.sheet, session_entry.source_row, athlete.display_name, session.date,
        concat_ws(', ', 'session', case when session.ordinal > 1 then session.ordinal end) as what,
        session_in_words(session_entry.session_rpe, session_entry.duration_min, session_entry.note) as words
    from session_entry
    inner join incoming_status on session_entry.file_id = incoming_status.file_id
    inner join session on session_entry.session_id = session.session_id
    inner join athlete on session.athlete_id = athlete.athlete_id
    union all
    select
        incoming_status.path, pain_report.sheet, pain_report.source_row, athlete.display_name, pain_report.date,
        concat_ws(', ', pain_report.kind, pain_report.site, pain_report.side, pain_report.moment) as what,
        coalesce(format('{:g}', pain_report.rating), pain_report.severity_word) as words
    from pain_report
    inner join incoming_status on pain_report.file_id = incoming_status.file_id
    inner join athlete on pain_report.athlete_id = athlete.athlete_id
    union all
    select
        incoming_status.path, screen.sheet, screen.source_row, athlete.display_name, screen.date,
        concat_ws(', ', 'test', screen.test, screen.side) as what,
        format('{:g}', screen.value) || ' ' || screen.unit as words
    from screen
    inner join incoming_status on screen.file_id = incoming_status.file_id
    inner join athlete on screen.athlete_id = athlete.athlete_id
),

incoming as (
    select
        path, sheet, source_row, athlete, date,
        concat_ws(
            ', ', exercise_written, 'set ' || set_number, case when ordinal > 1 then 'session ' || ordinal end
        ) as what,
        set_in_words(
            exercise, load_kg, reps, rpe, rir, bar, bar_position, grip_width, is_warm_up, is_failed
        ) as words
    from incoming_set
    union all
    select
        path, sheet, source_row, athlete, date,
        concat_ws(', ', 'session', case when ordinal > 1 then ordinal end) as what,
        session_in_words(session_rpe, duration_min, note) as words
    from incoming_session
    union all
    select
        path, sheet, source_row, athlete, date, concat_ws(', ', kind, site, side, moment) as what,
        coalesce(format('{:g}', rating), severity_word) as words
    from incoming_pain
    union all
    select
        path, sheet, source_row, athlete, date, concat_ws(', ', 'test', test, side) as what,
        format('{:g}', value) || ' ' || unit as words
    from incoming_screen
),

stored_numbered as (
    select *, row_number() over (partition by path, athlete, date, what order by source_row, words) as nth from stored
),

incoming_numbered as (
    select *, row_number() over (partition by path, athlete, date, what order by source_row, words) as nth
    from incoming
    where path in (select path from incoming_status where status != 'new')
)

select
    coalesce(incoming_numbered.path, stored_numbered.path) as path,
    coalesce(incoming_numbered.sheet, stored_numbered.sheet) as sheet,
    coalesce(incoming_numbered.source_row, stored_numbered.source_row) as source_row,
    coalesce(incoming_numbered.athlete, stored_numbered.athlete) as athlete,
    coalesce(incoming_numbered.date, stored_numbered.date) as date,
    coalesce(incoming_numbered.what, stored_numbered.what) as what,
    stored_numbered.words as was,
    incoming_numbered.words as is_now
from stored_numbered
full outer join incoming_numbered
    on
        stored_numbered.path = incoming_numbered.path
        and stored_numbered.athlete = incoming_numbered.athlete
        and stored_numbered.date = incoming_numbered.date
        and stored_numbered.what = incoming_numbered.what
        and stored_numbered.nth = incoming_numbered.nth
where stored_numbered.words is distinct from incoming_numbered.words
