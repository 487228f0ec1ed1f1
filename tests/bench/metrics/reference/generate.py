"""Check values of the benchmark's metrics from scikit-learn (Debian's python3-sklearn 1.2.1).

    /usr/bin/python3 tests/bench/metrics/reference/generate.py > tests/bench/metrics/reference/values.json
"""
import json
import random

from sklearn.calibration import calibration_curve
from sklearn.metrics import adjusted_rand_score, brier_score_loss, f1_score, precision_score, recall_score
from sklearn.metrics.cluster import pair_confusion_matrix

random.seed(7)


def groupings():
    yield list("aabb"), list("xxyy")
    yield list("aabb"), list("xyxy")
    yield list("aaaa"), list("wxyz")
    yield list("aaabbbccc"), list("aabbbbccd")
    for size, kinds in ((12, 3), (40, 5), (60, 2)):
        a = [random.choice("abcdefgh"[:kinds]) for _ in range(size)]
        b = [x if random.random() < 0.7 else random.choice("abcdefgh"[:kinds]) for x in a]
        yield a, b


def pairs(a, b):
    m = pair_confusion_matrix(a, b) // 2  # ordered pairs are counted twice
    return {"both": int(m[1, 1]), "onlyTruth": int(m[1, 0]), "onlyAnswer": int(m[0, 1])}


def forecasts():
    for size, spread in ((20, 0.1), (200, 0.3), (500, 0.0)):
        p = [round(random.random() * 0.999, 3) + 0.0005 for _ in range(size)]  # never on the edge of a bin
        y = [int(random.random() < min(1, max(0, x + random.uniform(-spread, spread)))) for x in p]
        yield p, y


def expected_error(p, y):
    # calibration_curve leaves out empty bins and gives no counts: count here, with its own edges
    right, stated = calibration_curve(y, p, n_bins=10, strategy="uniform")
    counts = [0] * 10
    for x in p:
        counts[min(9, int(x * 10))] += 1
    counts = [c for c in counts if c]
    return sum(c * abs(r - s) for c, r, s in zip(counts, right, stated)) / len(p)


print(json.dumps({
    "groupings": [{"a": a, "b": b, "ari": adjusted_rand_score(a, b), "pairs": pairs(a, b)} for a, b in groupings()],
    "forecasts": [{"p": p, "y": y, "brier": brier_score_loss(y, p), "ece": expected_error(p, y)} for p, y in forecasts()],
    "tallies": [
        {"hits": h, "invented": i, "missed": m,
         "precision": precision_score([1] * h + [0] * i + [1] * m, [1] * (h + i) + [0] * m),
         "recall": recall_score([1] * h + [0] * i + [1] * m, [1] * (h + i) + [0] * m),
         "f1": f1_score([1] * h + [0] * i + [1] * m, [1] * (h + i) + [0] * m)}
        for h, i, m in ((8, 2, 1), (1, 0, 3), (30, 12, 7))
    ],
}, indent=1))
