"""Statistical models: arrays in, small frozen records out; no file, no database.

The engine, in reading order: `records` and `inputs` (what comes out and what goes in), `ordered_logit` (one row),
`parameters`, `padding` and `laplace` (one athlete's likelihood and its gradient), `likelihood` and `optimise` (all
athletes, and the maximum), `columns` (units), `separation`, `assemble`; `cumulative`, `logistic` and `linear` are the
three families. Asked of a fit: `robust`, `profile`, `compare`, `satterthwaite`, `outcomes`, `proportional`.
The models of the plan: `rows`, `categories`, `design`, `splines`, `standardise`.
"""
