"""A photo from linear radiance, in the order light and signal take: the whole camera on one page."""

from dataclasses import dataclass

import torch
import torch.nn.functional as F

from . import exposure, faults, glare, jpeg, lens, screen, sensor, tone
from .dice import Dice
from .view import look


SIZES = 4  # smaller sizes in one batch
FILED = 0.8  # share of them at which the images are kept as files
GRAIN, CRISP = 0.015, 1.2  # most noise, standard deviation, and most sharpening at that size
LATER = 1 << 40  # seed of the dice for what came later to the cameras, so that the others fall as they did


@dataclass
class Photos:
    """Developed photos and what the camera did to them."""

    image: torch.Tensor  # [n, 3, h, w] display values, whole 8-bit steps in 0..1, 0 in the margins
    seen: torch.Tensor  # [n, 1, h, w] 0..1: what stop, bands, text and margins leave of the scene
    blur: torch.Tensor  # [n] standard deviation of defocus, pixels of a 320-pixel frame
    motion: torch.Tensor  # [n] length of the smear, same pixels


def develop(linear, box, size, seed, profile, file=True):
    """Photographs n scenes: the same arguments give the same photos.

    linear  [n, 3, h, w] radiance, any scale, margins repeating the edge
    box     [n, 4] left, top, width, height of each photo in the frame, pixels
    size    [n] radius of the valve in pixels of a 320-pixel frame; faults are sized by it
    file    with JPEG losses (h and w multiples of 16); without when a file is written afterwards
    """
    dice = Dice(seed, len(linear), linear.device)
    later = Dice(seed + LATER, len(linear), linear.device)
    view = look(box, *linear.shape[2:])
    spoiled = faults.draw(dice, size, profile)
    blur = lens.draw_blur(dice, profile, spoiled)

    image = exposure.expose(linear, view, dice, later, profile, spoiled)
    image = exposure.tint(image, dice, profile).clamp(max=200)
    image, ring = glare.burn(image, view, later, profile)
    image = lens.focus(image, view, blur, dice, later, profile)
    image = lens.disperse(image, view, later, profile)
    light = screen.stop(view, dice, profile)
    image = sensor.expose_sensor(image * light, dice, profile)
    image = tone.lift(image, later, profile)
    image = sensor.denoise(image, dice, profile)
    image = sensor.smear_colour(image, later, profile)
    image = tone.curve(image, dice, profile)
    image = tone.colour(image, dice, profile)
    image = tone.sharpen(image, dice, profile)
    image = rescale(image, dice, later, profile, file)
    image, text = screen.write(image, view, dice, profile)
    image, marks = screen.mark(image, view, dice, profile)
    if file:
        image = save(image, dice, later, profile)
    return Photos(
        image=(image * view.inside * 255).round() / 255,
        seen=view.inside * light * (1 - torch.maximum(text, marks)) * (1 - ring),
        blur=blur.spread.flatten(),
        motion=blur.motion.flatten(),
    )


def rescale(image, dice, later, profile, file):
    """Sends the first images of the batch through smaller sizes; batches are drawn at random, so order means nothing."""
    count = round(profile.rescaled * len(image))
    if count == 0:
        return image
    quality = later.uniform(*profile.quality)
    changed = []
    for which in torch.arange(count).chunk(SIZES):
        kept = file and later.one(0, 1) < FILED
        changed.append(through(image[which], dice.one(0.25, 0.9), later, quality[which] if kept else None))
    return torch.cat((*changed, image[count:]))


def through(image, factor, later, quality=None):
    """Images at a smaller size and back. With a quality [n, 1, 1, 1] they are small files: grain, sharpening and the blocks
    of the JPEG grow with them, as in a window round a small valve."""
    small = F.interpolate(image, scale_factor=factor, mode="bilinear", antialias=True, align_corners=False)
    if quality is not None:
        height, width = small.shape[2:]
        small = F.pad(small, (0, -width % 16, 0, -height % 16), mode="replicate")
        small = small + GRAIN * later.uniform(0, 1)[: len(small)] * later.noise(small)
        crisp = CRISP * later.uniform(-1, 1)[: len(small)].clamp(min=0)
        small = small + crisp * (small - F.avg_pool2d(small, 3, 1, 1, count_include_pad=False))
        small = jpeg.compress(small.clamp(0, 1), quality)[:, :, :height, :width]
    return F.interpolate(small, size=image.shape[2:], mode="bilinear", align_corners=False)


def save(image, dice, later, profile):
    """JPEG: every second photo at the frame's own size, the others twice as large and scaled down by the product.

    Some go through a video picture of half the size instead, where the frame can be halved.
    """
    quality = dice.uniform(*profile.quality)
    result = torch.empty_like(image)
    result[0::2] = jpeg.compress(image[0::2], quality[0::2])
    if len(image) > 1:
        result[1::2] = jpeg.compress_photo(image[1::2], quality[1::2])
    if image.shape[2] % 32 or image.shape[3] % 32:
        return result
    video = jpeg.compress_video(image, later.uniform(*profile.video_quality))
    return torch.where(later.chance(profile.video), video, result)
