"""Photos with masks by another renderer than scripts/scenes: README.md says how and what for.

    blender -b -P make.py -- --out DIR --photos 100 --seed 1
"""

import argparse
import sys
import tempfile
from pathlib import Path

import numpy as np
from PIL import Image

sys.path.insert(0, str(Path(__file__).parent))
import deposit
import material
import port
import shot
import valve

DARKEST, BRIGHTEST = 0.45, 0.95  # display value that the 90th percentile of a photo is brought to
NO_HEAD = -1  # in place of film: seat face and rim
SMALLEST = 0.02  # share of the picture that valves must fill; scenes that show less are left out


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--out", type=Path, required=True)
    parser.add_argument("--photos", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1, help="of the first photo; the next ones follow")
    chosen = parser.parse_args(sys.argv[sys.argv.index("--") + 1 :])
    chosen.out.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(chosen.seed, chosen.seed + chosen.photos):
            dice = np.random.default_rng(seed)
            valves = scene(dice)
            seen = shot.truth(folder, of_truth)
            if (seen[:, :, 0] > 0.5).mean() > SMALLEST:
                save(chosen.out / f"c{seed:05d}", dice, shot.light(folder), seen, valves)


def of_truth(name):
    return material.of_truth(name.startswith("valve"))


def scene(dice):
    """Builds a scene and returns its valves."""
    shot.begin()
    valves = row(dice)
    for k, each in enumerate(valves):
        add_valve(dice, each, k)
    runner = port.draw(dice, valves)
    mouth = dice.random() < 0.4
    points, faces, middle, out = port.surface(dice, runner, valves, mouth)
    shot.mesh("wall", points, faces, material.of_wall(dice))
    look(dice, valves, runner, mouth, middle, out)
    return valves


def row(dice):
    """One valve, or two of one kind side by side that lean apart."""
    first = valve.draw(dice)
    if dice.random() < 0.5:
        first.lean = tilt(0, dice.uniform(-0.2, 0.3))
        return [first]
    second = valve.Valve(**vars(first))
    apart, lean = first.head + dice.uniform(1.5, 4), dice.uniform(0, 0.12)
    for each, side in ((first, -1), (second, 1)):
        each.foot, each.lean = np.array([side * apart, 0, 0]), tilt(side * lean, dice.uniform(-0.1, 0.2))
    return [first, second]


def tilt(across, along):
    """Rotation that leans an upright axis by these angles towards x and y."""
    a, b = np.cos(across), np.sin(across)
    c, d = np.cos(along), np.sin(along)
    return np.array([[a, 0, b], [0, 1, 0], [-b, 0, a]]) @ np.array([[1, 0, 0], [0, c, d], [0, -d, c]])


def add_valve(dice, each, number):
    points, normals, faces, edge = valve.surface(each)
    body, relief, film = deposit.draw(dice, each, points, normals, edge)
    stem = np.hypot(points[:, 0], points[:, 1]) < valve.STEM_BEGINS * each.stem
    part = 2 * number + 1 + stem
    film = np.where(edge, NO_HEAD, film)
    grown = (points + normals * relief[:, None]) @ each.lean.T + each.foot
    shot.mesh(f"valve {number}", grown, faces, material.of_valve(dice), thick=relief, body=body, film=film, part=part)


def look(dice, valves, runner, mouth, middle, out):
    """Camera and lamps: from outside through the mouth, or from a place in the runner, towards one of the valves."""
    aim = valves[dice.integers(len(valves))]
    target = aim.foot + aim.lean @ np.array([*dice.uniform(-0.4, 0.4, 2) * aim.head, dice.uniform(0, 0.6) * aim.fillet])
    if mouth:
        if len(valves) > 1 and dice.random() < 0.6:
            target = sum(each.foot for each in valves) / len(valves) + (0, 0, 5)
        place = middle + out * dice.uniform(15, 90) + dice.uniform(-0.5, 0.5, 3) * runner.radius
        across = dice.uniform(0.8, 1.9) * runner.radius  # half of what is seen at the mouth
        eye = shot.camera(dice, place, target, 2 * np.arctan(across / np.linalg.norm(place - middle)), dice.uniform(3, 30))
        shot.lamps(dice, eye, dice.uniform(2, 14), dice.integers(1, 3))
        shot.surroundings(dice.choice((0.0, 0.05, 0.3)))
    else:
        at = runner.path[dice.integers(len(runner.path) // 5, 4 * len(runner.path) // 5)]
        place = at + dice.uniform(-0.55, 0.55, 3) * runner.radius
        eye = shot.camera(dice, place, target, dice.uniform(0.6, 1.4), dice.uniform(20, 200))
        shot.lamps(dice, eye, dice.uniform(1.2, 2.5), dice.integers(1, 7))
        shot.surroundings(0.0)


def save(path, dice, picture, seen, valves):
    """NAME.jpg with NAME.region.png and NAME.deposit.png."""
    own = (seen[:, :, 0] > 0.5) & (seen[:, :, 2] > NO_HEAD / 2)
    part = (np.rint(seen[:, :, 0]) * own).astype(np.uint8)
    kinds = np.full(part.shape, 255, np.uint8)
    kinds[own] = deposit.classes(seen[:, :, 1], seen[:, :, 2], 2 * valves[0].stem)[own]
    level = np.percentile(picture.max(2), 90)
    display = (picture / max(level, 1e-9)).clip(0) ** (1 / 2.2) * dice.uniform(DARKEST, BRIGHTEST)
    Image.fromarray((255 * display.clip(0, 1)).round().astype(np.uint8)).save(f"{path}.jpg", quality=95)
    Image.fromarray(part).save(f"{path}.region.png")
    Image.fromarray(kinds).save(f"{path}.deposit.png")


main()
