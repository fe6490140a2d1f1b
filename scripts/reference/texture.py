"""Golden values of pkg/texture by scikit-image and SciPy; see README.md."""

import json
from pathlib import Path

import numpy as np
from scipy.ndimage import correlate1d
from skimage.feature import graycomatrix, local_binary_pattern
from skimage.io import imread

DATA = Path(__file__).resolve().parents[2] / "pkg" / "texture" / "testdata"
LEVELS = 32
# scikit-image measures angles clockwise because rows grow downwards; ours follow the paper of 1973.
ANGLES = {"0": 0, "45": 3 * np.pi / 4, "90": np.pi / 2, "135": np.pi / 4}


def disc(shape):
    """True inside the largest centred disc: the mask of every masked measure."""
    rows, columns = np.indices(shape)
    middle = (np.array(shape) - 1) / 2
    return (rows - middle[0]) ** 2 + (columns - middle[1]) ** 2 <= (min(shape) / 2) ** 2


def ramp(picture):
    """The picture plus 1/64 per column and 1/1024 per row, so that no two neighbours tie and rounding decides nothing."""
    rows, columns = np.indices(picture.shape)
    return picture + columns / 64 + rows / 1024


def co_occurrence(picture, mask):
    """Features by angle. Pixels outside the mask get a level of their own, whose pairs are struck out."""
    marked = np.where(mask, picture // (256 // LEVELS), LEVELS).astype(np.uint8)
    features = {}
    for name, angle in ANGLES.items():
        pairs = graycomatrix(marked, [1], [angle], LEVELS + 1, symmetric=True)[:LEVELS, :LEVELS, 0, 0].astype(float)
        share = pairs / pairs.sum()
        i, j = np.indices(share.shape)
        mean = (share * i).sum()
        some = share[share > 0]
        features[name] = {
            "contrast": (share * (i - j) ** 2).sum(),
            "homogeneity": (share / (1 + (i - j) ** 2)).sum(),
            "entropy_bits": -(some * np.log2(some)).sum(),
            "correlation": (share * (i - mean) * (j - mean)).sum() / (share * (i - mean) ** 2).sum(),
        }
    return features


def patterns(picture):
    """Codes of the pixels that have a whole neighbourhood, row by row."""
    codes = {}
    for name, method in {"default": "default", "rotated": "ror", "uniform": "uniform"}.items():
        codes[name] = local_binary_pattern(picture, 8, 1, method)[1:-1, 1:-1].astype(int).ravel().tolist()
    return codes


def spline(values, apart):
    """Blur with 1 4 6 4 1, `apart` pixels apart, zeros around."""
    weights = np.zeros(4 * apart + 1)
    weights[::apart] = np.array([1, 4, 6, 4, 1]) / 16
    rows = correlate1d(values, weights, axis=1, mode="constant")
    return correlate1d(rows, weights, axis=0, mode="constant")


def relief(picture, mask):
    """Standard deviation inside the mask of the band between blurs of 1 and 2.2 pixels, as a share of the mean."""
    value, weight = (spline(values, 1) for values in (np.where(mask, picture, 0.0), mask.astype(float)))
    base = spline(value, 2)[mask] / spline(weight, 2)[mask]
    return (value[mask] / weight[mask] - base).std() / picture[mask].mean()


def measure(picture):
    mask = disc(picture.shape)
    return {
        "co_occurrence": co_occurrence(picture, mask),
        "patterns": patterns(ramp(picture.astype(float))),
        "relief": relief(picture.astype(float), mask),
    }


def main():
    golden = {path.stem: measure(imread(path)) for path in sorted(DATA.glob("*.png"))}
    (DATA / "golden.json").write_text(json.dumps(golden) + "\n")


main()
