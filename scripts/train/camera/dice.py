"""Seeded random numbers, one per image of a batch, shaped to broadcast over [n, channels, height, width]."""

import math
import random

import torch
import torch.nn.functional as F


class Dice:
    def __init__(self, seed, count, device):
        self.count, self.device = count, device
        self.generator = torch.Generator(device=device)
        self.generator.manual_seed(seed)
        self.host = random.Random(seed)

    def uniform(self, low, high, channels=1):
        random = torch.rand((self.count, channels, 1, 1), generator=self.generator, device=self.device)
        return low + (high - low) * random

    def log(self, low, high):
        """Log-uniform: as likely between 1 and 2 as between 2 and 4."""
        log = torch.log if torch.is_tensor(low) else math.log
        return self.uniform(log(low), log(high)).exp()

    def normal(self, deviation, channels=1):
        shape = (self.count, channels, 1, 1)
        return deviation * torch.randn(shape, generator=self.generator, device=self.device)

    def chance(self, probability):
        """True for this share of the images."""
        return self.uniform(0, 1) < probability

    def sometimes(self, probability, value):
        """`value` for this share of the images, else 0."""
        return self.chance(probability) * value

    def one(self, low, high):
        """One number for the whole batch, on the CPU."""
        return self.host.uniform(low, high)

    def integers(self, limit, columns):
        return torch.randint(limit, (self.count, columns), generator=self.generator, device=self.device)

    def noise(self, like):
        """White noise of deviation 1."""
        return torch.randn(like.shape, generator=self.generator, device=self.device)

    def field(self, height, width, cells):
        """[n, 1, height, width] smooth field of about `cells` bumps across, deviation near 1."""
        coarse = torch.randn((self.count, 1, cells, cells), generator=self.generator, device=self.device)
        return F.interpolate(coarse, size=(height, width), mode="bicubic", align_corners=True)
