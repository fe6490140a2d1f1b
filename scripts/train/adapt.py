"""Tunes the nets for photos of one's own: a folder of photos with corrected masks.

    python3 adapt.py FOLDER --out DIR --negatives NEGATIVES                 # minutes on a GPU
    python3 adapt.py FOLDER --out DIR --negatives NEGATIVES --device cpu    # within an hour on two cores

FOLDER holds NAME.jpg, NAME.region.png and NAME.deposit.png; twenty photos are enough. A quarter of them, four at least,
are kept out of the training and only tell what it was good for: the last ones by name, since photos of one engine
should be on one side (--keep chooses others). Own scenes and ordinary pictures are mixed in, and of the tuned net only
so much goes into the mean with the net before as leaves the own held-back scenes as well read as they were. DIR gets a
folder for each look with net.onnx (for `valvegrade score --net`), net.pt and card.json, and nets.pt to go on from.
"""

import argparse
import json
from copy import deepcopy
from fnmatch import fnmatch
from pathlib import Path

import torch

import export
import train
import validation
from average import mean
from sets import Sets, photo_names

HERE = Path(__file__).parent
SHARES = (1.0, 0.8, 0.6, 0.4, 0.2, 0.0)  # of the tuned net, tried in this order
KEPT, FEWEST = 0.25, 4  # share and least number of photos kept out
# What decides on own scenes, and how much worse it may get: points of the index, share of valves found.
GUARD = {"reader": ("index_error", 0.5), "finder": ("found", -0.01)}
TOLD = {
    "reader": ("judged", "index_error", "dark_error", "valve_iou", "head_iou", "stem_iou"),
    "finder": ("valves", "found", "overlap", "wrong_boxes", "empty", "alarms"),
}
# Options of train.py by device. Two cores render a scene in half a second: few scenes, photographed often.
PACE = {
    "cuda": "--batch 96 --rate 8e-4 --reuse 12 --pool 8192 --ahead 1024 --validation-photos 512",
    "cpu": "--batch 16 --rate 4e-4 --reuse 30 --pool 2048 --ahead 192 --render-batch 8 --validation-photos 128"
    " --validate-every 600",
}
MINUTES = {"cuda": {"reader": 3.0, "finder": 2.0}, "cpu": {"reader": 28.0, "finder": 9.0}}


def options():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path, help="photos with corrected masks")
    parser.add_argument("--out", type=Path, required=True, help="folder for results")
    parser.add_argument("--keep", nargs="+", help="names of the photos to keep out of the training (patterns)")
    parser.add_argument("--weights", default=HERE / "weights/nets.pt", type=Path, help="the nets to start from")
    parser.add_argument("--nets", nargs="+", choices=tuple(GUARD), default=list(GUARD), help="which looks to tune")
    parser.add_argument("--negatives", help="folder of ordinary pictures, made by negatives.sh")
    parser.add_argument("--library", type=Path, help="libscenes.so; left out: where scripts/scenes puts it")
    parser.add_argument("--device", default="cuda:0" if torch.cuda.is_available() else "cpu")
    parser.add_argument("--minutes", type=float, help="of training for each look; left out: by look and device")
    parser.add_argument("--share", type=float, default=0.3, help="of the frames that are the folder's photos")
    parser.add_argument("--seed", type=int, default=900)
    parser.add_argument("--train", nargs=argparse.REMAINDER, default=[], help="what follows are options of train.py")
    chosen = parser.parse_args()
    names = photo_names(chosen.folder)
    chosen.keep = chosen.keep or names[-max(FEWEST, round(KEPT * len(names))) :]
    kept = [name for name in names if any(fnmatch(name, pattern) for pattern in chosen.keep)]
    if not kept or len(kept) == len(names):
        parser.error(f"{len(kept)} of {len(names)} photos kept out: some must be learnt from, some kept")
    return chosen


def training(chosen, look):
    """The options of train.py for one look."""
    kind = chosen.device.split(":")[0]
    library = chosen.library or HERE.parent / "scenes/build" / ("cuda" if kind == "cuda" else "") / "libscenes.so"
    arguments = ["--net", look, "--out", chosen.out / look, "--init", chosen.weights, "--seed", chosen.seed]
    arguments += ["--library", library, "--device", chosen.device, "--renderer-device", chosen.device]
    arguments += ["--sets", chosen.folder, "--without", *chosen.keep, "--sets-share", chosen.share]
    arguments += ["--negatives", chosen.negatives] if chosen.negatives else []
    arguments += ["--minutes", chosen.minutes or MINUTES[kind][look], *PACE[kind].split()]
    return train.options([str(argument) for argument in arguments + chosen.train])


def told(figures, look):
    return {name: figures[name] for name in TOLD[look]}


def blend(before, tuned, run, look):
    """The mean with the largest share of the tuned net that the own scenes allow, that share, their figures before and
    after."""
    name, slack = GUARD[look]
    old = run.task.measure(before, run.kept)
    for share in SHARES:
        net = mean([deepcopy(tuned), before], [share, 1 - share])
        new = run.task.measure(net, run.kept)
        train.show(f"{look}, own scenes, {share:.0%} of the tuned net: {told(new, look)}")
        worse = (new[name] - old[name]) * (1 if slack > 0 else -1)
        if worse <= abs(slack):
            return net, share, old, new
    raise RuntimeError("the net before is worse than itself")


def adapt(chosen, look):
    """Tunes one look; returns the net and its figures on the photos kept out, before and after."""
    run, seconds = train.trained(training(chosen, look))
    kept = Sets([chosen.folder], run.device, names=chosen.keep)
    kept = run.task.keep(validation.as_taken(kept, run.task.LOOK, run.task.label))
    before = export.load_checkpoint(chosen.weights, look).to(run.device)
    run.average, share, old, new = blend(before, run.average, run, look)
    changes = {
        "photos_kept_out": (run.task.measure(before, kept), run.task.measure(run.average, kept)),
        "own_scenes": (old, new),
    }
    figures = {"share_of_the_tuned_net": share}
    figures |= {name: {"before": told(a, look), "after": told(b, look)} for name, (a, b) in changes.items()}
    run.task.validation_sheet(run.chosen.out / "kept.png", run.average, kept)
    train.finish(run, seconds)
    note(run.chosen.out / "card.json", figures, len(run.feed.sets.photos))
    return figures


def note(card, figures, learnt):
    """Adds to the card what became of the net and what it learnt from."""
    content = json.loads(card.read_text()) | {"adapted": figures}
    content["limits"][0] = f"Trained on rendered scenes and ordinary pictures, then on {learnt} photos of its user."
    card.write_text(json.dumps(content, indent=1) + "\n")


def main():
    chosen = options()
    results = {look: adapt(chosen, look) for look in chosen.nets}
    stored = torch.load(chosen.weights, map_location="cpu")
    nets = {look: stored[look] for look in GUARD if look in stored}
    nets |= {look: torch.load(chosen.out / look / "net.pt", map_location="cpu") for look in chosen.nets}
    torch.save(nets, chosen.out / "nets.pt")
    for look, figures in results.items():
        print(f"\n{look}: {figures['share_of_the_tuned_net']:.0%} of the tuned net")
        for where in ("photos_kept_out", "own_scenes"):
            for when, values in figures[where].items():
                print(f"  {where.replace('_', ' ')}, {when}: " + ", ".join(f"{k} {v}" for k, v in values.items()))


if __name__ == "__main__":
    main()
