"""Cuts the pictures that the golden values are taken of out of the demo photos; see README.md.

They are kept as PNG, because two JPEG decoders need not agree to the last bit.
"""

from pathlib import Path

from skimage.io import imread, imsave

ROOT = Path(__file__).resolve().parents[2]
SIDE = 64
# Photo and the left upper corner of a square on the head.
CROPS = {
    "engine/cyl1-valve1-after": (260, 380),
    "engine/cyl2-valve1-before": (190, 260),
    "series/repeat-3-a": (130, 150),
}


def main():
    for photo, (left, top) in CROPS.items():
        colours = imread(ROOT / "testdata" / f"{photo}.jpg")[top : top + SIDE, left : left + SIDE]
        name = photo.split("/")[1] + ".png"
        imsave(ROOT / "pkg" / "colour" / "testdata" / name, colours, check_contrast=False)
        # Green stands for grey: any channel will do.
        imsave(ROOT / "pkg" / "texture" / "testdata" / name, colours[..., 1], check_contrast=False)


main()
