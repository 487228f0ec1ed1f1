#!/usr/bin/python3
"""Values from SciPy and scikit-learn that the tests check against. Run: /usr/bin/python3 make_reference.py"""
import json
import os

import numpy as np
import scipy
import sklearn
from scipy.stats import exponnorm, norm
from sklearn.calibration import calibration_curve
from sklearn.linear_model import LogisticRegression
from sklearn.metrics import adjusted_rand_score, brier_score_loss
from sklearn.mixture import GaussianMixture

rng = np.random.default_rng(20240229)
out = {"scipy": scipy.__version__, "sklearn": sklearn.__version__}

# Exponentially modified Gaussian: scipy's K is tau / sigma.
emg = []
for mu, sigma, tau in [(5, 1, 1), (5, 1, 0.05), (12, 0.4, 6), (3, 2, 0.01), (20, 3, 40), (0, 1, 1000)]:
    for x in [mu - 6 * sigma, mu - 2 * sigma, mu - 0.3 * sigma, mu, mu + sigma, mu + tau, mu + 5 * tau + 2 * sigma]:
        d = exponnorm(tau / sigma, loc=mu, scale=sigma)
        emg.append({"x": x, "mu": mu, "sigma": sigma, "tau": tau, "pdf": float(d.pdf(x))})
out["emg"] = emg
out["normal"] = [{"z": z, "cdf": float(norm.cdf(z))} for z in [-8, -3, -1, -0.1, 0, 0.5, 2, 6]]

# Adjusted Rand index.
rand = []
for n, ka, kb in [(10, 2, 3), (40, 4, 4), (60, 6, 2), (25, 1, 3)]:
    a = rng.integers(0, ka, n)
    b = np.where(rng.random(n) < 0.7, a, rng.integers(0, kb, n))
    rand.append({"a": a.tolist(), "b": b.tolist(), "value": float(adjusted_rand_score(a, b))})
out["rand"] = rand

# Calibration: expected calibration error from calibration_curve's bins, Brier score.
p = rng.random(400) ** 0.4
right = rng.random(400) < p**1.5
truth, mean = calibration_curve(right, p, n_bins=10, strategy="uniform")
counts = np.histogram(p, bins=np.linspace(0, 1, 11))[0]
counts = counts[counts > 0]
out["calibration"] = {
    "confidence": p.tolist(),
    "right": right.tolist(),
    "error": float(np.sum(counts * np.abs(truth - mean)) / len(p)),
    "brier": float(brier_score_loss(right, p)),
}

# Beta calibration is a logistic regression on ln p and -ln(1 - p).
x = np.column_stack([np.log(p), -np.log1p(-p)])
fit = LogisticRegression(penalty=None, tol=1e-10, max_iter=10000).fit(x, right)
out["beta"] = {"a": float(fit.coef_[0][0]), "b": float(fit.coef_[0][1]), "c": float(fit.intercept_[0])}

# A mixture of Gaussians over Rf on one even plate, number of components chosen by BIC.
mixtures = []
for centres in [[0.62, 0.41], [0.7, 0.52, 0.44, 0.2], [0.55, 0.3, 0.12]]:
    tubes = []
    for k, c in enumerate(centres):
        for t in range(8):
            tubes.append((2 + 7 * k + t, float(c + 0.003 * rng.standard_normal())))
    rf = np.array([r for _, r in tubes]).reshape(-1, 1)
    fits = [GaussianMixture(n, covariance_type="tied", n_init=10, random_state=1).fit(rf) for n in range(1, 7)]
    best = min(fits, key=lambda f: f.bic(rf))
    mixtures.append(
        {
            "spots": [{"tube": t, "rf": r} for t, r in tubes],
            "means": sorted([float(m) for m in best.means_.ravel()], reverse=True),
            "labels": best.predict(rf).tolist(),
        }
    )
out["mixtures"] = mixtures

with open(os.path.join(os.path.dirname(os.path.abspath(__file__)), "reference.json"), "w") as f:
    json.dump(out, f, indent=1)
    f.write("\n")
