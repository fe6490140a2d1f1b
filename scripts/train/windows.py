"""Windows of photos with masks: where they lie, how they are turned, mirrored and bent, and where the photo ends in them."""

from math import cos, exp, pi, sin

import numpy as np
import torch

HULL = 64  # directions in which a valve's outline is known
BENT = 0.5  # share of the windows that are seen as if from another place
BEND = (0.16, 0.2, 0.16, 0.16)  # most of it: logarithm of the stretch, shear, depth across and down
FILL, SPREAD, SHIFT = 0.8, 0.17, 0.07  # window round a valve as in window.h: share, spread of its logarithm, shift


def hull(x, y):
    """Of points at (x, y) those farthest out, [HULL, 2], one for each direction."""
    angle = 2 * pi * np.arange(HULL) / HULL
    farthest = (np.cos(angle)[:, None] * x + np.sin(angle)[:, None] * y).argmax(1)
    return np.stack((x[farthest], y[farthest]), 1)


def bend(uniform):
    """Stretch, shear and depth of a window seen as if from another place, for `sampling`; mostly. None for one left as it is."""
    return [uniform(-most, most) for most in BEND] if uniform() < BENT else None


def place(size, outline, turn, aspect, uniform):
    """Middle (x, y) and half width of a window in pixels of the photo: round the outline of a valve, or most of it."""
    height, width = size
    bell = lambda: sum(uniform() for _ in range(4)) * 1.732 - 3.464
    if outline is None:
        half = 0.5 * max(width, height * aspect) * np.exp(uniform(-0.8, 0.25))
        return (width * uniform(0.35, 0.65), height * uniform(0.35, 0.65)), half
    upright = outline @ np.array([[cos(turn), -sin(turn)], [sin(turn), cos(turn)]])  # as the window sees it
    low, high = upright.min(0), upright.max(0)
    half = max((high - low) / 2 * (1, aspect)) / (FILL * np.exp(SPREAD * bell()))
    x, y = (low + high) / 2
    middle = cos(turn) * x - sin(turn) * y, sin(turn) * x + cos(turn) * y
    return tuple(at + SHIFT * half * bell() for at in middle), half


def sampling(size, middle, half, turn, mirror, width, height, device, bend=None):
    """Grid [1, height, width, 2] for grid_sample: a turned, perhaps mirrored, perhaps bent window of the photo."""
    x = (torch.arange(width, device=device) + 0.5) / width * 2 - 1
    y = ((torch.arange(height, device=device) + 0.5) / height * 2 - 1) * height / width
    x, y = (-x if mirror else x)[None, :], y[:, None]
    if bend:
        stretch, shear, across, down = bend
        depth = 1 + across * x + down * y
        x, y = (x * exp(stretch) + shear * y) / depth, y * exp(-stretch) / depth
    x, y = x * half, y * half
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
