// The cumulative-logit mixed model for TMB: Laplace's approximation with derivatives by automatic differentiation.
// A second derivation of what ordinal::clmm fits, exact to rounding where clmm differentiates numerically.
// y: 0 to K - 1. theta: K - 1 rising thresholds. entries: lower triangle of Lambda by columns; b = Lambda u.
#include <TMB.hpp>

template<class Type>
Type log_inverse_logit(Type x) { return -logspace_add(Type(0), -x); }

template<class Type>
Type objective_function<Type>::operator()() {
  DATA_IVECTOR(y);
  DATA_MATRIX(X);
  DATA_MATRIX(Z);
  DATA_IVECTOR(group);
  PARAMETER_VECTOR(theta);
  PARAMETER_VECTOR(beta);
  PARAMETER_VECTOR(entries);
  PARAMETER_MATRIX(u);
  int q = u.rows(), last = theta.size();
  matrix<Type> lambda(q, q);
  lambda.setZero();
  for (int j = 0, k = 0; j < q; j++) for (int i = j; i < q; i++) lambda(i, j) = entries(k++);
  Type cost = 0;
  for (int g = 0; g < u.cols(); g++) for (int i = 0; i < q; i++) cost -= dnorm(u(i, g), Type(0), Type(1), true);
  matrix<Type> b = lambda * u;
  vector<Type> fixed = X * beta;
  for (int t = 0; t < y.size(); t++) {
    Type eta = fixed(t);
    for (int i = 0; i < q; i++) eta += Z(t, i) * b(i, group(t));
    // log(F(a) - F(c)) = log F(a) + log F(-c) + log(1 - exp(c - a)); a category at an end lacks one term.
    if (y(t) < last) cost -= log_inverse_logit(Type(theta(y(t)) - eta));
    if (y(t) > 0) cost -= log_inverse_logit(Type(eta - theta(y(t) - 1)));
    if (y(t) < last && y(t) > 0) cost -= log(1 - exp(theta(y(t) - 1) - theta(y(t))));
  }
  return cost;
}
