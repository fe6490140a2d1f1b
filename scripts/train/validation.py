"""A fixed set of held-back looks through other cameras, and the figures on it."""

import torch
import torch.nn.functional as F

import camera
import labels as labelling
import taken
from frames import Frames, HEIGHT, WIDTH, picture_size, place
from lift import lift
from loss import hard_steps
from scenes import FRAME, HELD_BACK

SCENES_SEED, CAMERA_SEED = 7_000_000_000, 70_000  # far from any seed that training reaches
BATCH = 32
# Column of the facts and the words for its values, in the order of the renderer's enums.
GROUPS = {
    "metal": (8, ("polished", "satin", "turned", "blasted", "nitrided", "heat-tinted", "dull", "mirror", "golden")),
    "crust": (9, ("granular", "cauliflower", "cracked", "coarse", "tar", "velvet", "ropes", "scale", "flakes", "lumps", "lobes",
                  "worms", "foam", "plates")),
    "view": (10, ("bore", "flange", "mouth", "hand")),
}


def render(renderer, count, samples, family=HELD_BACK, seed=SCENES_SEED, profile=camera.VALIDATION, look=FRAME, label=labelling.label):
    """Yields (frames, photos, labels) batch by batch; the same arguments give the same photos.

    Calibration reads the same way: other seeds, more photos.
    """
    sizes = torch.Generator().manual_seed(seed)
    for first in range(0, count, BATCH):
        width, height = picture_size(look, sizes)
        frames = place(renderer(seed + first, min(BATCH, count - first), width, height, family, look, samples=samples))
        size = labelling.valve_size(frames)
        photos = camera.develop(frames.rgb, frames.box, size, CAMERA_SEED + seed % 1000 + first, profile)
        yield frames, photos, label(frames, photos)


def as_taken(sets, look, label):
    """Photos with masks as they are, in the form of render; none counts as spoiled: somebody could read them."""
    scenes = list(sets.as_taken(look))
    for first in range(0, len(scenes), BATCH):
        some = scenes[first : first + BATCH]
        frames = Frames.join([place(scene) for scene in some])
        image, inside = taken.picture(frames, 1, taken.GAMMA)
        still = torch.zeros(len(some), device=image.device)
        photos = camera.Photos(image=image, seen=inside, blur=still, motion=still)
        truth = label(frames, photos)
        truth.clear = torch.ones_like(truth.clear)
        yield frames, photos, truth


def keep(batches):
    """The set in memory for the second look: photos as bytes, lifted, radiance dropped."""
    kept = []
    for frames, photos, truth in batches:
        region, _, _ = labelling.visible_truth(frames, photos)
        kept.append(((lift(photos.image) * 255).round().byte(), region, truth, frames.facts))
    return kept


def answers(net, kept):
    """Yields (photo, region truth, labels, facts, maps, frame) per batch: what the net says beside what is true."""
    for photo, region, truth, facts in kept:
        with torch.no_grad():
            maps, frame = net(photo.float() / 255)
        yield photo, region, truth, facts, maps.float(), frame.float()


def overlap(guess, truth):
    """Intersection over union [n], NaN where the truth has under 60 pixels."""
    both, either = (guess & truth).sum((1, 2)).float(), (guess | truth).sum((1, 2)).float()
    return torch.where(truth.sum((1, 2)) >= 60, both / either.clamp(min=1), torch.full_like(both, float("nan")))


def read(maps):
    """Region [n, HEIGHT, WIDTH] at full size; index of hard classes inside it, as the product reads them, index of soft
    ones, dark deposit of hard ones [n]."""
    full = F.interpolate(maps, size=(HEIGHT, WIDTH), mode="bilinear", align_corners=False)
    region = full[:, :3].argmax(1)
    found = (region > 0)[:, None].float()
    hard = hard_steps(full[:, 3:])
    soft = labelling.index_of(full[:, 3:].sigmoid(), found)
    return region, labelling.index_of(hard, found), soft, labelling.dark_of(hard, found)


def grade(index):
    return torch.bucketize(index, torch.tensor(labelling.GRADE_LIMITS, dtype=index.dtype, device=index.device), right=True)


def area_under_curve(score, label):
    """Probability that a positive outscores a negative (Mann-Whitney U); NaN without both."""
    positives, negatives = score[label > 0.5], score[label <= 0.5]
    if len(positives) == 0 or len(negatives) == 0:
        return float("nan")
    return ((positives[:, None] > negatives).float() + 0.5 * (positives[:, None] == negatives)).mean().item()


COLUMNS = ("head", "stem", "valve", "hard", "soft", "own", "expected", "dark", "index", "true_dark", "judged", "facts", "state", "weight", "logit")


def columns(net, kept):
    """What the net says of each photo and what is true, [n] or [n, k] tensors by the names in COLUMNS."""
    lists = {name: [] for name in COLUMNS}
    for _, region, truth, facts, maps, frame in answers(net, kept):
        guess, hard, soft, dark = read(maps)
        judged = (truth.clear * truth.present) > 0.5
        row = {
            "head": overlap(guess == 1, region == 1), "stem": overlap(guess == 2, region == 2),
            "valve": overlap(guess > 0, region > 0),
            "hard": hard, "soft": soft, "dark": dark, "true_dark": truth.dark, "own": 100 * frame[:, 5].sigmoid(), "expected": 100 * frame[:, 6].exp(),
            "index": truth.index, "judged": judged, "facts": facts,
            "state": truth.state, "weight": truth.state_weight, "logit": frame[:, : labelling.STATES],
        }
        for name, value in row.items():
            lists[name].append(value)
    return {name: torch.cat(values).cpu() for name, values in lists.items()}


def measure(net, kept):
    """Figures over the set, a flat dict of numbers. Index and grade count unspoiled photos with a valve."""
    return summarise(columns(net, kept))


def groups(net, kept):
    """Where it goes wrong: count, head IoU, index error and bias by kind of metal, of crust and of view."""
    column = columns(net, kept)
    error, result = column["hard"] - column["index"], {}
    for name, (fact, words) in GROUPS.items():
        for i, word in enumerate(words):
            chosen = column["judged"] & (column["facts"][:, fact] == i)
            if chosen.any():
                figures = [column["head"][chosen].nanmean(), error[chosen].abs().mean(), error[chosen].mean()]
                result[f"{name} {word}"] = [int(chosen.sum())] + [round(float(value), 3) for value in figures]
    return result


def summarise(column):
    judged = column["judged"]
    index, hard = column["index"][judged], column["hard"][judged]
    steps = (grade(hard) - grade(index)).abs()
    error = hard - index
    figures = {
        "photos": len(judged), "judged": int(judged.sum()),
        "head_iou": column["head"][judged].nanmean(), "stem_iou": column["stem"][judged].nanmean(),
        "valve_iou": column["valve"][judged].nanmean(),
        "index_error": error.abs().mean(), "index_bias": error.mean(),
        "dark_error": (column["dark"] - column["true_dark"])[judged].abs().mean(),
        "soft_index_error": (column["soft"][judged] - index).abs().mean(),
        "own_index_error": (column["own"][judged] - index).abs().mean(),
        "expected_error": column["expected"][judged].mean(),
        "grade_exact": (steps == 0).float().mean(), "grade_within_one": (steps <= 1).float().mean(),
    }
    for i, name in enumerate(labelling.FRAME[: labelling.STATES]):
        sure = column["weight"][:, i] > 0
        figures["auc_" + name] = area_under_curve(column["logit"][sure, i], column["state"][sure, i])
    return {name: round(float(value), 4) for name, value in figures.items()}
