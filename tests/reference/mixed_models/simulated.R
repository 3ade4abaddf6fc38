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
  lmm("M_linear_rs_reml", by("y", rs), d)
  tmb_logistic("M_logistic_rs", by("flare", rs), d)
  tmb_cumulative("M_cumulative_ri", d$rating, design(d), matrix(1, nrow(d)), d$athlete, start_of(d$rating))
  tmb_cumulative("M_cumulative_rs", d$rating, design(d), cbind(1, d$int_w), d$athlete, start_of(d$rating))
}
write_results(arguments[3])
