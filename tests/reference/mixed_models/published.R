# Exact fits of open data: those that R's packages bring along, and CSV files of the others. Usage, in this folder:
#   python ../../models/open_data.py FOLDER && Rscript published.R FOLDER published.json
# Also -nlme 3.1-162, -hsaur3 1.0-13, -mlmrev 1.0-8, -survival 3.5-3, and -lmertest 3.1-3 with -pbkrtest 0.5.2 for df.
source("polish.R")
arguments <- commandArgs(trailingOnly = TRUE)
from <- function(name, package) { data(list = name, package = package, envir = environment()); get(name) }
csv <- function(name) {
  d <- read.csv(file.path(arguments[1], paste0(name, ".csv")))
  if ("rating" %in% names(d)) { d$rating <- factor(d$rating, ordered = TRUE); d$group <- factor(d$group) }
  d
}
load_cumulative()

# ---- cumulative logit
wine <- from("wine", "ordinal")
tmb_cumulative("wine_laplace", wine$rating, model.matrix(~ temp + contact, wine)[, -1], matrix(1, nrow(wine)),
               wine$judge, start_of(wine$rating))
clmm_aghq("wine_agq10", rating ~ temp + contact + (1 | judge), wine, 10)
insomnia <- csv("insomnia")
clmm_aghq("insomnia_agq20", rating ~ x1 + x2 + x3 + (1 | group), insomnia, 20)
arthritis <- csv("arthritis")
clmm_aghq("arthritis_agq20", rating ~ x1 + x2 + x3 + x4 + x5 + x6 + x7 + (1 | group), arthritis, 20)

# ---- logistic
respiratory <- from("respiratory", "HSAUR3")
resp <- subset(respiratory, month > "0")
resp$baseline <- rep(subset(respiratory, month == "0")$status, rep(4, 111))
resp$y <- as.numeric(resp$status == "good")
resp$month <- resp$month[, drop = TRUE]
tmb_logistic("respiratory_laplace", y ~ baseline + month + treatment + gender + age + centre + (1 | subject), resp)
Contraception <- from("Contraception", "mlmRev")
Contraception$y <- as.numeric(Contraception$use == "Y")
tmb_logistic("contraception_ri", y ~ urban + age + livch + (1 | district), Contraception)
tmb_logistic("contraception_rs", y ~ urban + age + livch + (urban | district), Contraception)
glmer_aghq("contraception_ri_agq7", y ~ urban + age + livch + (1 | district), Contraception, 7)
glmer_aghq("ohio_agq25", resp ~ age * smoke + (1 | id), csv("ohio"), 25)
toenail <- from("toenail", "HSAUR3")
toenail$y <- as.numeric(toenail$outcome == "moderate or severe")
glmer_aghq("toenail_agq25", y ~ treatment * time + (1 | patientID), toenail, 25)

# ---- linear
Orthodont <- as.data.frame(from("Orthodont", "nlme"))
Exam <- from("Exam", "mlmRev")
lmm("rail", travel ~ 1 + (1 | Rail), as.data.frame(from("Rail", "nlme")))
lmm("dyestuff", Yield ~ 1 + (1 | Batch), from("Dyestuff", "lme4"))
lmm("orthodont_girls", distance ~ age + (1 | Subject), subset(Orthodont, Sex == "Female"))
lmm("orthodont_slopes", distance ~ age + Sex + (age | Subject), Orthodont)
lmm("exam_ri", normexam ~ standLRT + sex + schgend + (1 | school), Exam)
Exam$sex <- relevel(Exam$sex, "M")
lmm("exam_rs", normexam ~ standLRT + sex + type + (standLRT | school), Exam)
Oxboys <- as.data.frame(from("Oxboys", "nlme"))
lmm("oxboys", height ~ age + I(age^2) + I(age^3) + I(age^4) + (age + I(age^2) | Subject), Oxboys)
BtheB <- from("BtheB", "HSAUR3")
BtheB$subject <- factor(rownames(BtheB))
long <- reshape(BtheB, idvar = "subject", varying = c("bdi.2m", "bdi.3m", "bdi.5m", "bdi.8m"), v.names = "bdi",
                direction = "long", times = c(2, 3, 5, 8))
long <- long[!is.na(long$bdi), ]
lmm("btheb_ml", bdi ~ bdi.pre + time + treatment + drug + length + (1 | subject), long, FALSE)

# ---- degrees of freedom: Satterthwaite (lmerTest), Kenward and Roger with their adjusted errors (pbkrtest)
df_of <- function(name, formula, data) {
  fit <- lmerTest::lmer(formula, data, control = lmerControl(optCtrl = list(xtol_abs = 1e-10, ftol_abs = 1e-10)))
  s <- coef(summary(fit)); k <- coef(summary(fit, ddf = "Kenward-Roger"))
  results[[name]] <<- list(engine = "lmerTest, pbkrtest", satterthwaite = unname(s[, "df"]),
                           kenward_roger = unname(k[, "df"]), kenward_roger_se = unname(k[, "Std. Error"]))
}
df_of("df_sleepstudy", Reaction ~ Days + (Days | Subject), from("sleepstudy", "lme4"))
df_of("df_sleepstudy_independent", Reaction ~ Days + (Days || Subject), from("sleepstudy", "lme4"))
df_of("df_orthodont", distance ~ age + Sex + (age | Subject), Orthodont)
df_of("df_btheb", bdi ~ bdi.pre + time + treatment + drug + length + (1 | subject), long)

# ---- conditional logit
suppressMessages(library(survival))
infert <- from("infert", "datasets")
fit <- clogit(case ~ spontaneous + induced + strata(stratum), infert)
results[["infert"]] <- list(engine = "survival", beta = as.list(coef(fit)), se = unname(sqrt(diag(vcov(fit)))),
                            loglik = fit$loglik[2])
write_results(arguments[2])
