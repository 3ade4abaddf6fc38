-- name: warning_word
-- label: words beside which every report repeats the advice to see a clinician
-- one row: kind x word
-- key: kind, word
create table if not exists warning_word (
    kind varchar not null,
    word varchar not null
)
