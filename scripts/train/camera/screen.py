"""What the device draws over the picture: date text, small marks, black bands, and the round field stop of a borescope."""

import torch
import torch.nn.functional as F

from .constants import constant

# 5x7 dot glyphs, rows top down, bit 4 is the left column.
GLYPHS = {
    "0": (14, 17, 19, 21, 25, 17, 14), "1": (4, 12, 4, 4, 4, 4, 14), "2": (14, 17, 1, 2, 4, 8, 31),
    "3": (31, 2, 4, 2, 1, 17, 14), "4": (2, 6, 10, 18, 31, 2, 2), "5": (31, 16, 30, 1, 1, 17, 14),
    "6": (6, 8, 16, 30, 17, 17, 14), "7": (31, 1, 2, 4, 8, 8, 8), "8": (14, 17, 17, 14, 17, 17, 14),
    "9": (14, 17, 17, 15, 1, 2, 12), "/": (0, 1, 2, 4, 8, 16, 0), ":": (0, 12, 12, 0, 12, 12, 0),
    "-": (0, 0, 0, 31, 0, 0, 0), ".": (0, 0, 0, 0, 0, 12, 12), " ": (0, 0, 0, 0, 0, 0, 0),
    "x": (0, 0, 17, 10, 4, 10, 17), "A": (14, 17, 17, 17, 31, 17, 17), "L": (16, 16, 16, 16, 16, 16, 31),
    "E": (31, 16, 16, 30, 16, 16, 31), "D": (30, 17, 17, 17, 17, 17, 30), "%": (24, 25, 2, 4, 8, 19, 3),
}
CHARACTERS = "".join(GLYPHS)
# A random digit goes where a pattern has 0; the patterns are padded to one length.
PATTERNS = ("0000/00/00 00:00", "00-00-0000 00:00", "0000-00-00", "00:00:00", "LED 0", "x0.0", "000%", "A00 LED 00%")
LENGTH = max(map(len, PATTERNS))
LINES = tuple(tuple(CHARACTERS.index(c) for c in text.ljust(LENGTH)) for text in PATTERNS)


def atlas(device):
    """[glyphs, 7, 6] of 0 and 1; the sixth column is the gap."""
    rows = constant(tuple(GLYPHS.values()), device, torch.int64)
    bits = constant((16, 8, 4, 2, 1, 0), device, torch.int64)
    return ((rows[:, :, None] & bits) > 0).float()


def strip(dice):
    """[n, 1, 9, 6 * LENGTH + 2] one random line of text per image, with an empty margin."""
    text = constant(LINES, dice.device, torch.int64)[dice.integers(len(PATTERNS), 1).squeeze(1)]
    text = torch.where(text == CHARACTERS.index("0"), dice.integers(10, LENGTH), text)
    dots = atlas(dice.device)[text]  # [n, LENGTH, 7, 6]
    return F.pad(dots.permute(0, 2, 1, 3).flatten(2)[:, None], (1, 1, 1, 1))


def write(image, view, dice, profile):
    """Burns in a line of text, often with a dark rim, anywhere in the photo; returns the image and its cover."""
    text = strip(dice)
    dot = dice.uniform(0.7, 1.7)  # pixels per dot
    left, top = dice.uniform(-0.97, 0.3), torch.where(dice.chance(0.6), dice.uniform(0.8, 0.95), dice.uniform(-0.97, 0.9))
    columns, rows = text.shape[3] * dot, text.shape[2] * dot
    u = (view.x - left) * view.width / (2 * columns * view.scale) * 2 - 1
    v = (view.y - top) * view.height / (2 * rows * view.scale) * 2 - 1
    grid = torch.stack(torch.broadcast_tensors(u, v), -1).squeeze(1)
    ink = F.grid_sample(text, grid, mode="bilinear", align_corners=False) * dice.chance(profile.text) * view.inside
    rim = F.max_pool2d(ink, 3, 1, 1) * dice.chance(0.4)
    shades = torch.where(dice.chance(0.5), torch.ones(3, device=dice.device).view(1, 3, 1, 1), dice.uniform(0, 1, 3))
    return image * (1 - rim) * (1 - ink) + ink * shades, torch.maximum(ink, rim)


def rectangle(view, x, y, width, height):
    """[n, 1, h, w] of 0 and 1."""
    return (((view.x - x).abs() < width) & ((view.y - y).abs() < height)).float()


def mark(image, view, dice, profile):
    """A small filled rectangle near a corner, like a battery sign; returns the image and its cover."""
    side = lambda: torch.where(dice.chance(0.5), 1.0, -1.0)
    x, y = side() * dice.uniform(0.7, 0.95), side() * dice.uniform(0.75, 0.95)
    area = rectangle(view, x, y, dice.uniform(0.02, 0.08), dice.uniform(0.01, 0.05))
    cover = area * dice.chance(profile.marks) * view.inside
    return image * (1 - cover) + cover * dice.uniform(0, 1, 3), cover


def stop(view, dice, profile):
    """[n, 1, h, w] light that passes: the round field stop, sometimes cut by the frame, and black bands."""
    radius = dice.uniform(0.78, 1.2) * torch.minimum(view.width, view.height) / 2
    away_x = (view.x - dice.normal(0.06)) * view.width / 2
    away_y = (view.y - dice.normal(0.06)) * view.height / 2
    softness = dice.log(0.6, 6) * view.scale
    round_light = ((radius - (away_x**2 + away_y**2).sqrt()) / softness).sigmoid()
    light = torch.where(dice.chance(profile.round_stop), round_light, torch.ones_like(round_light))
    band = dice.uniform(0.7, 0.95)
    across = torch.where(dice.chance(0.5), view.x.expand_as(light), view.y.expand_as(light)).abs()
    return light * (1 - ((across > band) & dice.chance(profile.bands)).float())
