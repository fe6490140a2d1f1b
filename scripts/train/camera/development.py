"""A photo from linear radiance, in the order light and signal take: the whole camera on one page."""

from dataclasses import dataclass

import torch
import torch.nn.functional as F

from . import exposure, faults, glare, jpeg, lens, screen, sensor, tone
from .dice import Dice
from .view import look


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
    image = rescale(image, dice, profile)
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


def rescale(image, dice, profile):
    """Sends the first images of the batch through a smaller size; batches are drawn at random, so order means nothing."""
    count = round(profile.rescaled * len(image))
    if count == 0:
        return image
    size = image.shape[2:]
    factor = dice.one(0.3, 0.85)
    small = F.interpolate(image[:count], scale_factor=factor, mode="bilinear", antialias=True, align_corners=False)
    back = F.interpolate(small, size=size, mode="bilinear", align_corners=False)
    return torch.cat((back, image[count:]))


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
