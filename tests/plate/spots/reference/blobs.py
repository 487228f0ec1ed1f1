"""A second opinion on where spots lie: scikit-image's general blob detectors on fixture plates.

    /usr/bin/python3 tests/plate/spots/reference/blobs.py > tests/plate/spots/reference/blobs.json

Debian's python3-skimage 0.19.3. Each plate is straightened with skimage's own ProjectiveTransform by its true corners,
turned into the mean of its linear red, green and blue (sRGB decoded by the IEC 61966-2-1 curve), its ground taken off by
a wide median, and handed to blob_log and blob_dog. Kept are blobs between the origin and the front; places are plate
fractions. Neither detector knows of lanes, pencil or Rf.
"""
import json
import os

import numpy as np
from scipy.ndimage import median_filter, zoom
from skimage.feature import blob_dog, blob_log
from skimage.io import imread
from skimage.transform import ProjectiveTransform, warp

RUNS = os.path.join(os.path.dirname(__file__), "../../../../fixtures/runs")
PLATES = [("easy-6", "plate-01a.jpg"), ("normal-30", "plate-01a.jpg")]
WIDTH = 500


def density(path, corners, aspect):
    height = round(WIDTH * aspect)
    picture = imread(path)[..., :3] / 255.0
    linear = np.where(picture <= 0.04045, picture / 12.92, ((picture + 0.055) / 1.055) ** 2.4)
    square = np.array([[0, 0], [WIDTH, 0], [WIDTH, height], [0, height]], float)
    transform = ProjectiveTransform()
    transform.estimate(square, np.array(corners))
    plate = warp(linear, transform, output_shape=(height, WIDTH), order=1, mode="edge")
    levels = -np.log10(plate + 0.003).mean(axis=2)
    coarse = median_filter(levels[::4, ::4], size=25, mode="nearest")
    ground = zoom(coarse, (height / coarse.shape[0], WIDTH / coarse.shape[1]), order=1)
    return np.clip(levels - ground, 0, None)


out = []
for run, file in PLATES:
    folder = os.path.join(RUNS, run)
    truth = json.load(open(os.path.join(folder, "truth.json")))
    plate = truth["plates"][0]
    corners = next(p for p in truth["photos"] if p["file"] == file)["plates"][0]["corners"]
    image = density(os.path.join(folder, file), corners, plate["aspect"])
    height = image.shape[0]
    for name, detector in (("blob_log", blob_log), ("blob_dog", blob_dog)):
        found = detector(image, min_sigma=4, max_sigma=16, threshold=0.03)
        places = [((x + 0.5) / WIDTH, (y + 0.5) / height, s) for y, x, s in found]
        inside = [p for p in places if plate["front"] + 0.02 < p[1] < plate["origin"] - 0.02]
        out.append({
            "run": run, "file": file, "detector": name,
            "blobs": sorted([round(x, 4), round(y, 4), round(float(s), 2)] for x, y, s in inside),
        })
print(json.dumps(out))
