"""Mixed models of one grouping factor: arrays or a data frame in, small frozen records out; no file, no database.

Three families (linear, logistic, cumulative logit), any number of random effects, independent or correlated, of one
grouping factor. Usable alone:

    import numpy as np, pandas as pd
    from preflare.models.checks import fit_checks
    from preflare.models.formula import fit_formula

    rng = np.random.default_rng(1)
    data = pd.DataFrame({"athlete": np.repeat(np.arange(20), 50), "intensity": rng.normal(size=1000)})
    level = rng.normal(size=20)[data["athlete"]]
    data["rating"] = np.digitize(0.5 * data["intensity"] + level + rng.logistic(size=1000), [0.0, 1.0, 2.0])
    fit = fit_formula("rating ~ intensity", data, random="1 + intensity", group="athlete", family="cumulative logit")
    print(fit.names, fit.coefficients, fit.standard_errors, fit.random_sd)
    print([(check.name, check.outcome, check.words) for check in fit_checks(fit, data["rating"])])

The map, in reading order; each file opens with its model and notation.

Records        `records` what comes out and how a fit is refused; `inputs` what goes in; `formula` a formula on a frame.
One row        `ordered_logit` its probability as two Bernoulli terms.
One athlete    `parameters` the vector, `padding` athletes in blocks, `laplace` the integral and its exact gradient.
All athletes   `likelihood`, `optimise` the maximum and the information, `columns` units, `separation`, `assemble`.
Families       `cumulative`, `logistic`, `linear` (from cross-products alone); `partial_likelihood` and `partial_odds`:
               an effect at every cut for named terms; `conditional`: strata of one case.
Believed?      `checks` every check with its limit, outcome and help; `outcomes` bootstrap and simulated residuals;
               `proportional` effects cut by cut.
How sure?      `profile`, `profile_linear`, `variance_components` intervals; `compare` likelihood ratios;
               `satterthwaite`, `kenward_roger` few athletes, linear; `cluster_robust` CR2 on any family;
               `robust` CR2 with a constant for each athlete, and leaving one athlete out.
In risks       `standardise` the athletes there are, at their own modes; `new_athlete` one whom the data do not hold.
The plan's     `rows`, `categories`, `design`, `splines`, `cross_basis`: the columns of this program's own models.

What takes a fit takes the MixedFit; what must optimise again takes the Problem that `cumulative_problem`,
`logistic_problem`, `partial_problem` or `linear_problem` makes of the same arrays.
"""
