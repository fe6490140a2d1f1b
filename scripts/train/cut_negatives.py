"""Cuts ordinary pictures into small ones: OUT/NNNN.jpg, 448 x 336. negatives.sh calls it.

    python3 cut_negatives.py FOLDER OUT
"""

import re
import sys
from pathlib import Path

import numpy as np
from PIL import Image

SIZE = (448, 336)
CUTS = 6  # from each picture, the first is the whole
SMALL, SMALL_CUTS = 600, 2  # a picture whose shorter side is below this is a surface: fewer cuts, and never the whole
SMALLEST, LEAST_BYTES = 250, 40_000  # of such a surface
NO_PHOTO = re.compile(r"_nm|_alpha|_normal|gloss|screenshot|sshot|flag|sign")  # of game data: maps for the renderer, drawings
FLATTEST = 6.0  # grey levels of standard deviation; flatter cuts show nothing


def cut(picture, dice):
    """A random 4:3 part of a PIL image, from a fifth of its height to all of it."""
    width, height = picture.size
    tall = min(height, width * 3 / 4) * dice.uniform(0.2, 1)
    wide = tall * 4 / 3
    left, top = dice.uniform(0, width - wide), dice.uniform(0, height - tall)
    return picture.resize(SIZE, Image.BICUBIC, box=(left, top, left + wide, top + tall), reducing_gap=2.0)


def collect(folder, out):
    dice = np.random.default_rng(1)
    files = sorted(p for p in Path(folder).rglob("*") if p.suffix.lower() in (".jpg", ".jpeg", ".png", ".webp") and not p.is_symlink())
    out.mkdir(parents=True, exist_ok=True)
    count = 0
    for file in files:
        picture = Image.open(file).convert("RGB")
        if min(picture.size) < SMALLEST or NO_PHOTO.search(file.name.lower()):
            continue
        small = min(picture.size) < SMALL
        drawing = "games" in file.parts and file.suffix.lower() != ".jpg"
        if drawing or small and file.stat().st_size < LEAST_BYTES:
            continue
        for k in range(SMALL_CUTS if small else CUTS):
            part = picture.resize(SIZE, Image.BICUBIC, reducing_gap=2.0) if k == 0 and not small else cut(picture, dice)
            if np.asarray(part.convert("L")).std() > FLATTEST:
                part.save(out / f"{count:04d}.jpg", quality=82)
                count += 1
    print(f"{count} cuts from {len(files)} pictures")


if __name__ == "__main__":
    collect(sys.argv[1], Path(sys.argv[2]))
