-- name: model_frame
-- label: the rows of every model
-- one row: squat session within [season] from and to, sorted by athlete, date, ordinal
-- key: session_id
-- known: column by column; lead_ columns and the ratings after the session only afterwards
-- column athlete [name]: display name
-- column session_id [id]: the session in the store
-- column date [date]: day of the session
-- column season [number]: 0 for the store's first season
-- column day [days]: days since the season's first logged day
-- column week [weeks]: whole weeks since then
-- column intensity [% of 1RM]: heaviest back squat over the estimated 1RM for that bar
-- column intensity_source [word]: where the 1RM comes from: own bar, squad ratio, published ratio, none
-- column bar [word]: straight, safety, cambered, other; missing when not written
-- column grip_width [word]: narrow, medium, wide; missing when not written
-- column bar_position [word]: high, low; missing when not written
-- column grip_applies [yes/no]: a grip width is written, on whatever bar
-- column sets_7d [sets]: working squat sets of the 7 days before
-- column session_sets [sets]: working squat sets of this session
-- column rating [0 to 10]: highest arm rating in the outcome window
-- column rating_first [0 to 10]: the window's first report alone
-- column n_reports [count]: reports in the window; 0 when unreported
-- column rating_elsewhere [0 to 10]: highest rating of knee, hip or back in the same window; the outcome of a check
-- column last_rating [0 to 10]: latest rating before the session
-- column last_rating_age [days]: its age
-- column second_last_rating [0 to 10]: the rating before that
-- column recent_rating [0 to 10]: weighted mean of earlier ratings, half-life 10 days
-- column any_event_7d [0 or 1]: a rating of the past 7 days reached the event rating
-- column last_rating_pre [0 to 10]: latest rating up to day d-8
-- column last_rating_pre_age [days]: its age on the session's day
-- column second_last_rating_pre [0 to 10]: the rating before that
-- column recent_rating_pre [0 to 10]: weighted mean of the ratings up to day d-8
-- column any_event_8_14d [0 or 1]: a rating of the days d-14 to d-8 reached the event rating
-- column older_sets [sets a session]: weighted mean of the session sets up to day d-8, half-life 7 days
-- column past_intensity [% of 1RM]: weighted mean of earlier sessions, half-life 7 days
-- column past_safety [share]: the same for the safety bar
-- column past_cambered [share]: the same for the cambered bar
-- column past_other [share]: the same for another bar
-- column past_narrow [share]: the same for a narrow grip
-- column past_wide [share]: the same for a wide grip
-- column past_high [share]: the same for a high bar position
-- column weeks_to_competition [weeks]: to the next competition entered, at most 12
-- column competition_entered [yes/no]: such a competition lies ahead
-- column pressing_7d [sets]: press sets of the 7 days before
-- column pulling_7d [sets]: pull sets of the 7 days before
-- column elbow_flexion_7d [sets]: curl sets of the 7 days before
-- column logs_other_lifts [yes/no]: the athlete logs presses, pulls or curls at all
-- column lead_intensity [% of 1RM]: mean over the squat sessions of the 7 days after
-- column lead_safety [share]: the same for the safety bar
-- column lead_cambered [share]: the same for the cambered bar
-- column lead_narrow [share]: the same for a narrow grip
-- column lead_wide [share]: the same for a wide grip
-- column lead_high [share]: the same for a high bar position
-- column lead_sets [sets]: working squat sets of the 7 days after
-- column is_mixed_bar [yes/no]: the session's sets name more than one bar
-- column is_mixed_grip [yes/no]: the session's sets name more than one grip width
-- column one_rm_kg [kg]: estimated 1RM for the bar before the session
-- column top_load_kg [kg]: load of the heaviest back squat
-- column effort_unmarked_share [share]: sessions behind the 1RM whose best set has no effort mark
-- zero: a true zero: none, no pain
-- missing: not written, not reported, or not logged; see each column's own query
-- not applicable: sessions without a back squat, or outside the season, have no row
-- source: analysis plan sections 3, 10 and 11
-- checks: day >= 0; week >= 0; n_reports >= 0; (rating is null) = (n_reports = 0)
select
    athlete.display_name as athlete,
    squat_session.session_id,
    squat_session.date,
    season.season,
    (squat_session.date - season.first_date)::integer as day,
    floor((squat_session.date - season.first_date) / 7)::double as week,
    squat_session.intensity,
    squat_session.intensity_source,
    squat_session.bar,
    squat_session.grip_width,
    squat_session.bar_position,
    squat_session.grip_width is not null as grip_applies,
    sets_7d.sets_7d,
    squat_session.session_sets,
    session_rating.rating,
    session_rating.rating_first,
    coalesce(session_rating.n_reports, 0)::integer as n_reports,
    session_rating_elsewhere.rating_elsewhere,
    rating_before.* exclude (session_id),
    rating_before_window.* exclude (session_id),
    older_sets.older_sets,
    past_exposure.* exclude (session_id),
    weeks_to_competition.* exclude (session_id),
    other_work_7d.* exclude (session_id),
    lead_exposure.* exclude (session_id),
    squat_session.is_mixed_bar,
    squat_session.is_mixed_grip,
    squat_session.one_rm_kg,
    squat_session.top_load_kg,
    squat_session.effort_unmarked_share
from squat_session
inner join athlete on squat_session.athlete_id = athlete.athlete_id
inner join season on squat_session.date between season.first_date and season.last_date
left join session_rating on squat_session.session_id = session_rating.session_id
left join session_rating_elsewhere on squat_session.session_id = session_rating_elsewhere.session_id
inner join sets_7d on squat_session.session_id = sets_7d.session_id
inner join rating_before on squat_session.session_id = rating_before.session_id
inner join rating_before_window on squat_session.session_id = rating_before_window.session_id
inner join older_sets on squat_session.session_id = older_sets.session_id
inner join past_exposure on squat_session.session_id = past_exposure.session_id
inner join weeks_to_competition on squat_session.session_id = weeks_to_competition.session_id
inner join other_work_7d on squat_session.session_id = other_work_7d.session_id
inner join lead_exposure on squat_session.session_id = lead_exposure.session_id
order by athlete.display_name, squat_session.date, squat_session.ordinal
