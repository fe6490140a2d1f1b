"""What the net is asked to answer: maps at half the frame's size and facts about the whole photo."""

from dataclasses import dataclass
from math import pi

import torch
import torch.nn.functional as F

from camera.exposure import luminance
from scenes import JUDGEABLE, VALVE_SHARE

GRADE_LIMITS = (2, 15, 40, 70)  # of the index, scale version 1
# Columns of the net's second output.
FRAME = (
    "judgeable", "too_dark", "too_bright", "blurred", "moving", "index", "index_error", "region_iou",
    "dark", "dark_error", "grade_0", "grade_1", "grade_2", "grade_3", "grade_4",
)
STATES = 5  # the first five are yes-or-no logits

INDEX_WEIGHTS = (0.25, 0.25, 0.5)  # of P(>= film), P(>= medium), P(>= heavy): makes 0.25, 0.5 and 1
SMALLEST_SHARE = 0.015  # of what the frame shows: a valve below this is not judged


@dataclass
class Labels:
    region: torch.Tensor  # [n, 3, h/2, w/2] shares of background, head, stem in each cell
    valve: torch.Tensor  # [n, 1, h/2, w/2] share of principal-valve pixels, the weight of `deposit`
    deposit: torch.Tensor  # [n, 3, h/2, w/2] shares of those at least film, medium, heavy
    index: torch.Tensor  # [n] deposit index of the visible valve, 0..100; 0 where there is none
    dark: torch.Tensor  # [n] its dark deposit, 0..100
    state: torch.Tensor  # [n, 5] 0 or 1
    state_weight: torch.Tensor  # [n, 5] 0 where the answer is arguable
    clear: torch.Tensor  # [n] 1 where the maps can be read off the photo, 0 where it is spoiled
    present: torch.Tensor  # [n] 1 where a valve is there to be judged


def valve_size(frames):
    """[n] radius in pixels of a disc with the valve's area; 60 where there is none, so that faults still have a size."""
    pixels = frames.facts[:, VALVE_SHARE] * frames.shown()
    return torch.where(frames.facts[:, JUDGEABLE] > 0.5, (pixels / pi).sqrt().clamp(min=8), torch.full_like(pixels, 60))


def visible_truth(frames, photos):
    """Region and deposit as far as the photo shows them: nothing behind the field stop, bands or text."""
    seen = photos.seen.squeeze(1) > 0.5
    valve = seen & ((frames.region == 1) | (frames.region == 2)) & (frames.deposit <= 3)
    region = torch.where(valve, frames.region, torch.zeros_like(frames.region))
    deposit = torch.where(valve, frames.deposit, torch.full_like(frames.deposit, 255))
    return region, deposit, valve


def maps(region, deposit, valve):
    """Shares per 2x2 cell of the regions, of the valve, and of the deposit steps among valve pixels."""
    known = valve[:, None].float()
    parts = torch.stack([region == 0, region == 1, region == 2], 1).float()
    steps = torch.stack([valve & (deposit >= step) for step in (1, 2, 3)], 1).float()
    share = F.avg_pool2d(known, 2)
    return F.avg_pool2d(parts, 2), share, F.avg_pool2d(steps, 2) / share.clamp(min=0.25)


def index_of(steps, weight):
    """Deposit index 0..100 [n] of step probabilities [n, 3, h, w] over cells of this weight [n, 1, h, w]."""
    per_cell = sum(share * steps[:, i] for i, share in enumerate(INDEX_WEIGHTS))[:, None]
    return 100 * (per_cell * weight).sum((1, 2, 3)) / weight.sum((1, 2, 3)).clamp(min=1e-3)


def dark_of(steps, weight):
    """Dark deposit 0..100 [n]: the share with crust, medium or heavy; as index_of."""
    return 100 * (steps[:, 1:2] * weight).sum((1, 2, 3)) / weight.sum((1, 2, 3)).clamp(min=1e-3)


def mean_over(value, mask):
    """[n] mean of [n, 1, h, w] over a mask of the same shape."""
    return (value * mask).sum((1, 2, 3)) / mask.sum((1, 2, 3)).clamp(min=1)


def decide(yes, no):
    """A label and its weight from a clear yes and a clear no; what lies between is arguable and weighs nothing."""
    return yes.float(), (yes | no).float()


def states(frames, photos, valve, size):
    """The five yes-or-no answers, their weights, and which photos are spoiled beyond reading.

    Light is judged on the valve, and on the whole photo where there is none. A black valve in a well-lit port is not
    a dark photo. Blur counts against the valve's size: from about 4.5 % of its radius crust loses its texture.
    """
    light = luminance(photos.image)
    inside = (photos.seen > 0.5).float()
    present = valve.float().mean((1, 2)) > 0.005
    where = torch.where(present[:, None, None, None], valve[:, None].float(), inside)
    on_valve, on_frame = mean_over(light, where), mean_over(light, inside)
    burnt = mean_over((photos.image.amin(1, keepdim=True) > 0.96).float(), where)
    dark = decide((on_valve < 0.045) & (on_frame < 0.08), (on_valve > 0.085) | (on_frame > 0.15))
    bright = decide(burnt > 0.45, burnt < 0.25)

    lit = ~(dark[0].bool() | bright[0].bool()) & present  # else neither blur nor motion can be seen
    blur, smear = photos.blur, photos.motion
    blurred = decide((blur > 0.045 * size) & (blur > 1.6), (blur < 0.025 * size) | (blur < 1.0))
    moving = decide((smear > 0.16 * size) & (smear > 5), (smear < 0.07 * size) | (smear < 2.5))
    spoiled = dark[0].bool() | bright[0].bool() | (lit & (blurred[0].bool() | moving[0].bool()))
    arguable = torch.stack([dark[1], bright[1], blurred[1], moving[1]]).amin(0) < 0.5

    share = valve.float().sum((1, 2)) / frames.shown()
    absent = (frames.facts[:, JUDGEABLE] < 0.5) & (share < SMALLEST_SHARE)
    whole = (frames.facts[:, JUDGEABLE] > 0.5) & (share > SMALLEST_SHARE)
    judgeable = decide(whole & ~spoiled & ~arguable, absent | spoiled)
    label = torch.stack([judgeable[0], dark[0], bright[0], blurred[0], moving[0]], 1)
    weight = torch.stack([judgeable[1], dark[1], bright[1], blurred[1] * lit, moving[1] * lit], 1)
    return label, weight, spoiled, whole


def label(frames, photos):
    """Labels for developed frames."""
    region, deposit, valve = visible_truth(frames, photos)
    parts, share, steps = maps(region, deposit, valve)
    state, weight, spoiled, whole = states(frames, photos, valve, valve_size(frames))
    return Labels(
        region=parts, valve=share, deposit=steps, index=index_of(steps, share), dark=dark_of(steps, share),
        state=state, state_weight=weight, clear=(~spoiled).float(), present=whole.float(),
    )
