-- name: session_in_two_files
-- label: the same sets in two files
-- one row: session x exercise x pair of files whose sets of it agree
-- key: none
-- known: after the import
-- column athlete [name]: display name
-- column file [path]: the one
-- column other_file [path]: the other
-- column sets [count]: sets of that exercise that each of the two files gives
-- zero: none found: no row
-- missing: never
-- not applicable: never
-- source: an athlete rarely logs exactly the same loads and reps twice on one day; ours, no published source
-- checks: sets >= 1
with by_file as (
    select
        session_id,
        exercise,
        file_id,
        count(*) as sets,
        sum(hash(load_kg, reps)) as content,
        count(load_kg) as sets_with_load
    from lift_set
    group by session_id, exercise, file_id
)

select
    athlete.display_name as athlete,
    session.date,
    one.exercise,
    one_file.path as file,
    other_file.path as other_file,
    one.sets::integer as sets
from by_file as one
inner join by_file as other
    on
        one.session_id = other.session_id
        and one.exercise = other.exercise
        and one.content = other.content
        and one.sets = other.sets
        and one.file_id < other.file_id
inner join source_file as one_file on one.file_id = one_file.file_id
inner join source_file as other_file on other.file_id = other_file.file_id
inner join session on one.session_id = session.session_id
inner join athlete on session.athlete_id = athlete.athlete_id
where one.sets_with_load > 0
order by athlete, session.date, one.exercise
