"""The first look as a task for train.py: labels, price of errors, figures, pictures."""

from dataclasses import dataclass

import torch
import torch.nn.functional as F

import labels as labelling
import preview
from finder_net import Finder as Net  # noqa: F401
from frames import HEIGHT, WIDTH
from lift import open_shadows
from loss import weighted
from scenes import FRAME as LOOK  # noqa: F401

CELL = 4  # pixels of the frame
UNIT = 32.0  # pixels in which the distances to the sides are told
SMALLEST = 0.004  # share of the photo; a valve below half of it is none, between the two it weighs nothing
WEIGHTS = {"heat": 1.0, "valve": 1.0, "sides": 0.5, "overlap": 1.0, "state": 0.3}
CONFIDENT = 0.35  # probability of a middle from which on a valve counts as found, for the figures here


@dataclass
class Labels:
    heat: torch.Tensor  # [n, h/4, w/4] 1 at the middle of each valve, falling off with its size
    heat_weight: torch.Tensor  # [n, h/4, w/4] 0 where a valve is too small to say
    valve: torch.Tensor  # [n, h/4, w/4] share of the cell that is valve
    boxes: torch.Tensor  # [n, 2, 4] left, top, right, bottom in pixels of the frame
    large: torch.Tensor  # [n, 2] whether there is such a valve
    state: torch.Tensor
    state_weight: torch.Tensor
    clear: torch.Tensor


def bounds(mask):
    """Boxes [n, 4] of masks [n, h, w] and their pixels [n]; nonsense where a mask is empty."""
    rows, columns = mask.any(2).float(), mask.any(1).float()
    height, width = mask.shape[1:]
    left, top = columns.argmax(1), rows.argmax(1)
    right, bottom = width - columns.flip(1).argmax(1), height - rows.flip(1).argmax(1)
    return torch.stack((left, top, right, bottom), 1).float(), mask.sum((1, 2)).float()


