"""The net: a U-Net that sees a photo at 320x256 and answers at 160x128.

OpenCV 4.6 runs it on one core, where time follows pixels, not parameters: the stem halves the size at once, the two
finest levels are depthwise, and the parameters sit deep. Only operators that OpenCV 4.6 loads: Conv, Relu, Add, Mul,
Concat, Resize (nearest), GlobalAveragePool, Softmax, Reshape.
"""

import torch
from torch import nn
import torch.nn.functional as F

CHANNELS = (16, 24, 56, 88, 120, 160)  # at 1/2, 1/4, ... 1/64 of the frame
REGIONS, STEPS, FRAME_OUTPUTS = 3, 3, 15


class Conv(nn.Sequential):
    """Convolution, batch norm, and ReLU unless told otherwise."""

    def __init__(self, inputs, outputs, kernel=3, stride=1, groups=1, relu=True):
        super().__init__(
            nn.Conv2d(inputs, outputs, kernel, stride, kernel // 2, groups=groups, bias=False),
            nn.BatchNorm2d(outputs),
            *([nn.ReLU(inplace=True)] if relu else []),
        )


class Light(nn.Module):
    """Residual depthwise-separable block, for many pixels."""

    def __init__(self, channels, kernel=3):
        super().__init__()
        self.body = nn.Sequential(
            Conv(channels, channels, kernel, groups=channels), Conv(channels, channels, 1, relu=False)
        )

    def forward(self, x):
        return F.relu(x + self.body(x))


class Full(nn.Module):
    """Residual block of two plain convolutions, for few pixels."""

    def __init__(self, channels):
        super().__init__()
        self.body = nn.Sequential(Conv(channels, channels), Conv(channels, channels, relu=False))

    def forward(self, x):
        return F.relu(x + self.body(x))


class Merge(nn.Module):
    """One decoder step: the coarse map doubled, beside the fine map of the encoder."""

    def __init__(self, coarse, fine, block):
        super().__init__()
        self.reduce = Conv(coarse + fine, fine, 1)
        self.block = block

    def forward(self, coarse, fine):
        coarse = F.interpolate(coarse, scale_factor=2.0, mode="nearest")
        return self.block(self.reduce(torch.cat((coarse, fine), 1)))


class Attention(nn.Module):
    """Mean of the features where the net looks, weights by softmax over the positions: [n, c, h, w] to [n, c, 1, 1]."""

    def __init__(self, channels, height, width):
        super().__init__()
        self.score = nn.Conv2d(channels, 1, 1)
        self.height, self.width = height, width

    def forward(self, x):
        cells = self.height * self.width
        weight = torch.softmax(self.score(x).reshape(-1, cells), 1).reshape(-1, 1, self.height, self.width)
        return F.adaptive_avg_pool2d(x * (weight * float(cells)), 1)


class Net(nn.Module):
    """[n, 3, 256, 320] RGB in 0..1 to `maps` [n, 6, 128, 160] and `frame` [n, 15], all logits.

    maps: background, head, stem; then P(deposit >= film), P(>= medium), P(>= heavy). What the whole photo says of them is
    added to every cell: whether crust is medium or heavy is seldom decided in one place.
    frame: the columns of labels.FRAME.
    """

    def __init__(self, channels=CHANNELS):
        super().__init__()
        self.channels = c = tuple(channels)
        self.stem = nn.Sequential(Conv(3, c[0], 5, 2), Light(c[0]))
        twice = lambda n, kernel=3: nn.Sequential(Light(n, kernel), Light(n, kernel))
        blocks = [twice, Full, Full, Full, lambda n: twice(n, 5)]
        self.down = nn.ModuleList(
            nn.Sequential(Conv(c[i], c[i + 1], 3, 2), block(c[i + 1])) for i, block in enumerate(blocks)
        )
        blocks = [twice, twice, Full, Full, lambda n: Conv(n, n)]
        self.up = nn.ModuleList(Merge(c[i + 1], c[i], block(c[i])) for i, block in enumerate(blocks))
        self.maps = nn.Conv2d(c[0], REGIONS + STEPS, 1)
        self.attention = Attention(c[2], 32, 40)
        self.whole = nn.Sequential(nn.Conv2d(c[5] + 2 * c[2], 96, 1), nn.ReLU(inplace=True))
        self.frame = nn.Conv2d(96, FRAME_OUTPUTS, 1)
        self.level = nn.Conv2d(96, REGIONS + STEPS, 1)
        nn.init.zeros_(self.level.weight), nn.init.zeros_(self.level.bias)

    def forward(self, photo):
        levels = [self.stem(photo * 4.0 - 2.0)]
        for down in self.down:
            levels.append(down(levels[-1]))
        deepest = x = levels.pop()
        for up, fine in zip(reversed(self.up), reversed(levels)):
            x = up(x, fine)
            if up is self.up[2]:
                middle = x
        pooled = (F.adaptive_avg_pool2d(deepest, 1), F.adaptive_avg_pool2d(middle, 1), self.attention(middle))
        whole = self.whole(torch.cat(pooled, 1))
        return self.maps(x) + self.level(whole), self.frame(whole).flatten(1)


class SplitMerge(nn.Module):
    """A folded Merge that answers the same in less time: a convolution over one pixel may come before the doubling."""

    def __init__(self, merge):
        super().__init__()
        both, relu = merge.reduce[0], merge.reduce[2]
        coarse = both.in_channels - both.out_channels
        self.coarse = nn.Conv2d(coarse, both.out_channels, 1, bias=False)
        self.fine = nn.Conv2d(both.out_channels, both.out_channels, 1)
        self.coarse.weight.data, self.fine.weight.data = both.weight.data[:, :coarse], both.weight.data[:, coarse:]
        self.fine.bias.data = both.bias.data
        self.relu, self.block = relu, merge.block

    def forward(self, coarse, fine):
        coarse = F.interpolate(self.coarse(coarse), scale_factor=2.0, mode="nearest")
        return self.block(self.relu(coarse + self.fine(fine)))


def folded(net):
    """A copy in evaluation mode for export: batch norms folded into their convolutions, merges split."""
    from copy import deepcopy

    from torch.nn.utils.fusion import fuse_conv_bn_eval

    net = deepcopy(net).eval()
    for module in net.modules():
        if isinstance(module, Conv):
            module[0], module[1] = fuse_conv_bn_eval(module[0], module[1]), nn.Identity()
    net.up = nn.ModuleList(SplitMerge(merge) for merge in net.up)
    return net
