"""JPEG losses without the file: 8x8 cosine transform, quantisation tables of ITU-T T.81 Annex K, 4:2:0 chroma."""

from math import cos, pi, sqrt

import torch
import torch.nn.functional as F

from .constants import constant

LUMA_TABLE = (
    16, 11, 10, 16, 24, 40, 51, 61, 12, 12, 14, 19, 26, 58, 60, 55, 14, 13, 16, 24, 40, 57, 69, 56,
    14, 17, 22, 29, 51, 87, 80, 62, 18, 22, 37, 56, 68, 109, 103, 77, 24, 35, 55, 64, 81, 104, 113, 92,
    49, 64, 78, 87, 103, 121, 120, 101, 72, 92, 95, 98, 112, 100, 103, 99,
)
CHROMA_TABLE = (
    17, 18, 24, 47, 99, 99, 99, 99, 18, 21, 26, 66, 99, 99, 99, 99, 24, 26, 56, 99, 99, 99, 99, 99,
    47, 66, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99,
    99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99,
)
TO_YCC = ((0.299, 0.587, 0.114), (-0.168736, -0.331264, 0.5), (0.5, -0.418688, -0.081312))  # JFIF
TO_RGB = ((1.0, 0.0, 1.402), (1.0, -0.344136, -0.714136), (1.0, 1.772, 0.0))
COSINES = tuple(
    tuple((sqrt(1 / 8) if k == 0 else 0.5) * cos((2 * n + 1) * k * pi / 16) for n in range(8)) for k in range(8)
)


def table(base, quality, device):
    """[n, 1, 1, 1, 8, 8] quantisation steps; quality [n, 1, 1, 1] in 1..100 scales as common encoders do."""
    percent = torch.where(quality < 50, 5000 / quality, 200 - 2 * quality)
    steps = constant(base, device).view(1, 64) * percent.view(-1, 1)
    return ((steps + 50) / 100).floor().clamp(1, 255).view(-1, 1, 1, 1, 8, 8)


def quantise(plane, steps):
    """Rounds the cosine coefficients of planes [n, c, h, w] (h and w multiples of 8), values in 0..255 about 0."""
    n, c, h, w = plane.shape
    cosines = constant(COSINES, plane.device)
    blocks = plane.view(n, c, h // 8, 8, w // 8, 8).transpose(3, 4)
    coefficients = cosines @ blocks @ cosines.T
    coefficients = (coefficients / steps).round() * steps
    blocks = cosines.T @ coefficients @ cosines
    return blocks.transpose(3, 4).reshape(n, c, h, w)


def mix(matrix, image):
    """A 3x3 matrix on the channels of [n, 3, h, w]."""
    return torch.einsum("ij,njhw->nihw", constant(matrix, image.device), image)


def compress(image, quality):
    """[n, 3, h, w] in 0..1, h and w multiples of 16, as it comes back from a JPEG of this quality."""
    ycc = mix(TO_YCC, image) * 255
    luma = quantise(ycc[:, :1] - 128, table(LUMA_TABLE, quality, image.device)) + 128
    chroma = quantise(F.avg_pool2d(ycc[:, 1:], 2), table(CHROMA_TABLE, quality, image.device))
    chroma = F.interpolate(chroma, scale_factor=2, mode="bilinear", align_corners=False)
    return (mix(TO_RGB, torch.cat((luma, chroma), 1)) / 255).clamp(0, 1)


def compress_photo(image, quality):
    """As compress, but the file is twice as large in each direction as the frame, the way a photo reaches the net."""
    large = F.interpolate(image, scale_factor=2, mode="bilinear", align_corners=False)
    return F.avg_pool2d(compress(large, quality), 2)


def compress_video(image, quality):
    """As compress, but the file is half as large as the frame, h and w multiples of 32: its blocks are twice as large."""
    small = compress(F.avg_pool2d(image, 2), quality)
    return F.interpolate(small, scale_factor=2, mode="bilinear", align_corners=False)
