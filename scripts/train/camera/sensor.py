"""The sensor: shot and read noise, demosaicing, clipping, and the smear of noise reduction."""

import torch
import torch.nn.functional as F

from .constants import constant
from .exposure import luminance


def binomial(image):
    """3x3 blur by 1-2-1, edges repeated."""
    row = constant((0.25, 0.5, 0.25), image.device)
    kernel = (row[:, None] * row[None, :]).expand(image.shape[1], 1, 3, 3).contiguous()
    return F.conv2d(F.pad(image, (1, 1, 1, 1), mode="replicate"), kernel, groups=image.shape[1])


def expose_sensor(linear, dice, profile):
    """Photon and readout noise on white = 1, then clipping.

    Demosaicing spreads each sample over its neighbours: part of the noise is a blurred field, brought back to unit
    deviation (a 1-2-1 blur leaves 0.375 of it), and part is shared by the three channels.
    """
    white = dice.noise(linear)
    grains = torch.where(dice.chance(0.5), white, binomial(white) / 0.375)
    shared = dice.uniform(0, 1)
    grains = (1 - shared).sqrt() * grains + shared.sqrt() * grains[:, 1:2]
    deviation = (dice.log(*profile.shot_noise) ** 2 * linear.clamp(max=2) + dice.log(*profile.read_noise) ** 2).sqrt()
    return (linear + deviation * grains).clamp(0, 1)


def denoise(image, dice, profile):
    """Smears small differences and leaves edges: fine grain, and fine crust, turn to wax."""
    strength = dice.log(*profile.denoise_strength)
    smooth = binomial(binomial(image))
    difference = smooth - image
    kept = (-((difference / strength) ** 2)).exp()
    return image + dice.sometimes(profile.denoise, kept) * difference


def smear_colour(image, dice, profile):
    """Noise reduction in the colours alone, four pixels wide."""
    colour = image - luminance(image)
    wide = F.interpolate(F.avg_pool2d(colour, 4, ceil_mode=True), size=image.shape[2:], mode="bilinear", align_corners=False)
    return (image + dice.sometimes(profile.colour_smear, dice.uniform(0.5, 1)) * (wide - colour)).clamp(0, 1)
