-- name: files
-- label: which incoming file is new, which replaces its older self, which is an old one under a new path
-- one row: incoming file, in the temporary table incoming_status
-- key: path
create or replace temp table incoming_status as
with at_its_path as (
    select
        incoming_file.path,
        source_file.file_id,
        case when source_file.sha256 = incoming_file.sha256 then 'unchanged' else 'replaced' end as status
    from incoming_file
    inner join source_file on incoming_file.path = source_file.path
),

unknown_path as (
    select * from incoming_file
    anti join source_file on incoming_file.path = source_file.path
),

gone_path as (
    select * from source_file
    anti join incoming_file on source_file.path = incoming_file.path
),

same_content as (
    select unknown_path.path, gone_path.file_id
    from unknown_path
    inner join gone_path on unknown_path.sha256 = gone_path.sha256
),

moved as (
    select path, file_id, 'moved' as status
    from same_content
    qualify
        row_number() over (partition by path order by file_id) = 1
        and row_number() over (partition by file_id order by path) = 1
),

known as (
    select * from at_its_path
    union all
    select * from moved
)

select * from known
union all
select
    path,
    (
        (select coalesce(max(file_id), 0) from source_file) + row_number() over (order by path)
    )::integer as file_id,
    'new' as status
from incoming_file
where path not in (select known.path from known)
