-- name: note_report
-- label: pain reports read from free text
-- one row: report
-- key: none
-- known: after the import
-- column file [path]: below the folder that was given
-- column row [number]: as the spreadsheet program shows it
-- column athlete [name]: display name
-- column rating [0 to 10]: missing where only a word was given
-- column evidence [text]: the words that led to it
-- zero: a note that says no pain
-- missing: rating where only a severity word was given
-- not applicable: reports from pain columns and forms
-- source: the import
-- checks: rating between 0 and 10
select
    source_file.path as file,
    pain_report.sheet,
    pain_report.source_row as row,
    athlete.display_name as athlete,
    pain_report.date,
    pain_report.rating,
    pain_report.severity_word,
    pain_report.site,
    pain_report.side,
    pain_report.kind,
    pain_report.evidence
from pain_report
inner join source_file on pain_report.file_id = source_file.file_id
inner join athlete on pain_report.athlete_id = athlete.athlete_id
where pain_report.origin = 'note'
order by file, pain_report.sheet, pain_report.source_row
