"""Rendering beside the training: a thread with its own CUDA stream keeps a short queue of fresh frames."""

import contextlib
import queue
import threading

import torch

from frames import Pool, place, random_size
from scenes import TRAINING

PER_STEP = 2  # render batches taken in one training step at most, so that training keeps its share of the GPU


class Feed:
    """Endless training frames. `reuse` limits how often a rendered scene is photographed on average."""

    def __init__(self, renderer, seed, batch, samples, reuse, capacity):
        self.renderer, self.batch, self.samples, self.reuse = renderer, batch, samples, reuse
        self.pool = Pool(capacity, renderer.device)
        self.drawn = 0
        self.fresh = queue.Queue(maxsize=3)
        self.stopped = threading.Event()
        self.thread = threading.Thread(target=self.work, args=(seed,), daemon=True)
        self.thread.start()

    def work(self, seed):
        """Renders until stopped; an error travels through the queue to whoever draws."""
        try:
            self.render_forever(seed)
        except Exception as error:
            self.offer(error)

    def render_forever(self, seed):
        cuda = self.renderer.device.type == "cuda"
        stream = torch.cuda.Stream(self.renderer.device) if cuda else None
        sizes = torch.Generator().manual_seed(seed)
        with torch.cuda.stream(stream) if cuda else contextlib.nullcontext():
            while not self.stopped.is_set():
                width, height = random_size(sizes)
                frames = place(self.renderer(seed, self.batch, width, height, TRAINING, samples=self.samples))
                if cuda:
                    stream.synchronize()
                seed += self.batch
                self.offer(frames)

    def offer(self, item):
        while not self.stopped.is_set():
            try:
                return self.fresh.put(item, timeout=0.2)
            except queue.Full:
                continue

    def take(self, wait):
        """Moves one rendered batch into the pool; False when none is ready and `wait` is off."""
        try:
            item = self.fresh.get(wait, 120 if wait else None)
        except queue.Empty:
            if wait:
                raise RuntimeError("the renderer gave nothing for two minutes") from None
            return False
        if isinstance(item, Exception):
            raise item
        self.pool.add(item)
        if item.rgb.is_cuda:  # allocated in the thread's stream, read in this one
            item.each(lambda tensor: tensor.record_stream(torch.cuda.current_stream(tensor.device)))
        return True

    def draw(self, count, generator):
        """`count` frames for one step."""
        for _ in range(PER_STEP):
            if not self.take(wait=False):
                break
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
        self.thread.join()
