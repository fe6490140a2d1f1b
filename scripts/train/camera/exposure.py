"""Automatic exposure with its usual errors, and the colour of the light."""

import torch

from .constants import constant

LUMA = (0.299, 0.587, 0.114)  # ITU-R BT.601


def luminance(rgb):
    """[n, 3, h, w] to [n, 1, h, w]."""
    return (rgb * constant(LUMA, rgb.device).view(1, 3, 1, 1)).sum(1, keepdim=True)


def meter(linear, weight):
    """Mean brightness of each image [n, 1, 1, 1]; glints are limited, or one would turn the frame black."""
    light = luminance(linear)
    total = weight.sum((2, 3), keepdim=True)
    mean = lambda value: (value * weight).sum((2, 3), keepdim=True) / total
    floor = mean(light) * 1e-3 + 1e-9
    typical = mean((light + floor).log()).exp()
    return mean(torch.minimum(light, 8 * typical)).clamp(min=1e-9)


def brightest(linear, weight):
    """Brightness of the brightest part of each image [n, 1, 1, 1]: the fourth-power mean, glints limited."""
    light = luminance(linear)
    typical = meter(linear, weight)
    share = (light / typical).clamp(max=30) ** 4
    return typical * ((share * weight).sum((2, 3), keepdim=True) / weight.sum((2, 3), keepdim=True)) ** 0.25


def expose(linear, view, dice, later, profile, faults):
    """Scales radiance so that 1 is white: the metered mean at a random level, with errors and faults in stops."""
    centre = (-2.5 * dice.uniform(0, 1) * view.radius2).exp()  # some cameras meter the centre, some everything
    stops = dice.normal(profile.exposure_error) + faults.stops
    stops = stops + dice.sometimes(profile.misexposed, dice.uniform(*profile.misexposure))
    gain = dice.log(*profile.level) / meter(linear, centre * view.inside)
    careful = later.log(*profile.highlight) / brightest(linear, view.inside).clamp(min=1e-9)
    gain = torch.where(later.chance(profile.for_highlights), torch.minimum(gain, careful), gain)
    return linear * (gain * 2**stops)


def tint(linear, dice, profile):
    """Light colour and white-balance error: warm against cold, green against magenta."""
    strong = dice.sometimes(profile.strong_cast, dice.uniform(-0.7, 0.7))
    warmth = dice.normal(profile.cast) + strong
    magenta = dice.normal(profile.cast / 2.5)
    return linear * torch.cat((warmth + magenta / 2, -magenta, -warmth + magenta / 2), 1).exp()
