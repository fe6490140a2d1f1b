"""Golden values of pkg/colour by scikit-image; see README.md."""

import json
from pathlib import Path

import numpy as np
from skimage.color import deltaE_ciede2000, rgb2lab
from skimage.io import imread

DATA = Path(__file__).resolve().parents[2] / "pkg" / "colour" / "testdata"
COLOURS = 200  # drawn in pairs


def random_colours():
    srgb = np.random.default_rng(20).integers(0, 256, (COLOURS, 3), dtype=np.uint8)
    lab = rgb2lab(srgb[None])[0]
    return {"srgb": srgb.tolist(), "lab": lab.tolist(), "ciede2000": deltaE_ciede2000(lab[0::2], lab[1::2]).tolist()}


def halves(picture):
    """Mean colours of the darker and the brighter half of a photo, told apart by green, and their difference."""
    lab, green = rgb2lab(picture), picture[..., 1]
    darker = green < np.median(green)
    dark, bright = lab[darker].mean(axis=0), lab[~darker].mean(axis=0)
    return {
        "below": float(np.median(green)),
        "dark": dark.tolist(),
        "bright": bright.tolist(),
        "ciede2000": float(deltaE_ciede2000(dark, bright)),
    }


def main():
    golden = random_colours()
    golden["photos"] = {path.stem: halves(imread(path)) for path in sorted(DATA.glob("*.png"))}
    (DATA / "golden.json").write_text(json.dumps(golden) + "\n")


main()
