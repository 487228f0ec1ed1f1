#!/usr/bin/env python3
"""Values of the gamma law for bandShape.test.ts, from SciPy: run and copy. Columns: V, s, z, cdf(V + z s)."""
from scipy.stats import gamma

for v, s in ((50, 11), (75, 8), (108, 20), (300, 15), (500, 10)):
    for z in (-2, -1, 0, 1, 2.5):
        print(f"  [{v}, {s}, {z}, {gamma.cdf(v + z * s, (v / s) ** 2, scale=s * s / v):.6f}],")
