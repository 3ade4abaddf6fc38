-- name: warning
-- label: entries that call for a clinician's eye
-- one row: athlete x day x words
-- key: none
-- known: on the day
-- column athlete [name]: display name
-- column words [text]: the entry as it stands
-- column kind [word]: which kind of warning word it holds, or the kind of report
-- zero: no such entry: no row
-- missing: never
-- not applicable: ratings of 7 or more are added by the reports
-- source: the vocabulary of warning words; recognised, never diagnosed
-- checks: none
with entries as (
    select session.athlete_id, session.date, lift_set.note as words
    from lift_set
    inner join session on lift_set.session_id = session.session_id
    where lift_set.note is not null
    union
    select session.athlete_id, session.date, session_entry.note
    from session_entry
    inner join session on session_entry.session_id = session.session_id
    where session_entry.note is not null
    union
    select athlete_id, date, evidence from pain_report
),

folded as (
    select *, lower(strip_accents(words)) as plain from entries
),

by_word as (
    select distinct folded.athlete_id, folded.date, folded.words, warning_word.kind
    from folded
    inner join warning_word
        on
            contains(folded.plain, lower(strip_accents(warning_word.word)))
            and regexp_matches(
                folded.plain,
                '(^|[^\pL])' || regexp_escape(lower(strip_accents(warning_word.word))) || '($|[^\pL])'
            )
),

by_kind as (
    select athlete_id, date, evidence as words, kind
    from pain_report
    where kind in ('numbness', 'swelling', 'weakness')
)

select athlete.display_name as athlete, found.date, found.words, min(found.kind) as kind
from (
    select * from by_word
    union
    select * from by_kind
) as found
inner join athlete on found.athlete_id = athlete.athlete_id
group by athlete.display_name, found.date, found.words
order by athlete, found.date, found.words
