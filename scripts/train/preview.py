"""Contact sheets: the photo beside it with the deposit classes and the outline of the valve."""

import torch
import torch.nn.functional as F
from PIL import Image

# bare, film, medium, heavy: pale steel, sand, umber, near-black.
RAMP = ((0.78, 0.83, 0.88), (0.87, 0.72, 0.45), (0.52, 0.33, 0.18), (0.10, 0.08, 0.08))
OUTLINES = ((0.0, 0.9, 1.0), (1.0, 0.2, 0.8))  # head, stem: colours that no photo has
COLUMNS, TILE = 12, (224, 179)  # pictures a row, their size


def overlay(image, region, deposit):
    """image [n, 3, h, w] with region (0 background, 1 head, 2 stem) and deposit (0..3) [n, h, w] drawn on it."""
    ramp = torch.tensor(RAMP, device=image.device)
    tints = ramp[deposit.long().clamp(0, 3)].permute(0, 3, 1, 2)
    drawn = torch.where((region > 0)[:, None], 0.35 * image + 0.65 * tints, image)
    for part, colour in enumerate(OUTLINES, 1):
        mask = (region == part).float()[:, None]
        edge = F.max_pool2d(mask, 3, 1, 1) - mask
        drawn = drawn * (1 - edge) + edge * torch.tensor(colour, device=image.device).view(1, 3, 1, 1)
    return drawn


def full_size(parts, steps):
    """Region and deposit [n, h, w] at the frame's size from maps at half of it: scores per region, steps over `> 0`."""
    enlarge = lambda maps: F.interpolate(maps, scale_factor=2.0, mode="bilinear", align_corners=False)
    return enlarge(parts).argmax(1), (enlarge(steps) > 0).float().cumprod(1).sum(1)


def sheet(path, image, *overlays):
    """Writes full rows of cells, each a photo and its overlays side by side."""
    strips = torch.cat([image, *overlays], 3)
    size = (TILE[1], TILE[0] * (1 + len(overlays)))
    strips = F.interpolate(strips.float(), size=size, mode="bilinear", antialias=True, align_corners=False)
    columns = min(len(strips), COLUMNS // (1 + len(overlays)))
    count = len(strips) // columns * columns
    cells = strips[:count].reshape(-1, columns, *strips.shape[1:])
    picture = cells.permute(0, 3, 1, 4, 2).reshape(-1, columns * size[1], 3)
    Image.fromarray((picture.clamp(0, 1) * 255).byte().cpu().numpy()).save(path)


def training_sheet(path, photos, labels):
    """What the net learns from: photo and labels."""
    region, deposit = full_size(labels.region, labels.deposit - 0.5)
    sheet(path, photos.image, overlay(photos.image, region, deposit))


def validation_sheet(path, photo, labels, maps):
    """What the net says: photo, truth, answer."""
    image = photo.float() / 255
    truth = overlay(image, *full_size(labels.region, labels.deposit - 0.5))
    sheet(path, image, truth, overlay(image, *full_size(maps[:, :3], maps[:, 3:])))
