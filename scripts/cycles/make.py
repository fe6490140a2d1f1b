"""Photos with masks by another renderer than scripts/scenes: README.md says how and what for.

    blender -b -P make.py -- --out DIR --scenes 100 --seed 1
"""

import argparse
import sys
import tempfile
from pathlib import Path

import numpy as np
from PIL import Image
from skimage.restoration import denoise_nl_means

sys.path.insert(0, str(Path(__file__).parent))
import deposit
import material
import noise
import scene
import shot

DARKEST, BRIGHTEST = 0.45, 0.95  # display value that the 90th percentile of a photo is brought to
SMOOTHED = 0.6  # share of the photos freed from noise, as phones do it
GAMMA = 1.7, 2.7  # the lower, the harder the contrast
SMALLEST = 0.01  # share of the picture that heads must fill; scenes that show less are left out


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--out", type=Path, required=True)
    parser.add_argument("--scenes", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1, help="of the first scene; the next ones follow")
    parser.add_argument("--behind", type=Path, help="folder of ordinary pictures to stand behind valves in the hand")
    parser.add_argument("--views", type=int, default=2, help="photos of each scene, in other materials and from another place")
    parser.add_argument("--card", action="store_true", help="render on NVIDIA cards")
    chosen = parser.parse_args(sys.argv[sys.argv.index("--") + 1 :])
    chosen.out.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(chosen.seed, chosen.seed + chosen.scenes):
            dice = np.random.default_rng(seed)
            valves, view = scene.build(dice, chosen.card)
            for number in range(chosen.views):
                view()
                seen = shot.truth(folder, of_truth)
                if not valves or heads(seen).mean() > SMALLEST:
                    picture = behind(dice, shot.light(folder), chosen.behind)
                    save(chosen.out / f"c{seed:05d}-{number}", dice, picture, seen, valves)


def heads(seen):
    return np.rint(seen[:, :, 0]) % 2 == 1


def of_truth(name):
    return material.of_truth(name.startswith("valve"))


def behind(dice, picture, folder):
    """The picture [h, w, 3] over one of the folder, or over blurred colours; in a port nothing is open but some cracks."""
    height, width, _ = picture.shape
    if folder:
        names = sorted(folder.glob("*.jpg"))
        other = Image.open(names[dice.integers(len(names))]).convert("RGB").resize((width, height))
        ground = (np.asarray(other, "f4") / 255) ** 2.2
    else:
        rows, columns = np.mgrid[:height, :width]
        points = np.stack((columns, rows, 0 * rows), -1).reshape(-1, 3)
        ground = np.stack([noise.waves(dice, points, 2.0 * width, 4) for _ in range(3)], -1).reshape(height, width, 3)
        ground = np.exp(0.3 * ground + ground.mean(2, keepdims=True))
    level = np.percentile(picture[:, :, :3], 90) * dice.uniform(0.1, 1.5)
    cover = picture[:, :, 3:].clip(0, 1)
    return picture[:, :, :3] + (1 - cover) * ground / max(ground.mean(), 1e-6) * level


def save(path, dice, picture, seen, valves):
    """NAME.jpg with NAME.region.png and NAME.deposit.png."""
    own = (seen[:, :, 0] > 0.5) & (seen[:, :, 2] > scene.NO_HEAD / 2)
    part = (np.rint(seen[:, :, 0]) * own).astype(np.uint8)
    kinds = np.full(part.shape, 255, np.uint8)
    if valves:
        kinds[own] = deposit.classes(seen[:, :, 1], seen[:, :, 2], 2 * valves[0].stem)[own]
    level = np.percentile(picture.max(2), 90)
    display = (picture / max(level, 1e-9)).clip(0) ** (1 / dice.uniform(*GAMMA)) * dice.uniform(DARKEST, BRIGHTEST)
    display = display.clip(0, 1)
    if dice.random() < SMOOTHED:
        display = denoise_nl_means(display, patch_size=3, patch_distance=5, h=dice.uniform(0.02, 0.08), channel_axis=2)
    Image.fromarray((255 * display.clip(0, 1)).round().astype(np.uint8)).save(f"{path}.jpg", quality=95)
    Image.fromarray(part).save(f"{path}.region.png")
    Image.fromarray(kinds).save(f"{path}.deposit.png")


main()
