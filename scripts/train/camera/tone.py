"""Tone and colour as the camera renders them: gamma, contrast, black level, saturation, sharpening."""

import torch
import torch.nn.functional as F

from .exposure import luminance
from .sensor import binomial


def lift(linear, dice, profile):
    """Brings dark parts nearer to a middle brightness, each by the mean of its surroundings; up to 8 times."""
    around = F.avg_pool2d(luminance(linear), 16, ceil_mode=True)
    around = F.interpolate(around, size=linear.shape[2:], mode="bilinear", align_corners=False).clamp(min=0)
    strength = dice.sometimes(profile.lifted, dice.uniform(*profile.lift))
    gain = ((dice.uniform(0.12, 0.3) + 0.005) / (around + 0.005)) ** strength
    return (linear * gain.clamp(1, 8)).clamp(0, 1)


def curve(linear, dice, profile):
    """Linear 0..1 to display 0..1; the channels' gammas differ a little, which tints the shadows."""
    gamma = dice.uniform(*profile.gamma) * dice.normal(0.03, channels=3).exp()
    display = linear.clamp(min=1e-6) ** (1 / gamma)
    # Monotonic as long as the contrast is below 1: the slope is 1 - contrast at both ends.
    display = display + dice.uniform(*profile.contrast) * display * (1 - display) * (2 * display - 1)
    black = dice.uniform(*profile.black_level)
    return ((display - black) / (1 - black.clamp(min=0))).clamp(0, 1)


def colour(display, dice, profile):
    """Saturation from grey to vivid."""
    saturation = dice.log(*profile.saturation)
    saturation = torch.where(dice.chance(profile.grey), dice.uniform(0, 0.15), saturation)
    grey = luminance(display)
    return (grey + saturation * (display - grey)).clamp(0, 1)


def sharpen(display, dice, profile):
    """Unsharp masking; the strong ones leave halos."""
    amount = dice.uniform(*profile.sharpen)
    amount = torch.where(dice.chance(profile.oversharpen), dice.log(*profile.oversharpening), amount)
    near = binomial(display)
    blurred = torch.where(dice.chance(0.5), near, binomial(binomial(near)))
    return (display + amount * (display - blurred)).clamp(0, 1)
