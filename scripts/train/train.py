"""Trains the net on scenes rendered while it trains. README.md says how to run it.

    python3 train.py --library libscenes.so --out DIR --minutes 8
"""

import argparse
import contextlib
import math
import os
import time
from copy import deepcopy
from pathlib import Path

import torch
import torch.distributed as distributed
from torch.nn.parallel import DistributedDataParallel

import camera
import card
import export
import labels as labelling
import loss
import preview
import validation
from feed import Feed
from frames import flip
from net import Net
from scenes import Renderer

AVERAGE_EVERY = 5  # steps between updates of the averaged weights
AGREE_EVERY = 10  # steps between looks at the clock, which all GPUs must share


def options():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.ArgumentDefaultsHelpFormatter)
    parser.add_argument("--library", required=True, help="libscenes.so")
    parser.add_argument("--out", type=Path, required=True, help="folder for results")
    parser.add_argument("--minutes", type=float, default=8.0, help="time for training, validation during it included")
    parser.add_argument("--device", default="cuda")
    parser.add_argument("--init", help="checkpoint to start from")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--width", type=float, default=1.0, help="factor on the net's channels")
    parser.add_argument("--batch", type=int, default=96, help="photos a step and GPU")
    parser.add_argument("--rate", type=float, default=2e-3, help="highest learning rate")
    parser.add_argument("--render-batch", type=int, default=32)
    parser.add_argument("--samples", type=int, default=2, help="rays a pixel")
    parser.add_argument("--reuse", type=float, default=4.0, help="photographs of one scene, on average, at most")
    parser.add_argument("--pool", type=int, default=6144, help="scenes in memory, 0.65 MB each")
    parser.add_argument("--validate-every", type=float, default=75.0, help="seconds")
    parser.add_argument("--validation-photos", type=int, default=512)
    return parser.parse_args()


class Run:
    """One GPU's part of the training; rank 0 keeps the clock, the averaged weights and the books."""

    def __init__(self, chosen, device):
        self.chosen, self.device = chosen, device
        self.rank, self.ranks = int(os.environ.get("RANK", 0)), int(os.environ.get("WORLD_SIZE", 1))
        if self.ranks > 1:
            distributed.init_process_group("nccl" if self.device.type == "cuda" else "gloo")
        torch.manual_seed(chosen.seed)
        self.net = Net(chosen.width).to(self.device, memory_format=torch.channels_last)
        if chosen.init:
            self.net.load_state_dict(torch.load(chosen.init, map_location=self.device)["net"])
        self.average = deepcopy(self.net).eval().requires_grad_(False)
        self.model = DistributedDataParallel(self.net) if self.ranks > 1 else self.net
        fused = {"fused": True} if self.device.type == "cuda" else {}
        self.optimiser = torch.optim.AdamW(self.net.parameters(), lr=chosen.rate, weight_decay=0.02, **fused)
        renderer = Renderer(chosen.library, self.device)
        self.kept = self.render_validation(renderer) if self.rank == 0 else []
        # Scene seeds of the GPUs lie 10^9 apart, those of validation beyond all of them.
        seed = chosen.seed * 10_000_000_000 + self.rank * 1_000_000_000
        self.feed = Feed(renderer, seed, chosen.render_batch, chosen.samples, chosen.reuse, chosen.pool)
        self.generator = torch.Generator(device=self.device)
        self.generator.manual_seed(1000 * chosen.seed + self.rank)
        self.step = 0

    def render_validation(self, renderer):
        return validation.keep(validation.render(renderer, self.chosen.validation_photos, max(2, self.chosen.samples)))

    def photographs(self):
        """One training batch: (photos, labels)."""
        frames = flip(self.feed.draw(self.chosen.batch, self.generator), self.generator)
        seed = (self.chosen.seed * 8 + self.rank) * 100_000_000 + self.step
        photos = camera.develop(frames.rgb, frames.box, labelling.valve_size(frames), seed, camera.TRAIN)
        return photos, labelling.label(frames, photos)

    def train_step(self, rate):
        """Returns the terms of the loss, still on the device."""
        for group in self.optimiser.param_groups:
            group["lr"] = rate
        with torch.no_grad():
            photos, truth = self.photographs()
        image = photos.image.contiguous(memory_format=torch.channels_last)
        with torch.autocast(self.device.type, torch.bfloat16):
            maps, frame = self.model(image)
        parts = loss.terms(maps, frame, truth)
        self.optimiser.zero_grad(set_to_none=True)
        loss.total(parts).backward()
        torch.nn.utils.clip_grad_norm_(self.net.parameters(), 2.0)
        self.optimiser.step()
        self.step += 1
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

    def agree(self, progress):
        """The progress of rank 0 on every rank, so that all stop at the same step."""
        if self.ranks == 1:
            return progress
        shared = torch.tensor([progress], device=self.device)
        distributed.broadcast(shared, 0)
        return shared.item()


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
    progress, next_validation, next_report = 0.0, chosen.validate_every, 5.0
    while progress < 1:
        parts = run.train_step(rate_at(progress, chosen.rate))
        if run.step % AGREE_EVERY == 0:
            progress = run.agree(elapsed() / (60 * chosen.minutes))
        if run.rank == 0 and elapsed() > next_report:
            report(run, parts, elapsed())
            next_report = elapsed() + 15
        if run.rank == 0 and elapsed() > next_validation and progress < 0.95:
            show(f"validation at {elapsed():.0f} s: {validation.measure(run.average, run.kept)}")
            next_validation += chosen.validate_every
    return elapsed()


