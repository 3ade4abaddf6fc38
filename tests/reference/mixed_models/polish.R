# Reference fits exact enough to judge 1e-4 of a standard error: each is taken from its package and polished by Newton's
# method, with derivatives by automatic differentiation (TMB) or Richardson's extrapolation (numDeriv). Used by
# simulated.R and published.R. Debian 12: R 4.2.2, r-cran-lme4 1.1-31, -ordinal 2022.11-16, -glmmtmb 1.1.5, -tmb 1.9.2,
# -numderiv 2016.8, -jsonlite.
suppressMessages({library(lme4); library(ordinal); library(glmmTMB); library(TMB); library(numDeriv)})
results <- list()

keep <- function(name, engine, names, beta, se, sd, sigma = NULL, loglik, decrement) {
  cat(sprintf("%-32s decrement %.1e  log-likelihood %.8f\n", name, decrement, loglik))
  made <- list(engine = engine, beta = as.list(setNames(beta, names)), se = as.list(setNames(se, names)),
               sd = as.list(sd), loglik = loglik, decrement = decrement)
  if (!is.null(sigma)) made$sigma <- sigma
  results[[name]] <<- made
}

# Newton steps to the optimum of fn; the last Hessian and the decrement g'H^-1 g left. Without an exact gradient the
# first Hessian serves every step: it is dear, and close enough there.
polish <- function(fn, gr = NULL, par, steps = 3) {
  exact <- !is.null(gr)
  slope <- if (exact) gr else function(x) numDeriv::grad(fn, x, method.args = list(d = 0.01))
  curvature <- function(x) {
    H <- if (exact) jacobian(gr, x, method.args = list(r = 2)) else numDeriv::hessian(fn, x, method.args = list(d = 0.01))
    (H + t(H)) / 2
  }
  H <- curvature(par)
  for (i in seq_len(steps)) par <- par - solve(H, slope(par))
  H <- curvature(par); g <- slope(par)
  list(par = par, H = H, value = fn(par), decrement = sum(g * solve(H, g)))
}

# The same with one Hessian by central differences, for a start within a few hundredths of a standard error.
polish_once <- function(fn, gr, par, step = 1e-4) {
  H <- sapply(seq_along(par), function(j) {
    e <- replace(numeric(length(par)), j, step)
    (gr(par + e) - gr(par - e)) / (2 * step)
  })
  H <- (H + t(H)) / 2
  for (i in 1:3) { g <- gr(par); par <- par - solve(H, g) }
  g <- gr(par)
  list(par = par, H = H, value = fn(par), decrement = sum(g * solve(H, g)))
}

sd_of <- function(entries, q) { L <- matrix(0, q, q); L[lower.tri(L, diag = TRUE)] <- entries; sqrt(rowSums(L^2)) }

# ---- cumulative logit by Laplace: TMB
# near: start from values close to the optimum, where the first Hessian serves to the end (M: each gradient is dear).
tmb_cumulative <- function(name, y, X, Z, group, start_theta, near = NULL) {
  q <- ncol(Z); A <- nlevels(group)
  entries <- diag(0.7, q)[lower.tri(diag(q), diag = TRUE)]
  f <- MakeADFun(list(y = as.integer(y) - 1L, X = X, Z = Z, group = as.integer(group) - 1L),
                 list(theta = start_theta, beta = rep(0, ncol(X)), entries = entries, u = matrix(0, q, A)),
                 random = "u", DLL = "cumulative", silent = TRUE, inner.control = list(tol = 1e-11, maxit = 200))
  gr <- function(x) as.vector(f$gr(x))
  if (is.null(near)) {
    first <- nlminb(f$par, f$fn, f$gr, control = list(iter.max = 500, eval.max = 800, rel.tol = 1e-12))
    best <- polish(f$fn, gr, first$par)
  } else best <- polish_once(f$fn, gr, near)
  n <- length(start_theta) + ncol(X)
  se <- sqrt(diag(solve(best$H)))[1:n]
  k <- levels(y)
  keep(name, "TMB", c(paste(head(k, -1), k[-1], sep = "|"), colnames(X)), best$par[1:n], se,
       sd_of(best$par[-(1:n)], q), NULL, -as.numeric(best$value), best$decrement)
}
start_of <- function(y) qlogis(head(cumsum(table(y)) / length(y), -1))

