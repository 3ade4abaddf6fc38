# Exact fits of the simulated data. Usage, in this folder (a few minutes of one core for S, a quarter of an hour for M):
#   Rscript simulated.R S S.csv.gz simulated_S.json
#   python make_data.py M > M.csv && Rscript simulated.R M M.csv simulated_M.json
source("polish.R")
arguments <- commandArgs(trailingOnly = TRUE)

read <- function(path) {
  d <- read.csv(path, stringsAsFactors = TRUE)
  d$rating <- factor(d$pain, ordered = TRUE)
  d
}
terms <- ~ int_w + bar + grip + vol + lag1
design <- function(d) model.matrix(terms, d)[, -1]
by <- function(outcome, random) as.formula(paste(outcome, "~ int_w + bar + grip + vol + lag1 +", random))
ri <- "(1 | athlete)"; rs <- "(1 + int_w | athlete)"
load_cumulative()

d <- read(arguments[2])
if (arguments[1] == "S") {
  ones <- matrix(1, nrow(d)); slopes <- cbind(1, d$int_w)
  tmb_cumulative("S_cumulative_ri", d$rating, design(d), ones, d$athlete, start_of(d$rating))
  tmb_cumulative("S_cumulative_rs", d$rating, design(d), slopes, d$athlete, start_of(d$rating))
  clmm_aghq("S_cumulative_ri_agq7", by("rating", ri), d, 7)
  tmb_logistic("S_logistic_ri", by("flare", ri), d)
  tmb_logistic("S_logistic_rs", by("flare", rs), d)
  glmer_aghq("S_logistic_ri_agq7", by("flare", ri), d, 7)
  glmer_aghq("S_logistic_ri_agq25", by("flare", ri), d, 25)
  lmm("S_linear_rs_reml", by("y", rs), d)
  lmm("S_linear_rs_ml", by("y", rs), d, FALSE)
} else {
  # From where lme4 and ordinal stopped (values.json); the logistic model is the cumulative one of a single threshold.
  stopped <- jsonlite::read_json("values.json")$fits
  start <- function(fit, entries) c(unname(unlist(fit$beta)), entries)
  lmm("M_linear_rs_reml", by("y", rs), d); write_results(arguments[3])
  ones <- matrix(1, nrow(d)); slopes <- cbind(1, d$int_w)
  fit <- stopped$M_clmm_ri_lap
  tmb_cumulative("M_cumulative_ri", d$rating, design(d), ones, d$athlete, start_of(d$rating),
                 start(fit, fit$sd0))
  write_results(arguments[3])
  fit <- stopped$M_glmm_rs_lap
  near <- start(fit, c(fit$sd0, fit$rho * fit$sd1, fit$sd1 * sqrt(1 - fit$rho^2))); near[1] <- -near[1]
  flare <- factor(d$flare)
  tmb_cumulative("M_logistic_rs", flare, design(d), slopes, d$athlete, start_of(flare), near)
  b <- results$M_logistic_rs$beta  # the intercept is minus the threshold
  names(b)[1] <- "(Intercept)"; b[[1]] <- -b[[1]]; results$M_logistic_rs$beta <- b
}
write_results(arguments[3])
