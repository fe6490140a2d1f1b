"""Photos with masks as they were taken. They have been through a camera already, and those that the program will see are not
developed a second time, so half of them are shown as they are but for light, tint and tone.
"""

import torch

import camera
from scenes import LEVEL

SHARE = 0.5
LIGHT, TINT, TONE = 0.25, 0.1, 0.15  # logarithms: farthest change of brightness and of gamma, deviation of a colour's gain
GAMMA = 2.2  # that sets.py made the photos linear with


def picture(frames, gain, gamma):
    """Display values [n, 3, h, w] in whole 8-bit steps, and which pixels the photo has [n, 1, h, w]; `gain` is for each colour
    [n, 3, 1, 1] or a number, `gamma` [n, 1, 1, 1] or a number."""
    inside = camera.view.look(frames.box, *frames.rgb.shape[2:]).inside
    level = frames.facts[:, LEVEL].view(-1, 1, 1, 1)
    image = (frames.rgb * level * gain).clamp(0, 1) ** (1 / gamma) * inside
    return (image * 255).round() / 255, inside


def leave(frames, photos, dice):
    """Puts a share of the photos with masks among the developed `photos` back as they were taken."""
    count, device = len(frames.facts), frames.facts.device
    swing = lambda most: (most * (2 * torch.rand(count, 1, 1, 1, generator=dice, device=device) - 1)).exp()
    chosen = torch.rand(count, generator=dice, device=device) < SHARE
    chosen = (chosen & (frames.facts[:, LEVEL] > 0)).view(-1, 1, 1, 1)
    tint = (TINT * torch.randn(count, 3, 1, 1, generator=dice, device=device)).exp()
    image, inside = picture(frames, swing(LIGHT) * tint, GAMMA * swing(TONE))
    photos.image = torch.where(chosen, image, photos.image)
    photos.seen = torch.where(chosen, inside, photos.seen)
    photos.blur = photos.blur * ~chosen.flatten()
    photos.motion = photos.motion * ~chosen.flatten()
