"""Where the photo lies in the frame, and coordinates inside it."""

from dataclasses import dataclass

import torch


@dataclass
class View:
    """Maps over [n, 1, height, width] of the frame."""

    x: torch.Tensor  # -1 at the photo's left edge, 1 at its right
    y: torch.Tensor  # -1 at its top, 1 at its bottom
    radius2: torch.Tensor  # squared distance from the photo's centre, 1 in its corners
    inside: torch.Tensor  # 1 in the photo, 0 in the margins
    width: torch.Tensor  # [n, 1, 1, 1] of the photo, pixels
    height: torch.Tensor
    scale: float  # pixels per pixel of a frame 320 wide


def look(box, height, width):
    """The view for photos at `box` [n, 4] (left, top, width, height) in a frame of this size."""
    left, top, wide, high = (column.view(-1, 1, 1, 1) for column in box.unbind(1))
    x = (torch.arange(width, device=box.device).view(1, 1, 1, -1) + 0.5 - left) / wide * 2 - 1
    y = (torch.arange(height, device=box.device).view(1, 1, -1, 1) + 0.5 - top) / high * 2 - 1
    radius2 = (x**2 * wide**2 + y**2 * high**2) / (wide**2 + high**2)
    inside = ((x.abs() < 1) & (y.abs() < 1)).float()
    return View(x, y, radius2, inside, wide, high, width / 320)
