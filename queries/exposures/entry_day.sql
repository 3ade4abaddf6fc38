-- name: entry_day
-- label: days with an entry, and the gaps between them
-- one row: athlete x day with any entry (training or pain report)
-- key: athlete_id, date
-- kept: table
-- known: the gap before on the day itself; the gap after only later
-- column unlogged_before [days]: days without an entry just before this one; null on the first
-- column unlogged_after [days]: days without an entry just after this one; null on the last
-- zero: entries on two days running
-- missing: before the first and after the last entry nothing is known
-- not applicable: never
-- source: more than 10 days without an entry are unlogged, shorter gaps rest: our own rule, no published source
-- checks: unlogged_before >= 0; unlogged_after >= 0
with entries as (
    select session.athlete_id, session.date from session
    union
    select pain_report.athlete_id, pain_report.date from pain_report
)

select
    athlete_id,
    date,
    (date - lag(date) over athlete_days - 1)::integer as unlogged_before,
    (lead(date) over athlete_days - date - 1)::integer as unlogged_after
from entries
window athlete_days as (partition by athlete_id order by date)
