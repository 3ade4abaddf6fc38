-- name: definition_seen
-- label: the definitions that this store has met, and when first
-- one row: definitions hash
-- key: definitions_hash
-- note: definitions is canonical JSON: event, flare-up, assumptions, seed, and what the program declares
--     (contrasts, sizes, references, data gate, limits of the grades); rows of earlier versions lack the last.
create table if not exists definition_seen (
    definitions_hash varchar not null,
    first_seen date not null,
    definitions varchar not null
)
