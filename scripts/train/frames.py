"""Photos of any aspect inside the net's frame, placed as the product places them.

A photo keeps its aspect, is scaled to fit 320x256 and centred; left and top margins are rounded down. Outside the
photo the net sees black. While the camera works on a frame the margins repeat the edge, so no blur drags black in.
"""

from dataclasses import dataclass, fields

import torch
import torch.nn.functional as F

from scenes import FACTS, FRAME, PLACE

WIDTH, HEIGHT = 320, 256

# Aspects of photos and how often each occurs: borescopes, phones, square crops. The product turns upright photos on
# their side before the net sees them.
ASPECTS = ((4, 3, 0.53), (16, 9, 0.24), (1, 1, 0.09), (3, 2, 0.08), (5, 4, 0.06))


def content_size(aspect_width, aspect_height):
    """Width and height in pixels of a photo of this aspect inside the frame."""
    scale = min(WIDTH / aspect_width, HEIGHT / aspect_height)
    return round(aspect_width * scale), round(aspect_height * scale)


def random_size(generator):
    """Draws a content size by the shares in ASPECTS from a CPU torch.Generator."""
    shares = torch.tensor([share for _, _, share in ASPECTS])
    chosen = ASPECTS[torch.multinomial(shares, 1, generator=generator).item()]
    return content_size(*chosen[:2])


def picture_size(look, generator):
    """Of a whole photo by its aspect; a window of one valve fills the frame."""
    return random_size(generator) if look == FRAME else (WIDTH, HEIGHT)


@dataclass
class Frames:
    """Scenes placed in the net's frame."""

    rgb: torch.Tensor  # [n, 3, HEIGHT, WIDTH] linear radiance of mean 1, margins repeat the edge
    region: torch.Tensor  # [n, HEIGHT, WIDTH] uint8, 0 in the margins
    deposit: torch.Tensor  # [n, HEIGHT, WIDTH] uint8, 255 in the margins
    facts: torch.Tensor  # [n, FACTS]
    box: torch.Tensor  # [n, 4] left, top, width, height in pixels of the photo, of which the frame may show a part

    @staticmethod
    def join(parts):
        """Several batches as one."""
        return Frames(*(torch.cat([getattr(part, field.name) for part in parts]) for field in fields(Frames)))

    def each(self, change):
        """A copy with `change` applied to every tensor."""
        return Frames(*(change(getattr(self, field.name)) for field in fields(self)))

    def shown(self):
        """Pixels of the photo in each frame [n]."""
        left, top, width, height = self.box.unbind(1)
        rows, columns = self.rgb.shape[2:]
        across = (left + width).clamp(max=columns) - left.clamp(min=0)
        down = (top + height).clamp(max=rows) - top.clamp(min=0)
        return (across * down).clamp(min=1)

    def to(self, device):
        return self.each(lambda tensor: tensor.to(device))


def place(scenes):
    """Puts scenes that fit the frame into its middle, their radiance scaled to mean 1."""
    height, width = scenes.region.shape[1:]
    rgb = scenes.rgb / scenes.rgb.mean((1, 2, 3), keepdim=True).clamp(min=1e-20)
    left, top = (WIDTH - width) // 2, (HEIGHT - height) // 2
    margins = (left, WIDTH - width - left, top, HEIGHT - height - top)
    return Frames(
        rgb=F.pad(rgb.permute(0, 3, 1, 2), margins, mode="replicate"),
        region=F.pad(scenes.region, margins, value=0),
        deposit=F.pad(scenes.deposit, margins, value=255),
        facts=scenes.facts,
        box=scenes.facts[:, PLACE] + torch.tensor([left, top, 0, 0], dtype=torch.float32, device=scenes.rgb.device),
    )


def flip(frames, generator):
    """Mirrors each frame left-right and top-down, each with probability one half."""
    for axis in (-1, -2):
        chosen = torch.rand(len(frames.facts), generator=generator, device=frames.rgb.device) < 0.5
        mirrored = frames.each(lambda t: t.flip(axis) if t.dim() > 2 else t)
        frames.rgb = torch.where(chosen[:, None, None, None], mirrored.rgb, frames.rgb)
        frames.region = torch.where(chosen[:, None, None], mirrored.region, frames.region)
        frames.deposit = torch.where(chosen[:, None, None], mirrored.deposit, frames.deposit)
        # An odd margin is one pixel wider at the far side: the photo moves by that pixel when mirrored.
        start, size, full = (0, 2, WIDTH) if axis == -1 else (1, 3, HEIGHT)
        moved = full - frames.box[:, start] - frames.box[:, size]
        frames.box[:, start] = torch.where(chosen, moved, frames.box[:, start])
    return frames


class Pool:
    """The newest `capacity` frames on the device: rendering fills it, training draws from it, at their own rates."""

    def __init__(self, capacity, device):
        empty = lambda shape, kind: torch.zeros((capacity, *shape), dtype=kind, device=device)
        self.frames = Frames(
            rgb=empty((3, HEIGHT, WIDTH), torch.float16),
            region=empty((HEIGHT, WIDTH), torch.uint8),
            deposit=empty((HEIGHT, WIDTH), torch.uint8),
            facts=empty((FACTS,), torch.float32),
            box=empty((4,), torch.float32),
        )
        self.capacity, self.added = capacity, 0

    def add(self, frames):
        """Overwrites the oldest frames. Glints are cut at 20000 times the mean: half precision ends at 65504."""
        frames.rgb = frames.rgb.clamp(max=20000)
        count = len(frames.facts)
        slots = torch.arange(self.added, self.added + count, device=frames.rgb.device) % self.capacity
        for field in fields(Frames):
            stored = getattr(self.frames, field.name)
            stored[slots] = getattr(frames, field.name).to(stored.dtype)
        self.added += count

    def draw(self, count, generator):
        """`count` random frames, with replacement, radiance in float32."""
        filled = min(self.added, self.capacity)
        chosen = torch.randint(filled, (count,), generator=generator, device=self.frames.rgb.device)
        drawn = self.frames.each(lambda tensor: tensor[chosen])
        drawn.rgb = drawn.rgb.float()
        return drawn
