"""The net of the first look: a thin U-Net that sees a whole photo at 320x256 and says, at 80x64, where valves are."""

import torch
from torch import nn
import torch.nn.functional as F

from net import Conv, Full, Light, Merge

CHANNELS = (12, 20, 40, 64, 88, 112)  # at 1/2, 1/4, ... 1/64 of the frame
MAPS, FRAME_OUTPUTS = 6, 5


class Finder(nn.Module):
    """[n, 3, 256, 320] RGB in 0..1 to `maps` [n, 6, 64, 80] and `frame` [n, 5].

    maps: logit of a valve's middle, logit of any valve here, natural logarithms of the distances to the left, top, right and
    bottom of the valve whose middle is here, in units of 32 pixels of the frame. frame: logits of labels.FRAME's first five.
    """

    def __init__(self, channels=CHANNELS):
        super().__init__()
        self.channels = c = tuple(channels)
        self.stem = nn.Sequential(Conv(3, c[0], 5, 2), Light(c[0]))
        blocks = [Light, Full, Full, Full, lambda n: nn.Sequential(Light(n, 5), Light(n, 5))]
        self.down = nn.ModuleList(
            nn.Sequential(Conv(c[i], c[i + 1], 3, 2), block(c[i + 1])) for i, block in enumerate(blocks)
        )
        blocks = [lambda n: nn.Sequential(Light(n, 5), Light(n, 5)), Full, Full, lambda n: Conv(n, n)]
        self.up = nn.ModuleList(Merge(c[i + 2], c[i + 1], block(c[i + 1])) for i, block in enumerate(blocks))
        self.maps = nn.Conv2d(c[1], MAPS, 1)
        self.frame = nn.Sequential(nn.Conv2d(c[5] + c[2], 48, 1), nn.ReLU(inplace=True), nn.Conv2d(48, FRAME_OUTPUTS, 1))
        nn.init.constant_(self.maps.bias[:2], -3.0)

    def forward(self, photo):
        levels = [self.stem(photo * 4.0 - 2.0)]
        for down in self.down:
            levels.append(down(levels[-1]))
        deepest = x = levels.pop()
        for up, fine in zip(reversed(self.up), reversed(levels[1:])):
            x = up(x, fine)
            if up is self.up[1]:
                middle = x
        pooled = (F.adaptive_avg_pool2d(deepest, 1), F.adaptive_avg_pool2d(middle, 1))
        return self.maps(x), self.frame(torch.cat(pooled, 1)).flatten(1)
