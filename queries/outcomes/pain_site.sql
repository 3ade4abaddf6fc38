-- name: pain_site
-- label: where it hurt
-- one row: site x side
-- key: site, side
-- known: after the season
-- column reports [count]: pain reports with a rating of 1 or more
-- column athletes [count]: lifters who made them
-- column is_outcome_site [yes/no]: one of the sites whose pain counts as arm pain
-- zero: a site without such a report has no row
-- missing: severity words without a number
-- not applicable: soreness, numbness and other kinds
-- source: counts of reports
-- checks: athletes <= reports
select
    pain_report.site,
    pain_report.side,
    count(*)::integer as reports,
    count(distinct pain_report.athlete_id)::integer as athletes,
    pain_report.site in (select outcome_site.site from outcome_site) as is_outcome_site
from pain_report
inner join season on pain_report.date between season.first_date and season.last_date
where pain_report.kind = 'pain' and pain_report.rating >= 1
group by pain_report.site, pain_report.side
order by reports desc, pain_report.site asc, pain_report.side asc
