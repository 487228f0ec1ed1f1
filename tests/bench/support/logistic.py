"""A logistic regression by scikit-learn (Debian's python3-sklearn 1.2.1) to hold ours against.

    /usr/bin/python3 tests/bench/support/logistic.py > tests/bench/support/logistic.json
"""
import json

import numpy as np
from sklearn.linear_model import LogisticRegression
from sklearn.preprocessing import StandardScaler

random = np.random.default_rng(3)
x = np.round(random.normal([0.5, -2, 10], [1, 0.2, 4], (60, 3)), 3)
y = (x @ [1.5, -4, 0.3] - 11 + random.logistic(size=60) > 0).astype(int)
fits = []
for ridge in (0.1, 1, 10):
    scaler = StandardScaler().fit(x)
    model = LogisticRegression(C=1 / ridge, max_iter=10000, tol=1e-12).fit(scaler.transform(x), y)
    weights = model.coef_[0] / scaler.scale_
    bias = model.intercept_[0] - weights @ scaler.mean_
    fits.append({"ridge": ridge, "weights": [round(float(v), 6) for v in [bias, *weights]]})
print(json.dumps({"x": x.tolist(), "y": y.tolist(), "fits": fits}))
