"""Golden values of pkg/colour by scikit-image; see README.md."""

import json
from pathlib import Path

import numpy as np
from skimage.color import deltaE_ciede2000, rgb2lab

GOLDEN = Path(__file__).resolve().parents[2] / "pkg" / "colour" / "testdata" / "golden.json"
COLOURS = 200  # drawn in pairs


def main():
    srgb = np.random.default_rng(20).integers(0, 256, (COLOURS, 3), dtype=np.uint8)
    lab = rgb2lab(srgb[None])[0]
    difference = deltaE_ciede2000(lab[0::2], lab[1::2])
    GOLDEN.parent.mkdir(exist_ok=True)
    GOLDEN.write_text(json.dumps({"srgb": srgb.tolist(), "lab": lab.tolist(), "ciede2000": difference.tolist()}) + "\n")


main()
