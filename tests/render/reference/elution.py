"""Check values of the column model from SciPy (Debian's python3-scipy 1.10.1): share of a tailed peak per tube.

    /usr/bin/python3 tests/render/reference/elution.py > tests/render/reference/elution.json

scipy.stats.exponnorm(K, loc, scale) is the exponentially modified Gaussian with K = tau / sigma.
"""
import json

import numpy as np
from scipy.stats import exponnorm

PEAKS = [(5.6, 0.8, 0.9), (8.9, 1.3, 1.7), (3.0, 0.4, 0.05), (12.0, 2.0, 6.0), (19.2, 0.35, 1.4)]
TUBES = 24

print(json.dumps([
    {
        "mu": mu, "sigma": sigma, "tau": tau,
        "tubes": np.diff(exponnorm(tau / sigma, loc=mu, scale=sigma).cdf(np.arange(TUBES + 1))).tolist(),
    }
    for mu, sigma, tau in PEAKS
], indent=1))
