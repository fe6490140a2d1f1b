"""Light that a borescope's own lamp spoils the picture with: a hot spot, and the wall beside the lens as a burnt ring."""

import torch


def burn(image, view, dice, profile):
    """The image with both added, and [n, 1, h, w] 0 or 1: what the ring hides. White is 1."""
    away_x, away_y = (view.x - dice.normal(0.15)) * view.width / 2, (view.y - dice.normal(0.15)) * view.height / 2
    half = torch.minimum(view.width, view.height) / 2
    off = (away_x**2 + away_y**2) / half**2
    spot = dice.sometimes(profile.hot_centre, dice.log(*profile.hot)) * (-off / dice.log(0.02, 0.4)).exp()
    ring = rim(view, dice, half) * dice.sometimes(profile.rim, dice.log(*profile.rim_light))
    return image * (1 + spot) + ring, (ring > 0.8).float()


def rim(view, dice, half):
    """[n, 1, h, w] 0..1 and a little more: a ring about the photo's centre, or all beyond it, brighter in places."""
    out = ((view.x * view.width / 2) ** 2 + (view.y * view.height / 2) ** 2).sqrt() / half
    inwards = (out - dice.uniform(0.75, 1.25)) / dice.log(0.02, 0.15)
    shape = torch.where(dice.chance(0.5), (-(inwards**2)).exp(), inwards.sigmoid())
    height, width = view.inside.shape[2:]
    return shape * (1 + 0.4 * dice.field(height, width, 5)).clamp(min=0)
