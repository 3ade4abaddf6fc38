-- name: words
-- label: a set, and what is said of a session, as one line of words (for the list of changes)
-- one row: none; two macros
-- key: none
create or replace temp macro set_in_words(
    exercise, load_kg, reps, rpe, rir, bar, bar_position, grip_width, is_warm_up, is_failed
) as concat_ws(
    ', ',
    exercise,
    coalesce(format('{:g}', load_kg), '?') || ' kg x ' || coalesce(reps::varchar, '?'),
    'RPE ' || format('{:g}', rpe),
    format('{:g}', rir) || ' in reserve',
    bar || ' bar',
    bar_position || ' position',
    grip_width || ' grip',
    case when is_warm_up then 'warm-up' end,
    case when is_failed then 'failed' end
);

create or replace temp macro session_in_words(session_rpe, duration_min, note) as concat_ws(
    ', ', 'session RPE ' || format('{:g}', session_rpe), format('{:g}', duration_min) || ' min', note
)
