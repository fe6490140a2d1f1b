"""Photos and windows too dark to show what they hold are brightened before the net sees them: here as in the program
(internal/net/lift.go).

Ports are dark: flange and walls by the lamp settle the exposure, and what is farther in gets a few grey levels. A net that sees
all at one level need not learn every coat at every level. The first look's photo goes through a power curve, which leaves the
bright flange its shape; the second look's window is multiplied.
"""

import torch

MEDIAN = 0.3  # what the brightest channel of half of a photo's pixels is lifted to for the first look
STRONGEST = 0.45  # the lowest exponent of its curve
MEDIANS = (0.2, 0.4)  # while learning
LEVEL = 0.6  # what the brightest channel stays below in 90 % of the middle of a lifted window, of 0..1
MOST = 3.0  # more would be noise
LEVELS = (0.45, 0.75)  # while learning
UNLIFTED = 0.15  # share of photos and windows that stay as they are, while learning


def open_shadows(image, median=MEDIAN):
    """Photos [n, 3, h, w] in 0..1, none darker than before; black margins do not count. `median`: a number or [n, 1, 1, 1]."""
    brightest = image.amax(1)[:, ::2, ::2].flatten(1)
    level = torch.where(brightest > 0, brightest, torch.full_like(brightest, float("nan"))).nanmedian(1).values
    level = level.nan_to_num(1.0).clamp(1e-3, 0.98).view(-1, 1, 1, 1)
    target = torch.as_tensor(median, device=image.device)
    return image ** (target.log() / level.log()).clamp(STRONGEST, 1)


def open_variously(image, dice):
    """The same to many levels, for training."""
    opened = open_shadows(image, between(MEDIANS, image, dice))
    return torch.where(between((0, 1), image, dice) < UNLIFTED, image, opened)


def lift(image, level=LEVEL):
    """Photos [n, 3, h, w] in 0..1, none darker than before. `level`: a number or [n, 1, 1, 1]."""
    height, width = image.shape[2:]
    middle = image.amax(1)[:, height // 6 : height * 5 // 6 : 2, width // 6 : width * 5 // 6 : 2].flatten(1)
    bright = middle.quantile(0.9, dim=1).view(-1, 1, 1, 1)
    return (image * (level / (bright + 1e-3)).clamp(1, MOST)).clamp(max=1)


def lift_variously(image, dice):
    """The same to many levels, for training."""
    lifted = lift(image, between(LEVELS, image, dice))
    return torch.where(between((0, 1), image, dice) < UNLIFTED, image, lifted)


def between(limits, image, dice):
    """A random number for each photo [n, 1, 1, 1]."""
    return limits[0] + (limits[1] - limits[0]) * torch.rand(len(image), 1, 1, 1, generator=dice, device=image.device)
