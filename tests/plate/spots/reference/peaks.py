"""Peak positions and widths of drawn lane profiles from SciPy (Debian's python3-scipy 1.10.1).

    /usr/bin/python3 tests/plate/spots/reference/peaks.py > tests/plate/spots/reference/peaks.json

scipy.signal.find_peaks gives the rows of the maxima, scipy.signal.peak_widths the full widths at half of the prominence,
which for peaks that come down to the ground is half of the height. Noisy profiles are smoothed by
scipy.ndimage.gaussian_filter1d first, as find_peaks has no model of a peak. The last profile's peaks overlap so much that
prominence no longer means height: there only positions are given.
"""
import json

import numpy as np
from scipy.ndimage import gaussian_filter1d
from scipy.signal import find_peaks, peak_widths

ROWS = 348
NOISE = 0.004


def profile(peaks):
    r = np.arange(ROWS)
    total = np.zeros(ROWS)
    for mode, height, front, back in peaks:
        total += height * np.exp(-0.5 * ((r - mode) / np.where(r < mode, back, front)) ** 2)
    return total


CASES = [
    ("one Gaussian", [(150.3, 0.2, 6, 6)], False, True),
    ("three apart", [(80, 0.1, 5, 5), (160.5, 0.3, 6, 6), (250.2, 0.05, 7, 7)], False, True),
    ("tailed", [(120.4, 0.25, 5, 8), (230, 0.12, 6, 9)], False, True),
    ("narrow and wide", [(100, 0.15, 3, 3), (200, 0.15, 11, 11)], False, True),
    ("three apart, in noise", [(80, 0.1, 5, 5), (160.5, 0.3, 6, 6), (250.2, 0.2, 7, 7)], True, True),
    ("two that overlap", [(150, 0.25, 5, 5), (168, 0.15, 5, 5)], False, False),
]

random = np.random.default_rng(1)
out = []
for name, peaks, noisy, apart in CASES:
    values = profile(peaks)
    if noisy:
        values = values + gaussian_filter1d(random.normal(0, NOISE * 2, ROWS), 1)
    values = np.round(values, 6)
    smooth = gaussian_filter1d(values, 1.5) if noisy else values
    rows, _ = find_peaks(smooth, prominence=5 * NOISE)
    widths = peak_widths(smooth, rows, rel_height=0.5)[0]
    out.append({
        "name": name,
        "rows": rows.tolist(),
        "widths": np.round(widths, 4).tolist() if apart else None,
        "profile": values.tolist(),
    })
print("[\n" + ",\n".join(json.dumps(case) for case in out) + "\n]")