def cells(device):
    y = torch.arange(HEIGHT // CELL, device=device).view(1, -1, 1) * CELL + CELL / 2
    x = torch.arange(WIDTH // CELL, device=device).view(1, 1, -1) * CELL + CELL / 2
    return x, y


def hill(box):
    """[n, h/4, w/4] 1 in the cell of the box's middle, a bell of an eighth of its size around it."""
    x, y = cells(box.device)
    left, top, right, bottom = (side.view(-1, 1, 1) for side in box.unbind(1))
    snap = lambda v: torch.floor(v / CELL) * CELL + CELL / 2
    dx, dy = x - snap((left + right) / 2), y - snap((top + bottom) / 2)
    spread = lambda size: (size / 8).clamp(min=CELL * 0.6)
    return (-0.5 * ((dx / spread(right - left)) ** 2 + (dy / spread(bottom - top)) ** 2)).exp()


def label(frames, photos):
    seen = photos.seen.squeeze(1) > 0.5
    area = frames.shown()
    boxes, heats, large, weight = [], [], [], torch.ones_like(seen[:, ::CELL, ::CELL], dtype=torch.float32)
    for head in (1, 3):
        box, pixels = bounds(seen & ((frames.region == head) | (frames.region == head + 1)))
        share = pixels / area
        box = torch.where((pixels > 0)[:, None], box, torch.zeros_like(box))
        boxes.append(box)
        large.append(share > SMALLEST)
        heats.append(hill(box) * large[-1].view(-1, 1, 1))
        arguable = ((share > SMALLEST / 2) & (share <= SMALLEST)).view(-1, 1, 1)
        weight = weight * torch.where(arguable & (hill(box) > 0.05), 0.0, 1.0)
    region, deposit, valve = labelling.visible_truth(frames, photos)
    state, state_weight, spoiled, _ = labelling.states(frames, photos, valve, labelling.valve_size(frames))
    return Labels(
        heat=torch.maximum(*heats), heat_weight=weight, valve=F.avg_pool2d((seen & (frames.region > 0) & (frames.region < 5)).float()[:, None], CELL)[:, 0],
        boxes=torch.stack(boxes, 1), large=torch.stack(large, 1), state=state, state_weight=state_weight, clear=(~spoiled).float(),
    )


def heat_term(logits, labels, weight):
    """Focal loss of middles (Zhou et al., "Objects as Points", 2019), per photo."""
    p = logits.sigmoid().clamp(1e-4, 1 - 1e-4)
    middle = labels.heat > 0.999
    loss = torch.where(middle, -((1 - p) ** 2) * p.log(), -((1 - labels.heat) ** 4) * p**2 * (1 - p).log())
    count = middle.sum((1, 2)).clamp(min=1)
    return weighted((loss * labels.heat_weight).sum((1, 2)) / count, weight)


def box_terms(sides, labels, weight):
    """Error of the sides' logarithms, and one minus the overlap of the boxes, near each middle."""
    x, y = cells(sides.device)
    errors, overlaps, weights = 0.0, 0.0, 0.0
    told = sides.clamp(-4, 4).exp() * UNIT
    for k in range(labels.boxes.shape[1]):
        left, top, right, bottom = (side.view(-1, 1, 1) for side in labels.boxes[:, k].unbind(1))
        true = torch.stack((x - left + 0 * y, y - top + 0 * x, right - x + 0 * y, bottom - y + 0 * x), 1).clamp(min=1.0)
        near = hill(labels.boxes[:, k]) * labels.large[:, k].view(-1, 1, 1) * weight.view(-1, 1, 1)
        near = torch.where(near > 0.5 * weight.view(-1, 1, 1), near, torch.zeros_like(near))
        errors = errors + ((sides - (true / UNIT).log()).abs().mean(1) * near).sum()
        inner = torch.minimum(told, true)
        both = (inner[:, 0] + inner[:, 2]) * (inner[:, 1] + inner[:, 3])
        area = lambda s: (s[:, 0] + s[:, 2]) * (s[:, 1] + s[:, 3])
        overlaps = overlaps + ((1 - both / (area(told) + area(true) - both)) * near).sum()
        weights = weights + near.sum()
    return errors / weights.clamp(min=1), overlaps / weights.clamp(min=1)


def terms(maps, frame, labels):
    """All terms by name, unweighted."""
    maps, frame = maps.float(), frame.float()
    weight = 0.3 + 0.7 * labels.clear
    valve = F.binary_cross_entropy_with_logits(maps[:, 1], labels.valve, reduction="none").mean((1, 2))
    sides, overlap = box_terms(maps[:, 2:], labels, weight)
    state = F.binary_cross_entropy_with_logits(frame, labels.state, reduction="none")
    return {
        "heat": heat_term(maps[:, 0], labels, weight), "valve": weighted(valve, weight), "sides": sides, "overlap": overlap,
        "state": weighted(state, labels.state_weight),
    }


def total(parts):
    return sum(WEIGHTS[name] * value for name, value in parts.items())


def found(maps, limit=CONFIDENT):
    """Valves of each photo, a list of [k, 5] tensors: left, top, right, bottom, probability; the surest first."""
    heat = maps[:, 0].float().sigmoid()
    peak = (heat == F.max_pool2d(heat[:, None], 5, 1, 2)[:, 0]) & (heat > limit)
    x, y = cells(maps.device)
    told = maps[:, 2:].float().clamp(-4, 4).exp() * UNIT
    boxes = torch.stack((x - told[:, 0], y - told[:, 1], x + told[:, 2], y + told[:, 3], heat), -1)
    return [apart(b[p]) for b, p in zip(boxes, peak)]


def intersection(a, b):
    """Overlap (intersection over union) of each box of a [k, 4+] with each of b [m, 4+]."""
    low = torch.maximum(a[:, None, :2], b[None, :, :2])
    high = torch.minimum(a[:, None, 2:4], b[None, :, 2:4])
    both = (high - low).clamp(min=0).prod(2)
    area = lambda s: (s[:, 2] - s[:, 0]) * (s[:, 3] - s[:, 1])
    return both / (area(a)[:, None] + area(b)[None] - both).clamp(min=1e-6)


def apart(boxes):
    """Without those that mostly cover a surer one."""
    boxes, kept = boxes[boxes[:, 4].argsort(descending=True)], []
    for box in boxes:
        if all(intersection(box[None], other[None]).item() < 0.45 for other in kept):
            kept.append(box)
    return torch.stack(kept) if kept else boxes[:0]


def keep(batches):
    """The set in memory, photos as bytes, their shadows open."""
    return [((open_shadows(photos.image) * 255).round().byte(), truth, frames.facts) for frames, photos, truth in batches]


@torch.no_grad()
def measure(net, kept):
    """Share of valves found, of boxes that are none, overlap of those found, share of empty photos with a box; clear photos."""
    valves = hit = wrong = overlaps = empty = alarms = 0
    for photo, truth, _ in kept:
        maps, _ = net(photo.float() / 255)
        for k, boxes in enumerate(found(maps)):
            true = truth.boxes[k][truth.large[k]]
            if truth.clear[k] < 0.5:
                continue
            if len(true) == 0:
                empty, alarms = empty + 1, alarms + (len(boxes) > 0)
                continue
            cover = intersection(true, boxes) if len(boxes) else torch.zeros(len(true), 1)
            best = cover.max(1).values
            valves, hit, overlaps = valves + len(true), hit + int((best > 0.5).sum()), overlaps + float(best[best > 0.5].sum())
            wrong += int((cover.max(0).values < 0.3).sum()) if len(boxes) else 0
    share = lambda a, b: round(a / max(b, 1), 4)
    return {
        "valves": valves, "found": share(hit, valves), "wrong_boxes": share(wrong, valves), "overlap": share(overlaps, hit),
        "empty": empty, "alarms": share(alarms, empty),
    }


def groups(net, kept):
    """Nothing to tell apart yet."""
    return {}


def outline(image, boxes, colour):
    """Draws boxes [k, 4+] on an image [3, h, w] in place."""
    for box in boxes:
        left, top, right, bottom = (int(v) for v in box[:4])
        left, top, right, bottom = max(left, 0), max(top, 0), min(right, WIDTH) - 1, min(bottom, HEIGHT) - 1
        if right <= left or bottom <= top:
            continue
        paint = torch.tensor(colour, device=image.device).view(3, 1)
        for rows, columns in ((slice(top, top + 2), slice(left, right)), (slice(bottom - 1, bottom + 1), slice(left, right))):
            image[:, rows, columns] = paint[:, :, None]
        for rows, columns in ((slice(top, bottom), slice(left, left + 2)), (slice(top, bottom), slice(right - 1, right + 1))):
            image[:, rows, columns] = paint[:, :, None]


def drawn(image, boxes, heat):
    image = image.clone()
    image[:, 0] = torch.maximum(image[:, 0], F.interpolate(heat[:, None], scale_factor=CELL, mode="bilinear")[:, 0])
    for picture, some in zip(image, boxes):
        outline(picture, some, (0.0, 0.9, 1.0))
    return image


def training_sheet(path, photos, labels):
    image = photos.image[:48]
    preview.sheet(path, image, drawn(image, [b[l] for b, l in zip(labels.boxes[:48], labels.large[:48])], labels.heat[:48]))


@torch.no_grad()
def validation_sheet(path, net, kept):
    photo, truth, _ = kept[0]
    image = photo.float() / 255
    maps, _ = net(image)
    true = drawn(image, [b[l] for b, l in zip(truth.boxes, truth.large)], truth.heat)
    preview.sheet(path, image, true, drawn(image, found(maps), maps[:, 0].float().sigmoid()))
