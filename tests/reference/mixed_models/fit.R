# The calls behind values.json. Usage: Rscript fit.R S.csv
# R 4.2.2, lme4 1.1-31, ordinal 2022.11-16, glmmTMB 1.1.5.
library(lme4); library(ordinal); library(glmmTMB)
d <- read.csv(commandArgs(trailingOnly = TRUE)[1], stringsAsFactors = TRUE)
d$rating <- factor(d$pain, ordered = TRUE)
fixed <- ~ int_w + bar + grip + vol + lag1
with_random <- function(outcome, random) as.formula(paste(outcome, "~ int_w + bar + grip + vol + lag1 +", random))
ri <- "(1 | athlete)"; rs <- "(1 + int_w | athlete)"

fits <- list(
  lmm_ri_reml = lmer(with_random("y", ri), d),
  lmm_rs_reml = lmer(with_random("y", rs), d),
  lmm_rs_ml = lmer(with_random("y", rs), d, REML = FALSE),
  glmm_ri_agq7 = glmer(with_random("flare", ri), d, binomial, nAGQ = 7),
  glmm_ri_agq25 = glmer(with_random("flare", ri), d, binomial, nAGQ = 25),
  tmb_glmm_ri = glmmTMB(with_random("flare", ri), d, binomial),
  tmb_glmm_rs = glmmTMB(with_random("flare", rs), d, binomial),
  clm_none = clm(rating ~ int_w + bar + grip + vol + lag1, data = d),
  clmm_ri_lap = clmm(with_random("rating", ri), d),
  clmm_ri_agq7 = clmm(with_random("rating", ri), d, nAGQ = 7),
  clmm_rs_lap = clmm(with_random("rating", rs), d)
)
for (name in names(fits)) { cat("\n==", name, "\n"); print(summary(fits[[name]]), digits = 12); print(logLik(fits[[name]]), digits = 12) }
