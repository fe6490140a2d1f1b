"""Photos spoiled on purpose, so that the net learns what to refuse."""

from dataclasses import dataclass

import torch


@dataclass
class Faults:
    """What spoils each image, [n, 1, 1, 1]; zero where nothing does."""

    stops: torch.Tensor  # added exposure
    blur: torch.Tensor  # Gaussian sigma, pixels
    motion: torch.Tensor  # smear, pixels


def draw(dice, size, profile):
    """Spoils the profile's share, one kind each; `size` [n] is the valve's radius in pixels, which blur is felt by.

    Strengths run from arguable to hopeless: the labels (labels.py) decide which counts as spoiled.
    """
    kind = (dice.uniform(0, 1) / (profile.faults / 4)).floor()  # without faults infinite, which is none of the kinds
    size = size.view(-1, 1, 1, 1)
    nothing = torch.zeros_like(kind)
    choose = lambda number, strength: torch.where(kind == number, strength, nothing)
    return Faults(
        stops=choose(0, -dice.uniform(3.0, 8.0)) + choose(1, dice.uniform(2.0, 6.0)),
        blur=choose(2, (size * dice.log(0.03, 0.22)).clamp(1.0, 16.0)),
        motion=choose(3, (size * dice.log(0.10, 0.9)).clamp(3.0, 60.0)),
    )