# ---- cumulative logit by AGHQ: the function that ordinal::clmm minimises
clmm_aghq <- function(name, formula, data, nodes) {
  fit <- clmm(formula, data = data, nAGQ = nodes)
  rho <- clmm(formula, data = data, nAGQ = nodes, doFit = FALSE, control = clmm.control(gradTol = 1e-8))
  best <- polish(function(x) ordinal:::getNAGQ.ssr(rho, x), NULL, unname(c(fit$alpha, fit$beta, log(unlist(fit$ST)))))
  n <- length(fit$alpha) + length(fit$beta)
  keep(name, "ordinal", c(names(fit$alpha), names(fit$beta)), best$par[1:n], sqrt(diag(solve(best$H)))[1:n],
       list(exp(best$par[n + 1])), NULL, -best$value, best$decrement)
}

# ---- logistic by AGHQ: lme4's deviance function, by theta and beta
glmer_aghq <- function(name, formula, data, nodes) {
  fit <- glmer(formula, data, binomial, nAGQ = nodes, control = glmerControl(tolPwrss = 1e-11))
  fn <- update(fit, devFunOnly = TRUE)
  best <- polish(function(x) fn(x) / 2, NULL, unname(c(getME(fit, "theta"), fixef(fit))))
  # lme4 leaves constants out of an AGHQ deviance: the log-likelihood is that of the fit, moved by the gain.
  loglik <- as.numeric(logLik(fit)) - best$value + fn(unname(c(getME(fit, "theta"), fixef(fit)))) / 2
  keep(name, "lme4", names(fixef(fit)), best$par[-1], sqrt(diag(solve(best$H)))[-1], list(abs(best$par[1])), NULL,
       loglik, best$decrement)
}

# ---- logistic by Laplace: glmmTMB's own function with its exact gradient
tmb_logistic <- function(name, formula, data) {
  fit <- glmmTMB(formula, data, binomial)
  f <- fit$obj
  best <- polish(f$fn, function(x) as.vector(f$gr(x)), fit$fit$par)
  place <- names(fit$fit$par) == "beta"
  f$fn(best$par)
  report <- f$env$report(f$env$last.par)
  keep(name, "glmmTMB", names(fixef(fit)$cond), best$par[place], sqrt(diag(solve(best$H)))[place],
       as.list(report$sd[[1]]), NULL, -as.numeric(best$value), best$decrement)
}

# ---- linear: lme4's profiled deviance by theta
lmm <- function(name, formula, data, REML = TRUE) {
  parts <- lFormula(formula, data, REML = REML)
  fn <- do.call(mkLmerDevfun, parts)
  first <- optimizeLmer(fn, control = list(xtol_abs = 1e-10, ftol_abs = 1e-10))
  best <- polish(function(x) fn(x) / 2, NULL, first$par)
  fn(best$par)
  fit <- mkMerMod(environment(fn), list(par = best$par, fval = 2 * best$value, conv = 0, message = ""),
                  parts$reTrms, fr = parts$fr)
  sds <- as.list(unname(attr(VarCorr(fit)[[1]], "stddev")))
  keep(name, "lme4", names(fixef(fit)), fixef(fit), sqrt(diag(as.matrix(vcov(fit)))), sds, sigma(fit),
       as.numeric(logLik(fit)), best$decrement)
}

load_cumulative <- function() {
  build <- tempfile(); dir.create(build); file.copy("cumulative.cpp", build)
  here <- setwd(build); on.exit(setwd(here))
  compile("cumulative.cpp", flags = "-O2"); dyn.load(dynlib("cumulative"))
}

write_results <- function(path) jsonlite::write_json(results, path, auto_unbox = TRUE, digits = I(15), pretty = TRUE)
