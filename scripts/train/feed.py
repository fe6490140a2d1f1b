"""What a net learns from, in a pool of frames: scenes rendered while it trains, photos with masks, ordinary pictures.

Scenes come from a GPU of their own beside the training, or from the same one between its steps. On one GPU the two must take
turns: the renderer's long blocks would keep the many short kernels of a training step waiting (measured: 1.5 s a step instead
of 0.06).
"""

import queue
import threading

import torch

from frames import Pool, picture_size, place
from scenes import DEMO, TRAINING

EVERYDAY = 0.3  # share of the rendered scenes that are everyday views: without them, a net unlearns these for the rarer ones


class Feed:
    """Endless training frames on `device`. `reuse` limits how often a rendered scene is photographed on average."""

    def __init__(self, renderer, device, chosen, look, negatives=None, sets=None):
        self.renderer, self.device, self.look = renderer, device, look
        self.batch, self.samples, self.reuse = chosen.render_batch, chosen.samples, chosen.reuse
        self.negatives, self.sets = negatives, sets
        self.share, self.ordinary = chosen.sets_share, chosen.ordinary_share
        self.pool = Pool(chosen.pool, device)
        self.drawn = 0
        self.seed, self.dice = chosen.seed * 10_000_000_000, torch.Generator().manual_seed(chosen.seed)
        self.fresh = queue.Queue(maxsize=3)
        self.stopped = threading.Event()
        self.thread = threading.Thread(target=self.work, daemon=True)
        self.beside = renderer.device != device
        if self.beside:
            self.thread.start()

    @torch.no_grad()
    def render(self):
        """The next batch of frames, on the training's device, all of one source."""
        width, height = picture_size(self.look, self.dice)
        kind = torch.rand(1, generator=self.dice).item()
        if self.sets and kind < self.share:
            scenes = self.sets.draw(self.batch, width, height, self.look, self.dice)
        elif self.negatives and kind > 1 - self.ordinary:
            scenes = self.negatives.draw(self.batch, width, height, self.dice)
        else:
            family = DEMO if torch.rand(1, generator=self.dice).item() < EVERYDAY else TRAINING
            scenes = self.renderer(self.seed, self.batch, width, height, family, self.look, samples=self.samples)
            self.seed += self.batch
            if self.negatives:
                self.negatives.stand_behind(scenes, self.dice)
        return place(scenes).to(self.device)

    def work(self):
        """Renders until stopped; an error travels through the queue to whoever draws."""
        try:
            with torch.cuda.device(self.renderer.device):
                while not self.stopped.is_set():
                    frames = self.render()
                    torch.cuda.synchronize(self.renderer.device)  # nothing may be freed before it was copied
                    self.offer(frames)
        except Exception as error:
            self.offer(error)

    def offer(self, item):
        while not self.stopped.is_set():
            try:
                return self.fresh.put(item, timeout=0.2)
            except queue.Full:
                continue

    def take(self, wait):
        """Moves one rendered batch into the pool; False when none is ready and `wait` is off."""
        if not self.beside:
            self.pool.add(self.render())
            return True
        try:
            item = self.fresh.get(wait, 120 if wait else None)
        except queue.Empty:
            if wait:
                raise RuntimeError("the renderer gave nothing for two minutes") from None
            return False
        if isinstance(item, Exception):
            raise item
        self.pool.add(item)
        return True

    def draw(self, count, generator):
        """`count` frames for one step."""
        while self.beside and self.take(wait=False):
            pass
        while self.drawn + count > self.reuse * self.pool.added:
            self.take(wait=True)
        self.drawn += count
        return self.pool.draw(count, generator)

    def fill(self, count):
        """Waits until the pool holds this many, so that the first steps see variety."""
        while self.pool.added < count:
            self.take(wait=True)

    def stop(self):
        self.stopped.set()
        if self.beside:
            self.thread.join()
