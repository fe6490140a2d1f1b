"""Trains a net on scenes rendered while it trains. README.md says how to run it.

    python3 train.py --net reader --library libscenes.so --out DIR --minutes 8
"""

import argparse
import math
import time
from copy import deepcopy
from dataclasses import replace
from pathlib import Path

import torch

import camera
import card
import export
import finder
import labels as labelling
import lift
import reader
import restyle
import taken
import trim
import validation
from feed import Feed
from frames import flip
from negatives import Negatives
from scenes import VALVE, Renderer
from sets import Sets

TASKS = {"finder": finder, "reader": reader}
AVERAGE_EVERY = 5  # steps between updates of the averaged weights
FEW_PIXELS = 0.4  # share of windows enlarged from fewer pixels


def options(arguments=None):
    """Of the command line, or of a list of arguments."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.ArgumentDefaultsHelpFormatter)
    parser.add_argument("--net", choices=TASKS, required=True, help="which look to train")
    parser.add_argument("--library", required=True, help="libscenes.so")
    parser.add_argument("--out", type=Path, required=True, help="folder for results")
    parser.add_argument("--minutes", type=float, default=8.0, help="time for training, validation during it included")
    parser.add_argument("--device", default="cuda:0")
    parser.add_argument("--renderer-device", default="cuda:1" if torch.cuda.device_count() > 1 else "cuda:0")
    parser.add_argument("--init", help="checkpoint to start from")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--batch", type=int, default=96, help="photos a step")
    parser.add_argument("--rate", type=float, default=2e-3, help="highest learning rate")
    parser.add_argument("--render-batch", type=int, default=32)
    parser.add_argument("--samples", type=int, default=1, help="rays a pixel")
    parser.add_argument("--compile", action="store_true", help="fuse the net's kernels: a third off its time after a minute of compiling")
    parser.add_argument("--reuse", type=float, default=12.0, help="photographs of one scene, on average, at most")
    parser.add_argument("--negatives", help="folder of ordinary pictures, made by negatives.sh")
    parser.add_argument("--ordinary-share", type=float, default=0.08, help="share of the frames that are ordinary pictures")
    parser.add_argument("--sets", nargs="*", help="folders of photos with masks")
    parser.add_argument("--sets-share", type=float, default=0.19, help="share of the frames that are photos with masks")
    parser.add_argument("--names", nargs="+", default=["*"], help="only photos of the sets with such names (patterns)")
    parser.add_argument("--without", nargs="+", default=[], help="photos of the sets to leave out (patterns of names)")
    parser.add_argument("--pool", type=int, default=16384, help="scenes in memory, 0.65 MB each")
    parser.add_argument("--ahead", type=int, default=1024, help="scenes in memory before the first step")
    parser.add_argument("--validate-every", type=float, default=75.0, help="seconds")
    parser.add_argument("--validation-photos", type=int, default=512)
    return parser.parse_args(arguments)


class Run:
    """The net in training, its averaged weights, and where the photos come from."""

    def __init__(self, chosen):
        self.chosen, self.device, self.task = chosen, torch.device(chosen.device), TASKS[chosen.net]
        torch.manual_seed(chosen.seed)
        net = export.load_checkpoint(chosen.init, chosen.net).train() if chosen.init else self.task.Net()
        self.net = net.to(self.device, memory_format=torch.channels_last)
        self.average = deepcopy(self.net).eval().requires_grad_(False)
        self.styles = restyle.MixStyle([self.net.stem, self.net.down[0]])
        self.answer = torch.compile(self.net) if chosen.compile else self.net
        fused = {"fused": True} if self.device.type == "cuda" else {}
        self.optimiser = torch.optim.AdamW(self.net.parameters(), lr=chosen.rate, weight_decay=0.02, **fused)
        self.kept = self.render_validation(Renderer(chosen.library, self.device))
        # Scene seeds of validation lie below all of those used in training.
        renderer = Renderer(chosen.library, chosen.renderer_device)
        negatives = Negatives(chosen.negatives, chosen.renderer_device) if chosen.negatives else None
        sets = Sets(chosen.sets, chosen.renderer_device, chosen.names, chosen.without) if chosen.sets else None
        self.feed = Feed(renderer, self.device, chosen, self.task.LOOK, negatives, sets)
        self.generator = torch.Generator(device=self.device)
        self.generator.manual_seed(1000 * chosen.seed)
        self.cameras = camera.alternating(camera.TAUGHT, chosen.batch, self.device)
        if self.task.LOOK == VALVE:  # a small valve in its window has few pixels of its own
            self.cameras = replace(self.cameras, rescaled=FEW_PIXELS)
        self.step, self.skipped = 0, 0

    def render_validation(self, renderer):
        photos, samples = self.chosen.validation_photos, max(2, self.chosen.samples)
        return self.task.keep(validation.render(renderer, photos, samples, look=self.task.LOOK, label=self.task.label))

    def photographs(self):
        """One training batch: (photos, labels)."""
        frames = flip(self.feed.draw(self.chosen.batch, self.generator), self.generator)
        seed = self.chosen.seed * 100_000_000 + self.step
        frames.rgb = restyle.uneven_light(frames.rgb, self.generator)
        photos = camera.develop(frames.rgb, frames.box, labelling.valve_size(frames), seed, self.cameras)
        photos.image = photos.image.nan_to_num(0.0)
        taken.leave(frames, photos, self.generator)
        truth = self.task.label(frames, photos)
        if self.task.LOOK == VALVE:
            trim.trim(photos.image, truth.region, self.generator)
            photos.image = lift.lift_variously(photos.image, self.generator)
        else:
            photos.image = lift.open_variously(photos.image, self.generator)
        image, changed = restyle.convolve(photos.image, self.generator)
        photos.image = image * (photos.image > 0).any(1, keepdim=True)  # margins stay black
        changed |= self.styles.draw(len(image), self.generator, self.device)
        truth.state_weight = truth.state_weight * ~changed[:, None]
        return photos, truth

    def train_step(self, rate):
        """Returns the terms of the loss, still on the device."""
        for group in self.optimiser.param_groups:
            group["lr"] = rate
        with torch.no_grad():
            photos, truth = self.photographs()
        image = photos.image.contiguous(memory_format=torch.channels_last)
        with torch.autocast(self.device.type, torch.bfloat16):
            maps, frame = self.answer(image)
        parts = self.task.terms(maps, frame, truth)
        self.optimiser.zero_grad(set_to_none=True)
        self.task.total(parts).backward()
        length = torch.nn.utils.clip_grad_norm_(self.net.parameters(), 2.0)
        self.step += 1
        if not torch.isfinite(length):  # one bad photo must not cost the run; report() stops when it is not just one
            self.skipped += 1
            return parts
        self.optimiser.step()
        if self.step % AVERAGE_EVERY == 0:
            self.update_average()
        return parts

    @torch.no_grad()
    def update_average(self):
        """Exponential mean of the weights, over fewer steps in the beginning."""
        updates = self.step / AVERAGE_EVERY
        fresh = 1 - min(0.999**AVERAGE_EVERY, (1 + updates) / (10 + updates))
        for mine, theirs in zip(self.average.state_dict().values(), self.net.state_dict().values()):
            mine.lerp_(theirs, fresh) if mine.is_floating_point() else mine.copy_(theirs)


def rate_at(progress, highest):
    """Learning rate: a short linear rise, then half a cosine down to a hundredth."""
    rise = min(1.0, (progress + 1e-3) / 0.03)
    return highest * rise * (0.01 + 0.99 * 0.5 * (1 + math.cos(math.pi * min(1.0, progress))))


def show(line):
    print(line, flush=True)


def train(run):
    """Trains until the time is up; returns the seconds it took."""
    chosen, start = run.chosen, time.monotonic()
    elapsed = lambda: time.monotonic() - start
    next_validation, next_report = chosen.validate_every, 5.0
    while (progress := elapsed() / (60 * chosen.minutes)) < 1:
        parts = run.train_step(rate_at(progress, chosen.rate))
        if elapsed() > next_report:
            report(run, parts, elapsed())
            next_report = elapsed() + 15
        if elapsed() > next_validation and progress < 0.95:
            show(f"validation at {elapsed():.0f} s: {run.task.measure(run.average, run.kept)}")
            next_validation += chosen.validate_every
    return elapsed()


def report(run, parts, seconds):
    total = run.task.total(parts).item()
    if run.skipped > 10 + run.step // 100:
        raise RuntimeError(f"{run.skipped} of {run.step} steps had no finite gradient; the last one: {parts}")
    terms = " ".join(f"{name} {value.item():.4f}" for name, value in parts.items())
    photos, scenes = run.step * run.chosen.batch / seconds, run.feed.pool.added / seconds
    show(f"{seconds:4.0f} s step {run.step} loss {total:.4f} ({terms}) photos/s {photos:.0f} scenes/s {scenes:.0f} skipped {run.skipped}")


def finish(run, seconds):
    """Writes net, checkpoint, card and the validation sheet."""
    out = run.chosen.out
    figures = run.task.measure(run.average, run.kept)
    groups = run.task.groups(run.average, run.kept)
    show(f"final validation: {figures}")
    for name, values in groups.items():
        show(f"  {name}: {values}")
    run.task.validation_sheet(out / "validation.png", run.average, run.kept)
    export.save_checkpoint(out / "net.pt", run.average)
    card.write(out / "card.json", run, seconds, figures, groups)
    export.write(run.average, out)


def trained(chosen):
    """A whole training: the run, and the seconds it took."""
    chosen.out.mkdir(parents=True, exist_ok=True)
    if chosen.device.startswith("cuda"):
        torch.cuda.set_device(chosen.device)
        torch.backends.cudnn.benchmark = True
    run = Run(chosen)
    show(f"{sum(p.numel() for p in run.net.parameters())} parameters on {run.device}, scenes from {chosen.renderer_device}")
    run.feed.fill(min(chosen.pool, chosen.ahead))
    run.task.training_sheet(chosen.out / "training.png", *first_photographs(run))
    seconds = train(run)
    run.feed.stop()
    return run, seconds


@torch.no_grad()
def first_photographs(run):
    return run.photographs()


if __name__ == "__main__":
    finish(*trained(options()))
