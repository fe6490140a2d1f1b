"""Develops the photos of a rendered plan into JPEG files with masks and truth.

    python3 demo.py RENDERED OUT     # RENDERED: what `scenes --plan` wrote

Each NAME.f32 becomes NAME.jpg with NAME.region.png and NAME.deposit.png; truth.json holds the lines of truth.jsonl.
"""

import datetime
import json
import sys
import zlib
from math import pi
from pathlib import Path

import numpy
import torch
from PIL import Image

import camera

FIRST_DAY = datetime.datetime(2020, 3, 3, 9, 0)
MILES_A_DAY = 40  # dates follow the odometer
QUALITY = 88
EXIF_IFD, DATE_TIME, DATE_TIME_ORIGINAL = 0x8769, 0x0132, 0x9003  # Exif 2.32 tags


def read_linear(path):
    """[3, h, w] from a raw float file with the header line "F32 width height 3"."""
    with open(path, "rb") as file:
        _, width, height, channels = file.readline().split()
        values = numpy.frombuffer(file.read(), "<f4")
    return torch.from_numpy(values.reshape(int(height), int(width), int(channels)).copy()).permute(2, 0, 1)


def photograph(linear, name, valve_pixels):
    """The developed photo as an image; the seed comes from the name, so the same plan gives the same files."""
    height, width = linear.shape[1:]
    box = torch.tensor([[0.0, 0.0, width, height]])
    size = torch.tensor([(max(valve_pixels, 1) / pi) ** 0.5 * 320 / width])
    photos = camera.develop(linear[None], box, size, zlib.crc32(name.encode()), camera.DEMO, file=False)
    pixels = (photos.image[0] * 255).round().byte().permute(1, 2, 0).contiguous()
    return Image.fromarray(pixels.numpy())


def exif(number, truth):
    """Capture time: by odometer, photos of one day a minute apart. No position."""
    taken = FIRST_DAY + datetime.timedelta(days=(truth["odometer_mi"] or 0) // MILES_A_DAY, minutes=number)
    if truth["role"] == "after":
        taken += datetime.timedelta(hours=4)
    tags, stamp = Image.Exif(), taken.strftime("%Y:%m:%d %H:%M:%S")
    tags[DATE_TIME] = stamp
    tags[EXIF_IFD] = {DATE_TIME_ORIGINAL: stamp}
    return tags


def develop(rendered, out):
    """All photos of one plan."""
    out.mkdir(parents=True, exist_ok=True)
    lines = [json.loads(line) for line in (rendered / "truth.jsonl").read_text().splitlines()]
    for number, truth in enumerate(lines):
        name = truth["photo"]
        linear = read_linear(rendered / f"{name}.f32")
        valve_pixels = truth["both"]["pixels"] if truth["both"] else 0
        photo = photograph(linear, name, valve_pixels)
        photo.save(out / f"{name}.jpg", quality=QUALITY, exif=exif(number, truth))
        for mask in ("region", "deposit"):
            Image.open(rendered / f"{name}.{mask}.pgm").save(out / f"{name}.{mask}.png", optimize=True)
        truth["photo"] = f"{name}.jpg"
    (out / "truth.json").write_text(json.dumps(lines, indent=1) + "\n")
    print(f"{out}: {len(lines)} photos")


if __name__ == "__main__":
    develop(Path(sys.argv[1]), Path(sys.argv[2]))
