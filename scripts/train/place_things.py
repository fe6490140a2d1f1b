"""Things that are no valve, cut out of photographs, before the ordinary pictures of OUT: OUT/thing-NNNN.jpg. A net that knows valves
in the hand before pictures takes a tree before the sky for one, unless it has seen such things. negatives.sh calls it.

    python3 place_things.py FOLDER OUT
"""

import re
import sys
from pathlib import Path

import numpy as np
from PIL import Image, ImageFilter

from cut_negatives import SIZE

EACH = 4  # pictures of each thing
BYTES = (8_000, 60_000)  # of a thing's file; larger ones are left out, so that there are some to measure with
NO_PHOTO = re.compile(r"cartoon|symbols|flags|roadsigns|houses")


def place(thing, ground, dice):
    """The thing (RGBA) turned, mirrored and scaled at random somewhere on the ground, which is out of focus as often as not."""
    if dice.random() < 0.5:
        ground = ground.filter(ImageFilter.GaussianBlur(dice.uniform(2, 40)))
    if dice.random() < 0.5:
        thing = thing.transpose(Image.FLIP_LEFT_RIGHT)
    if dice.random() < 0.5:
        thing = thing.rotate(dice.uniform(-180, 180), Image.BICUBIC, expand=True)
    scale = min(SIZE[0] / thing.width, SIZE[1] / thing.height) * dice.uniform(0.35, 1.3)
    thing = thing.resize((max(1, round(thing.width * scale)), max(1, round(thing.height * scale))), Image.BICUBIC)
    corner = [round((room - side) * dice.uniform(0, 1)) for room, side in zip(SIZE, thing.size)]
    ground.paste(thing, corner, thing)
    return ground


def main():
    folder, out = Path(sys.argv[1]), Path(sys.argv[2])
    dice = np.random.default_rng(2)
    grounds = sorted(out.glob("[0-9]*.jpg"))
    things = [p for p in sorted(folder.rglob("*.png")) if BYTES[0] < p.stat().st_size < BYTES[1] and not NO_PHOTO.search(str(p))]
    for number in range(EACH * len(things)):
        thing = Image.open(things[number // EACH]).convert("RGBA")
        ground = Image.open(grounds[dice.integers(len(grounds))]).convert("RGB")
        place(thing, ground, dice).save(out / f"thing-{number:04d}.jpg", quality=82)
    print(f"{EACH * len(things)} pictures of {len(things)} things")


if __name__ == "__main__":
    main()
