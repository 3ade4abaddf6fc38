-- name: word_read
-- label: what every word was taken to mean
-- one row: file x sheet x kind x word
-- key: none
-- known: after the import
-- column file [path]: below the folder that was given
-- column kind [word]: exercise, bar, bar position, grip, site, person, column, moment, severity
-- column written [text]: as it stood
-- column understood [word]: what it was taken for; missing: not known
-- column how [words]: exact, vocabulary, season.toml, unambiguous, assumed, not known
-- column nearest [word]: the nearest known word, when not understood
-- column n_rows [rows]: where it stands
-- zero: never
-- missing: understood when not known
-- not applicable: never
-- source: the import
-- checks: n_rows >= 0
select source_file.path as file, vocabulary_choice.* exclude (file_id)
from vocabulary_choice
inner join source_file on vocabulary_choice.file_id = source_file.file_id
order by file, vocabulary_choice.sheet, vocabulary_choice.kind, vocabulary_choice.written