def report(run, parts, seconds):
    total = loss.total(parts).item()
    if not math.isfinite(total):
        raise RuntimeError(f"loss is not finite at step {run.step}: {parts}")
    terms = " ".join(f"{name} {value.item():.4f}" for name, value in parts.items())
    photos, scenes = run.step * run.chosen.batch / seconds, run.feed.pool.added / seconds
    show(f"{seconds:4.0f} s step {run.step} loss {total:.4f} ({terms}) photos/s {photos:.0f} scenes/s {scenes:.0f} per GPU")


def finish(run, seconds):
    """Writes net, checkpoint, card and the validation sheet."""
    out = run.chosen.out
    figures = validation.measure(run.average, run.kept)
    show(f"final validation: {figures}")
    photo, _, truth, maps, _ = next(validation.answers(run.average, run.kept))
    preview.validation_sheet(out / "validation.png", photo, truth, maps)
    export.save_checkpoint(out / "net.pt", run.average)
    card.write(out / "card.json", run, seconds, figures)
    export.write(run.average, out)


def main():
    chosen = options()
    device = own_device(chosen.device)
    with priority(device):
        work(chosen, device)


def own_device(kind):
    """The device of this process: torchrun starts one per GPU."""
    if kind != "cuda":
        return torch.device(kind)
    device = torch.device("cuda", int(os.environ.get("LOCAL_RANK", 0)))
    torch.cuda.set_device(device)
    torch.backends.cudnn.benchmark = True
    return device


def priority(device):
    """A CUDA stream that goes before the renderer's, whose blocks fill the GPU and would starve the training."""
    return torch.cuda.stream(torch.cuda.Stream(device, priority=-1)) if device.type == "cuda" else contextlib.nullcontext()


def work(chosen, device):
    run = Run(chosen, device)
    run.chosen.out.mkdir(parents=True, exist_ok=True)
    show(f"rank {run.rank} of {run.ranks} on {run.device}, {sum(p.numel() for p in run.net.parameters())} parameters")
    run.feed.fill(min(run.chosen.pool, 1024))
    if run.rank == 0:
        preview.training_sheet(run.chosen.out / "training.png", *first_photographs(run))
    seconds = train(run)
    run.feed.stop()
    if run.rank == 0:
        finish(run, seconds)
    if run.ranks > 1:
        distributed.barrier()
        distributed.destroy_process_group()


@torch.no_grad()
def first_photographs(run):
    photos, truth = run.photographs()
    photos.image = photos.image[:48]
    truth.region, truth.deposit = truth.region[:48], truth.deposit[:48]
    return photos, truth


if __name__ == "__main__":
    main()
