"""A window too dark to show what it holds is brightened before the second look: here as in the program (internal/net/lift.go).

Ports are dark: flange and walls by the lamp settle the exposure, and what is farther in gets a few grey levels. A reader that sees
all windows at one level need not learn every coat at every level.
"""

import torch

LEVEL = 0.6  # what the brightest channel stays below in 90 % of the middle of a lifted window, of 0..1
MOST = 3.0  # more would be noise
LEVELS = (0.45, 0.75)  # while learning
UNLIFTED = 0.15  # share of the windows that stay as they are, while learning


def lift(image, level=LEVEL):
    """Photos [n, 3, h, w] in 0..1, none darker than before. `level`: a number or [n, 1, 1, 1]."""
    height, width = image.shape[2:]
    middle = image.amax(1)[:, height // 6 : height * 5 // 6 : 2, width // 6 : width * 5 // 6 : 2].flatten(1)
    bright = middle.quantile(0.9, dim=1).view(-1, 1, 1, 1)
    return (image * (level / (bright + 1e-3)).clamp(1, MOST)).clamp(max=1)


def lift_variously(image, dice):
    """The same to many levels, for training."""
    draw = lambda: torch.rand(len(image), 1, 1, 1, generator=dice, device=image.device)
    lifted = lift(image, LEVELS[0] + (LEVELS[1] - LEVELS[0]) * draw())
    return torch.where(draw() < UNLIFTED, image, lifted)
