"""Ordinary pictures as examples of what is no valve, mixed into the training as frames."""

from pathlib import Path

import numpy as np
import torch
import torch.nn.functional as F
from PIL import Image

from scenes import FACTS, OPEN, PLACE, SKY, Scenes


class Negatives:
    """All cuts of a folder in memory; draws frames of them as if a renderer had made them."""

    def __init__(self, folder, device):
        stack = [np.asarray(Image.open(p).convert("RGB")) for p in sorted(Path(folder).glob("*.jpg"))]
        self.pictures = torch.from_numpy(np.stack(stack)).permute(0, 3, 1, 2).to(device)
        self.device = self.pictures.device

    def windows(self, count, width, height, generator):
        """[count, 3, height, width] random windows of random pictures, linear."""
        full_height, full_width = self.pictures.shape[2:]
        scale = min(full_width / width, full_height / height)
        windows = []
        for k in torch.randint(len(self.pictures), (count,), generator=generator).tolist():
            share = 0.5 + 0.5 * torch.rand(1, generator=generator).item()
            wide, tall = int(width * scale * share), int(height * scale * share)
            left = torch.randint(full_width - wide + 1, (1,), generator=generator).item()
            top = torch.randint(full_height - tall + 1, (1,), generator=generator).item()
            window = self.pictures[k : k + 1, :, top : top + tall, left : left + wide].float() / 255
            windows.append(F.interpolate(window, (height, width), mode="bilinear", antialias=True, align_corners=False))
        return torch.cat(windows).clamp(0, 1) ** 2.2

    def stand_behind(self, scenes, generator):
        """Puts pictures where scenes show nothing behind the valve."""
        for k in torch.nonzero(scenes.facts[:, OPEN] > 0.5).flatten().tolist():
            rgb = scenes.rgb[k]
            empty = (rgb == scenes.facts[k, SKY]).all(-1, keepdim=True)
            picture = self.windows(1, rgb.shape[1], rgb.shape[0], generator)[0].permute(1, 2, 0).to(rgb.device)
            level = rgb.mean() * (2.5 * torch.rand(1, generator=generator).item() + 0.2) / picture.mean().clamp(min=1e-3)
            scenes.rgb[k] = torch.where(empty, picture * level, rgb)

    def draw(self, count, width, height, generator):
        """Scenes of this size: [count] random windows of random pictures, linear, with no valve anywhere."""
        linear = self.windows(count, width, height, generator)
        blank = lambda value: torch.full((count, height, width), value, dtype=torch.uint8, device=self.device)
        facts = torch.zeros((count, FACTS), device=self.device)
        facts[:, PLACE] = torch.tensor([0.0, 0.0, width, height], device=self.device)
        return Scenes(linear.permute(0, 2, 3, 1) + 1e-4, blank(0), blank(255), facts)
