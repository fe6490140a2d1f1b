"""What a wrong answer costs. Every term is a mean over the batch; WEIGHTS balances them."""

import torch
import torch.nn.functional as F

from labels import FRAME, GRADE_LIMITS, STATES, dark_of, index_of

WEIGHTS = {"region": 1.0, "dice": 1.0, "deposit": 1.0, "index": 2.0, "state": 0.5, "frame_index": 0.5, "doubt": 0.05, "iou": 0.1, "grade": 0.1}
SPOILED = 0.15  # weight of the region terms of a spoiled photo, whose truth cannot be seen
SHARPNESS = 3.0  # of the steps where the index is read from them
DARK_SHARE = 0.5  # weight of the dark deposit beside the index
SMALLEST_ERROR = 0.003  # of the index scale: no photo is promised to be better known than 0.3 points
INDEX, INDEX_ERROR, REGION_IOU, DARK, DARK_ERROR, GRADE = (
    FRAME.index(name) for name in ("index", "index_error", "region_iou", "dark", "dark_error", "grade_0")
)


def weighted(value, weight):
    return (value * weight).sum() / weight.sum().clamp(min=1.0)


def region_terms(logits, labels, weight):
    """Cross entropy, heavier along outlines, and one minus soft Dice of head and stem where they are visible."""
    truth = labels.region
    low, high = -F.max_pool2d(-truth, 5, 1, 2), F.max_pool2d(truth, 5, 1, 2)
    outline = 1 + 1.5 * (high - low).amax(1)
    entropy = (-(truth * F.log_softmax(logits, 1)).sum(1) * outline).mean((1, 2))
    guess = F.softmax(logits, 1)[:, 1:]
    truth = truth[:, 1:]
    area = truth.sum((2, 3))
    dice = (2 * (guess * truth).sum((2, 3)) + 1) / (guess.sum((2, 3)) + area + 1)
    visible = (area > 8).float() * weight[:, None]
    return weighted(entropy, weight), weighted(1 - dice, visible)


def deposit_term(logits, labels, weight):
    """Cross entropy of the three steps, per photo a mean over its valve, so that small valves count as much."""
    share = labels.valve * weight[:, None, None, None]
    loss = F.binary_cross_entropy_with_logits(logits, labels.deposit, reduction="none").mean(1, keepdim=True)
    per_photo = (loss * share).sum((1, 2, 3)) / share.sum((1, 2, 3)).clamp(min=1.0)
    return weighted(per_photo, weight)


def index_term(logits, labels, weight):
    """Error of the index and of the dark deposit 0..1: whole valve, and head and stem where each covers at least 20 cells.

    The steps count nearly as hard as the product counts them. Soft ones let the net answer one half everywhere where it does
    not know, which read hard is all or nothing.
    """
    total, steps = 0.0, (SHARPNESS * logits).sigmoid()
    for part in (labels.valve, labels.region[:, 1:2], labels.region[:, 2:3]):
        error = (index_of(steps, part) - index_of(labels.deposit, part)).abs() / 100
        dark = (dark_of(steps, part) - dark_of(labels.deposit, part)).abs() / 100
        total = total + weighted(error + DARK_SHARE * dark, weight * (part.sum((1, 2, 3)) > 20)) / 3
    return total


@torch.no_grad()
def outcome(maps, labels):
    """Head IoU and errors of index and dark deposit 0..1 [n] that the maps reach on their own, as the product reads them."""
    best = maps[:, :3].argmax(1)
    truth = labels.region.argmax(1)
    both = ((best == 1) & (truth == 1)).sum((1, 2)).float()
    either = ((best == 1) | (truth == 1)).sum((1, 2)).float()
    found = (best > 0)[:, None].float()
    steps = hard_steps(maps[:, 3:])
    error = (index_of(steps, found) - labels.index).abs() / 100
    dark = (dark_of(steps, found) - labels.dark).abs() / 100
    return torch.where(either > 0, both / either.clamp(min=1), torch.zeros_like(both)), error, dark


def hard_steps(logits):
    """Steps as 0 and 1, each only where the one below it holds."""
    return (logits > 0).float().cumprod(1)


def doubt(error, expected):
    """Negative logarithm of a Laplace density: least where exp(output) is the mean error to expect."""
    expected = expected.clamp(-7, 1)
    return error.clamp(min=SMALLEST_ERROR) * (-expected).exp() + expected


def frame_terms(frame, maps, labels, judged):
    """The answers on the whole photo: states, figures of its own, the grade, and honest words on the maps' own errors."""
    state = F.binary_cross_entropy_with_logits(frame[:, :STATES], labels.state, reduction="none")
    index = (frame[:, INDEX].sigmoid() - labels.index / 100).abs()
    own_dark = (frame[:, DARK].sigmoid() - labels.dark / 100).abs()
    iou, error, dark = outcome(maps, labels)
    limits = torch.tensor(GRADE_LIMITS, dtype=torch.float32, device=frame.device)
    grade = F.cross_entropy(frame[:, GRADE:], torch.bucketize(labels.index, limits, right=True), reduction="none")
    overlap = F.binary_cross_entropy_with_logits(frame[:, REGION_IOU], iou, reduction="none")
    return {
        "state": weighted(state, labels.state_weight),
        "frame_index": weighted(index + DARK_SHARE * own_dark, judged),
        "doubt": weighted(doubt(error, frame[:, INDEX_ERROR]) + doubt(dark, frame[:, DARK_ERROR]), judged),
        "iou": overlap.mean(),
        "grade": weighted(grade, judged),
    }


def terms(maps, frame, labels):
    """All terms by name, unweighted."""
    maps, frame = maps.float(), frame.float()
    clear = labels.clear
    judged = clear * labels.present
    region, dice = region_terms(maps[:, :3], labels, SPOILED + (1 - SPOILED) * clear)
    steps = maps[:, 3:]
    return {
        "region": region,
        "dice": dice,
        "deposit": deposit_term(steps, labels, judged),
        "index": index_term(steps, labels, judged),
        **frame_terms(frame, maps, labels, judged),
    }


def total(parts):
    return sum(WEIGHTS[name] * value for name, value in parts.items())
