"""Held-back looks as photo files with truth: for the interval's constants and for what the confidence is worth.

    python3 held_back.py --library libscenes.so --out DIR --photos 400
    python3 held_back.py --library libscenes.so --out DIR --photos 160 --camera FAIR --seed 8700000000

Photos of 640 x 480 through the cameras of validation or of any other profile, from scenes that neither training nor validation
sees. truth.json has, per photo, the figures of the visible valve and whether it can be judged (null where that is arguable).
"""

import argparse
import json
from pathlib import Path

import numpy as np
import torch
from PIL import Image

import camera
import labels as labelling
from frames import Frames
from scenes import HELD_BACK, Renderer

WIDTH, HEIGHT = 640, 480
SEED = 8_000_000_000
BATCH = 8


def as_frames(scenes):
    """The scenes as frames without margins."""
    box = torch.tensor([0.0, 0.0, WIDTH, HEIGHT], device=scenes.rgb.device).expand(len(scenes.facts), 4)
    rgb = scenes.rgb / scenes.rgb.mean((1, 2, 3), keepdim=True).clamp(min=1e-20)
    return Frames(rgb.permute(0, 3, 1, 2).contiguous(), scenes.region, scenes.deposit, scenes.facts, box.contiguous())


def figures(region, deposit):
    """Pixels, index and coverage of the valve, null where there is none."""
    valve = deposit[(region == 1) | (region == 2)]
    if len(valve) == 0:
        return None
    shares = [float((valve == k).mean()) for k in range(4)]
    index = 100 * (shares[3] + 0.5 * shares[2] + 0.25 * shares[1])
    return {"pixels": len(valve), "shares": shares, "index": index, "coverage": 100 * (1 - shares[0])}


def photograph(renderer, chosen, first, count):
    """Yields (image, region, deposit, judgeable) of scenes first .. first + count - 1 after the seed."""
    frames = as_frames(renderer(chosen.seed + first, count, WIDTH, HEIGHT, chosen.family, samples=chosen.samples))
    size = labelling.valve_size(frames) * 320 / WIDTH
    photos = camera.develop(
        frames.rgb, frames.box, size, chosen.seed % 997 + first, getattr(camera, chosen.camera), file=False
    )
    region, deposit, valve = labelling.visible_truth(frames, photos)
    state, weight, _, _ = labelling.states(frames, photos, valve, size)
    images = (photos.image * 255).round().byte().permute(0, 2, 3, 1)
    for k in range(count):
        judgeable = bool(state[k, 0]) if weight[k, 0] > 0 else None
        yield images[k].cpu().numpy(), region[k].cpu().numpy(), deposit[k].cpu().numpy(), judgeable


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--library", required=True)
    parser.add_argument("--out", type=Path, required=True)
    parser.add_argument("--photos", type=int, default=400)
    parser.add_argument("--device", default="cuda:0")
    parser.add_argument("--camera", choices=("VALIDATION", "FAIR", "PHONE", "SCOPE"), default="VALIDATION")
    parser.add_argument("--family", type=int, default=HELD_BACK, help="of looks: 1 held back from training, 2 everyday views")
    parser.add_argument("--seed", type=int, default=SEED, help="of the first scene")
    parser.add_argument("--samples", type=int, default=4, help="rays a pixel")
    chosen = parser.parse_args()
    chosen.out.mkdir(parents=True, exist_ok=True)
    renderer, truth, dice = Renderer(chosen.library, chosen.device), [], np.random.default_rng(8)
    with torch.no_grad():
        for first in range(0, chosen.photos, BATCH):
            for k, photo in enumerate(photograph(renderer, chosen, first, min(BATCH, chosen.photos - first))):
                image, region, deposit, judgeable = photo
                name = f"{first + k:04d}"
                Image.fromarray(image).save(chosen.out / f"{name}.jpg", quality=int(dice.integers(55, 93)))
                Image.fromarray(region).save(chosen.out / f"{name}.region.png")
                Image.fromarray(deposit).save(chosen.out / f"{name}.deposit.png")
                truth.append({"photo": f"{name}.jpg", "judgeable": judgeable, "both": figures(region, deposit)})
    (chosen.out / "truth.json").write_text(json.dumps(truth, indent=1) + "\n")


if __name__ == "__main__":
    main()
