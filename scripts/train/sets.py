"""Photos with masks as training material: NAME.jpg (or .jpeg, .png), NAME.region.png and NAME.deposit.png in a folder,
in the codes of the renderer or of `valvegrade score --masks`. They are turned, mirrored, bent and cropped at random and go
through the same cameras as the scenes, or stay as they were taken (taken.py).
"""

from fnmatch import fnmatch
from math import pi
from pathlib import Path

import numpy as np
import torch
import torch.nn.functional as F
from PIL import Image, ImageOps

import windows
from frames import HEIGHT, WIDTH, content_size
from scenes import FACTS, FRAME, JUDGEABLE, LEVEL, PLACE, VALVE, VALVE_SHARE, Scenes

SIDE = 960  # pixels of the longer side that a photo is stored with at most
LEAST = 60  # pixels of the stored photo that make a valve
UNREADABLE, NOT_VALVE = 254, 255  # in a deposit mask, beside the classes 0 to 3


class Sets:
    """All photos of the folders in memory, once for each valve whose deposit is known; draws windows of them as if a
    renderer had made them."""

    def __init__(self, folders, device, names=("*",), without=()):
        """Of the photos that match a pattern of `names` and none of `without`. Raises ValueError when none is left."""
        matches = lambda name, patterns: any(fnmatch(name, pattern) for pattern in patterns)
        self.device, self.photos = torch.device(device), []
        for folder in folders:
            for name in photo_names(folder):
                if matches(name, names) and not matches(name, without):
                    self.photos += self.load(Path(folder) / name)
        if not self.photos:
            raise ValueError(f"no photos with masks to take from {', '.join(map(str, folders))}")

    def load(self, path):
        """A list of (photo [3, h, w] linear, region [1, h, w], deposit [1, h, w], outline of the valve or None), in half
        precision; raises FileNotFoundError, and ValueError where a mask has another size."""
        photo = ImageOps.exif_transpose(Image.open(photo_file(path))).convert("RGB")
        masks = [Image.open(f"{path}.{kind}.png") for kind in ("region", "deposit")]
        if any(mask.size != photo.size for mask in masks):
            raise ValueError(f"{path}: {photo.size} pixels, but its masks {masks[0].size} and {masks[1].size}")
        scale = min(1, SIDE / max(photo.size))
        size = tuple(round(side * scale) for side in photo.size)
        photo = torch.from_numpy(np.array(photo.resize(size, Image.BOX))).permute(2, 0, 1).to(self.device)
        photo = (photo.half() / 255) ** 2.2
        region, deposit = (np.array(mask.resize(size, Image.NEAREST)) for mask in masks)
        valves = [self.valve(photo, region, filled(deposit), first) for first in range(1, int(region.max()) + 1, 2)]
        return [valve for valve in valves if valve] or [(photo, *self.masks(region, deposit), None)]

    def masks(self, region, deposit):
        return [torch.from_numpy(mask)[None].to(self.device).half() for mask in (region, deposit)]

    def valve(self, photo, region, deposit, first):
        """The photo with the valve whose head is `first` in the mask as its principal one; None where its deposit is not
        known."""
        own = (region == first) | (region == first + 1)
        rows, columns = np.nonzero(own & (deposit < UNREADABLE))
        if len(rows) < LEAST:
            return None
        part = np.where(region > 0, 2 - region % 2, 0)  # 1 head, 2 stem
        region = np.where(own | (part == 0), part, part + 2).astype(np.uint8)
        deposit = np.where(own, deposit, NOT_VALVE).astype(np.uint8)
        return (photo, *self.masks(region, deposit), windows.hull(columns + 0.5, rows + 0.5))

    def draw(self, count, width, height, look, generator):
        """[count] windows of this size of random photos; `generator` is a CPU torch.Generator."""
        uniform = lambda low=0.0, high=1.0: low + (high - low) * torch.rand(1, generator=generator).item()
        parts = [
            self.window(self.photos[k], width, height, look, uniform)
            for k in torch.randint(len(self.photos), (count,), generator=generator).tolist()
        ]
        return Scenes.join(parts)

    def window(self, item, width, height, look, uniform):
        quarter = uniform() < 0.5
        turn, mirror = pi / 2 * int(uniform(0, 4)) if quarter else uniform(-pi, pi), uniform() < 0.5
        middle, half = windows.place(item[0].shape[1:], item[3] if look == VALVE else None, turn, width / height, uniform)
        bend = windows.bend(uniform)
        quarter = quarter and not bend
        return self.cut(item, width, height, middle, half, turn, mirror, quarter, bend)

    def as_taken(self, look):
        """Yields each photo by itself, on its side when upright: the whole of it, or the window round its valve; of
        photos without a valve there is no window."""
        for item in self.photos:
            size, outline = item[0].shape[1:], item[3]
            turn = pi / 2 if size[0] > size[1] else 0.0
            if look == FRAME:
                width, height = content_size(max(size), min(size))
                yield self.cut(item, width, height, (size[1] / 2, size[0] / 2), max(size) / 2, turn)
            elif outline is not None:
                middle, half = windows.place(size, outline, turn, WIDTH / HEIGHT, lambda low=0.0, high=1.0: (low + high) / 2)
                yield self.cut(item, WIDTH, HEIGHT, middle, half, turn)

    def cut(self, item, width, height, middle, half, turn, mirror=False, quarter=True, bend=None):
        """One scene: the turned, perhaps mirrored window of a photo; `quarter`: the turn is a multiple of a quarter, and
        nothing is bent."""
        photo, region, deposit, _ = item
        grid = windows.sampling(photo.shape[1:], middle, half, turn, mirror, width, height, self.device, bend)
        fine = windows.sampling(photo.shape[1:], middle, half, turn, mirror, 2 * width, 2 * height, self.device, bend)
        sample = lambda image, *how: F.grid_sample(image[None].float(), *how, align_corners=False)
        linear = F.avg_pool2d(sample(photo, fine, "bilinear", "border" if quarter else "zeros"), 2)
        if not quarter:  # as bright around a turned photo as in it, or the camera burns out what it shows
            covered = F.avg_pool2d(sample(torch.ones_like(photo[:1]), fine, "bilinear", "zeros"), 2)
            linear = linear + (1 - covered) * photo.float().mean((1, 2)).view(1, 3, 1, 1)
        parts = sample(region, grid, "nearest", "zeros")[:, 0].round().byte()
        classes = (sample(deposit - NOT_VALVE, grid, "nearest", "zeros")[:, 0] + NOT_VALVE).round().byte()
        classes[(parts != 1) & (parts != 2)] = NOT_VALVE
        share = (classes < 4).float().mean()
        facts = torch.zeros((1, FACTS), device=self.device)
        facts[0, VALVE_SHARE] = share
        facts[0, JUDGEABLE] = (share > 0.015).float()
        # A turned photo has no straight edges in the window.
        edges = [0, 0, width, height]
        if quarter:
            edges = windows.photo_edges(photo.shape[1:], middle, half, turn, mirror, width, height)
        facts[0, PLACE] = torch.tensor(edges, dtype=torch.float32, device=self.device)
        rgb = linear.permute(0, 2, 3, 1) + 1e-5
        facts[0, LEVEL] = rgb.mean()
        return Scenes(rgb, parts, classes, facts)


def photo_names(folder):
    """Names of the photos of a folder that have a mask, sorted."""
    return sorted(path.name.removesuffix(".region.png") for path in Path(folder).glob("*.region.png"))


def photo_file(path):
    """The photo beside its masks; raises FileNotFoundError."""
    for suffix in (".jpg", ".jpeg", ".png", ".JPG", ".JPEG", ".PNG"):
        if (file := path.with_name(path.name + suffix)).exists():
            return file
    raise FileNotFoundError(f"{path}.region.png has no photo beside it")


def filled(deposit):
    """A deposit mask whose unreadable pixels have the highest class beside them: it goes on beneath glare."""
    classes = np.where(deposit < UNREADABLE, deposit.astype(int), -1)
    open_ = deposit == UNREADABLE
    for _ in range(max(deposit.shape)):
        if not (open_ & (classes < 0)).any():
            break
        wide = np.pad(classes, 1, constant_values=-1)
        beside = np.maximum.reduce([wide[:-2, 1:-1], wide[2:, 1:-1], wide[1:-1, :-2], wide[1:-1, 2:]])
        classes = np.where(open_ & (classes < 0), beside, classes)
    return np.where(classes < 0, NOT_VALVE, classes).astype(np.uint8)
