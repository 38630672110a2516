"""Computes with other libraries what the tests of engine/calc/src/learn/model hold the fit to.

    python3 -m venv venv && venv/bin/pip install numpy==2.4.6 scipy==1.17.1 statsmodels==0.15.0
    venv/bin/python tests/learn/reference.py

1. A factor that may stray without bound, with a shift for each job: the mixed model of one mean and
   a random intercept, by REML (statsmodels, MixedLM).
2. A factor with a normal prior, and lines whose errors follow Student's t of 4 degrees of freedom, one
   of them spoiled: mean and standard deviation of the posterior by quadrature (scipy, quad).
3. Quantiles of t (scipy, t.ppf).
"""

import numpy as np
import scipy
import statsmodels
import statsmodels.api as sm
from scipy.integrate import quad
from scipy.stats import norm, t

JOBS = [0, 0, 0, 1, 1, 2, 2, 2, 2, 3, 3, 4, 4, 4, 5, 5, 5, 6, 6, 7]
USED = [0.21, 0.14, 0.18, -0.05, 0.02, 0.09, 0.15, 0.06, 0.13, 0.24, 0.31,
        0.02, -0.03, 0.07, 0.12, 0.19, 0.10, -0.11, -0.02, 0.16]
LINES = [0.10, 0.13, 0.06, 0.12, 0.09, 0.11, 0.95]


def mixed_model():
    model = sm.MixedLM(np.array(USED), np.ones((len(USED), 1)), groups=np.array(JOBS))
    fit = model.fit(reml=True, method="lbfgs", pgtol=1e-10)
    return fit.fe_params[0], fit.bse_fe[0], fit.cov_re[0, 0] ** 0.5, fit.scale ** 0.5


def posterior(prior, scale, lines):
    def density(shift):
        return norm.pdf(shift, scale=prior) * np.prod(t.pdf(np.array(lines) - shift, 4, scale=scale))

    def moment(power):
        return quad(lambda s: s**power * density(s), -1, 1, points=[0.05, 0.1, 0.15], limit=400,
                    epsabs=0, epsrel=1e-10)[0]

    mean = moment(1) / moment(0)
    return mean, (moment(2) / moment(0) - mean**2) ** 0.5


if __name__ == "__main__":
    print("numpy", np.__version__, "scipy", scipy.__version__, "statsmodels", statsmodels.__version__)
    print("mixed model: mean, its standard error, of a job, of a line", mixed_model())
    print("posterior: mean, standard deviation", posterior(0.15, 0.03, LINES))
    print("posterior of two lines", posterior(0.05, 0.10, [0.20, 0.24]))
    print("t quantiles of 95 % at 4, 10", t.ppf(0.95, [4, 10]))
