"""Photos with masks as training material: NAME.jpg, NAME.region.png and NAME.deposit.png in a folder, in the codes of the
renderer. They are turned, mirrored and cropped at random and go through the same cameras as the scenes.
"""

from math import cos, pi, sin
from pathlib import Path

import numpy as np
import torch
import torch.nn.functional as F
from PIL import Image

from scenes import FACTS, JUDGEABLE, PLACE, VALVE, VALVE_SHARE, Scenes

SIDE = 960  # pixels of the longer side that a photo is stored with at most
FILL, SPREAD, SHIFT = 0.8, 0.17, 0.07  # window round a valve as in window.h: share, spread of its logarithm, shift


class Sets:
    """All photos of the folders in memory; draws windows of them as if a renderer had made them."""

    def __init__(self, folders, device, chosen=None):
        self.device, self.photos = torch.device(device), []
        for folder in folders:
            for path in sorted(Path(folder).glob("*.region.png")):
                name = path.name.removesuffix(".region.png")
                if chosen is None or name in chosen:
                    self.photos.append(self.load(path.parent / name))
        if not self.photos:
            raise ValueError(f"no photos with masks in {folders}")

    def load(self, path):
        """(photo [3, h, w] linear half, region [1, h, w] half, deposit [1, h, w] half, box of the valve or None)."""
        photo = Image.open(f"{path}.jpg").convert("RGB")
        masks = [Image.open(f"{path}.{kind}.png") for kind in ("region", "deposit")]
        scale = min(1, SIDE / max(photo.size))
        size = tuple(round(side * scale) for side in photo.size)
        photo = torch.from_numpy(np.asarray(photo.resize(size, Image.BOX))).permute(2, 0, 1).to(self.device)
        region, deposit = (torch.from_numpy(np.asarray(m.resize(size, Image.NEAREST)))[None].to(self.device) for m in masks)
        rows, columns = torch.nonzero((region[0] == 1) | (region[0] == 2), as_tuple=True)
        box = None if len(rows) < 60 else [float(v) for v in (columns.min(), rows.min(), columns.max() + 1, rows.max() + 1)]
        return (photo.half() / 255) ** 2.2, region.half(), deposit.half(), box

    def draw(self, count, width, height, look, generator):
        """[count] windows of this size of random photos; `generator` is a CPU torch.Generator."""
        uniform = lambda low=0.0, high=1.0: low + (high - low) * torch.rand(1, generator=generator).item()
        parts = [
            self.window(self.photos[k], width, height, look, uniform)
            for k in torch.randint(len(self.photos), (count,), generator=generator).tolist()
        ]
        return Scenes.join(parts)

    def window(self, item, width, height, look, uniform):
        photo, region, deposit, box = item
        quarter = uniform() < 0.5
        turn, mirror = pi / 2 * int(uniform(0, 4)) if quarter else uniform(-pi, pi), uniform() < 0.5
        middle, half = place(photo.shape[1:], box if look == VALVE else None, turn, width / height, uniform)
        grid = sampling(photo.shape[1:], middle, half, turn, mirror, width, height, self.device)
        fine = sampling(photo.shape[1:], middle, half, turn, mirror, 2 * width, 2 * height, self.device)
        sample = lambda image, at, mode, beyond: F.grid_sample(image[None].float(), at, mode, beyond, align_corners=False)
        linear = F.avg_pool2d(sample(photo, fine, "bilinear", "border" if quarter else "zeros"), 2)
        parts = sample(region, grid, "nearest", "zeros")[:, 0].round().byte()
        classes = (sample(deposit - 255, grid, "nearest", "zeros")[:, 0] + 255).round().byte()
        classes[(parts != 1) & (parts != 2)] = 255
        share = (classes < 4).float().mean()
        facts = torch.zeros((1, FACTS), device=self.device)
        facts[0, VALVE_SHARE] = share
        facts[0, JUDGEABLE] = (share > 0.015).float()
        # A turned photo has no straight edges in the window; outside of it all is black.
        edges = photo_edges(photo.shape[1:], middle, half, turn, mirror, width, height) if quarter else [0, 0, width, height]
        facts[0, PLACE] = torch.tensor(edges, dtype=torch.float32, device=self.device)
        return Scenes(linear.permute(0, 2, 3, 1) + 1e-5, parts, classes, facts)


def place(size, box, turn, aspect, uniform):
    """Middle (x, y) and half width of a window in pixels of the photo: round the box of a valve, or most of the photo."""
    height, width = size
    bell = lambda: sum(uniform() for _ in range(4)) * 1.732 - 3.464
    if box is None:
        half = 0.5 * max(width, height * aspect) * np.exp(uniform(-0.8, 0.25))
        return (width * uniform(0.35, 0.65), height * uniform(0.35, 0.65)), half
    wide, high = (box[2] - box[0]) / 2, (box[3] - box[1]) / 2
    across = abs(wide * cos(turn)) + abs(high * sin(turn)), abs(wide * sin(turn)) + abs(high * cos(turn))
    half = max(across[0], across[1] * aspect) / (FILL * np.exp(SPREAD * bell()))
    return ((box[0] + box[2]) / 2 + SHIFT * half * bell(), (box[1] + box[3]) / 2 + SHIFT * half * bell()), half


def sampling(size, middle, half, turn, mirror, width, height, device):
    """Grid [1, height, width, 2] for grid_sample: a turned, perhaps mirrored window of the photo."""
    x = (torch.arange(width, device=device) + 0.5) / width * 2 - 1
    y = ((torch.arange(height, device=device) + 0.5) / height * 2 - 1) * height / width
    x = (-x if mirror else x)[None, :] * half
    y = y[:, None] * half
    u = middle[0] + cos(turn) * x - sin(turn) * y
    v = middle[1] + sin(turn) * x + cos(turn) * y
    return torch.stack((u / size[1] * 2 - 1, v / size[0] * 2 - 1), -1)[None]


def photo_edges(size, middle, half, turn, mirror, width, height):
    """Left, top, width, height of the photo in pixels of the window; `turn` is a multiple of a quarter."""
    scale, sign = width / (2 * half), -1 if mirror else 1
    corners = []
    for x, y in ((0, 0), (size[1], size[0])):
        dx, dy = x - middle[0], y - middle[1]
        across, down = cos(turn) * dx + sin(turn) * dy, cos(turn) * dy - sin(turn) * dx
        corners.append((width / 2 + sign * scale * across, height / 2 + scale * down))
    (a, b), (c, d) = corners
    return [min(a, c), min(b, d), abs(c - a), abs(d - b)]
