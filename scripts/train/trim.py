"""Photos that end close to the valve: sides of some windows are cut off between it and the edge, black beyond as in the program."""

import torch

SHARE = 0.3  # of the windows
SIDE = 0.5  # of the four sides of such a window
FARTHEST = 0.25  # from the valve, in lengths of its box


def trim(image, region, dice):
    """Blackens `image` [n, 3, h, w] in place beyond cuts that spare the valve of `region` [n, 3, h / 2, w / 2]."""
    valve = region[:, 1:].sum(1) > 0
    shown = valve.flatten(1).any(1)
    n, device = len(image), image.device
    draw = lambda: torch.rand(n, generator=dice, device=device)
    cut = shown & (draw() < SHARE)
    for axis in (1, 2):  # rows, then columns
        line = valve.any(3 - axis)
        size = line.shape[1]
        at = torch.arange(size, device=device)
        first = torch.where(line, at, size).amin(1)
        last = torch.where(line, at, -1).amax(1) + 1
        length = (last - first).float()
        low = (first - (0.01 + FARTHEST * draw()) * length).floor() * 2
        high = (last + (0.01 + FARTHEST * draw()) * length).ceil() * 2
        low = torch.where(cut & (draw() < SIDE), low, torch.zeros_like(low))
        high = torch.where(cut & (draw() < SIDE), high, torch.full_like(high, 2 * size))
        pixel = torch.arange(2 * size, device=device)[None]
        kept = (pixel >= low[:, None]) & (pixel < high[:, None])
        image *= kept[:, None, :, None] if axis == 1 else kept[:, None, None, :]
