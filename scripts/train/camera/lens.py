"""The lens: everything linear is one optical transfer function, applied by one Fourier transform.

Gaussian blur, the defocus disc, the motion line, scattered light and lateral colour are each known in closed form in
frequency (J. W. Goodman, Introduction to Fourier Optics, ch. 6), so any strength per image costs the same.
"""

from dataclasses import dataclass
from math import pi

import torch
import torch.nn.functional as F


@dataclass
class Blur:
    """Strengths [n, 1, 1, 1] in pixels of a 320-pixel frame."""

    sigma: torch.Tensor
    disc: torch.Tensor  # radius
    motion: torch.Tensor  # length
    angle: torch.Tensor  # radians

    @property
    def spread(self):
        """Standard deviation per axis of Gaussian and disc together: a disc of radius r has r / 2."""
        return (self.sigma**2 + self.disc**2 / 4).sqrt()


def draw_blur(dice, profile, faults):
    sigma = dice.log(*profile.blur)
    sigma = torch.where(dice.chance(profile.soft), dice.log(*profile.softness), sigma)
    return Blur(
        sigma=(sigma**2 + faults.blur**2).sqrt(),
        disc=dice.sometimes(profile.defocus, dice.log(*profile.defocus_radius)),
        motion=torch.maximum(dice.sometimes(profile.moving, dice.log(*profile.motion)), faults.motion),
        angle=dice.uniform(0, pi),
    )


def frequencies(height, width, device):
    """Cycles per pixel of torch.fft.rfft2, broadcast to [1, 1, height, width / 2 + 1]."""
    fy = torch.fft.fftfreq(height, device=device).view(1, 1, -1, 1)
    fx = torch.fft.rfftfreq(width, device=device).view(1, 1, 1, -1)
    return fy, fx, (fx**2 + fy**2).sqrt()


def transfer(fy, fx, f, blur, scale):
    """Transfer function of the blur: Gaussian x disc x line."""
    gauss = (-2 * (pi * scale * blur.sigma * f) ** 2).exp()
    t = (2 * pi * scale * blur.disc * f).clamp(min=1e-3)
    disc = 2 * torch.special.bessel_j1(t) / t
    line = torch.sinc(scale * blur.motion * (fx * blur.angle.cos() + fy * blur.angle.sin()))
    return gauss * disc * line


def scatter(f, dice, profile, scale):
    """Transfer function of scattered light: a halo a few pixels wide and a veil over the frame.

    exp(-2 pi g f) is the transform of g / (2 pi (r^2 + g^2)^1.5), a bright core with long tails.
    """
    halo, veil = dice.log(*profile.halo), dice.log(*profile.veil)
    near = (-2 * pi * scale * dice.log(2, 12) * f).exp()
    far = (-2 * pi * scale * dice.log(30, 120) * f).exp()
    return 1 - halo - veil + halo * near + veil * far


def fringe(fy, fx, dice, profile, scale):
    """Red and blue shifted against green, as a phase."""
    dx, dy = (dice.normal(profile.colour_fringe * scale / 2) for _ in range(2))
    phase = 2 * pi * (fx * dx + fy * dy)
    red = torch.complex(phase.cos(), phase.sin())
    return torch.cat((red, torch.ones_like(red), red.conj()), 1)


def focus(linear, view, blur, dice, later, profile):
    """The image behind the lens, [n, 3, h, w]; smudges and uneven focus mix in a softer copy."""
    height, width = linear.shape[2:]
    edge = int(32 * view.scale)
    padded = F.pad(linear, (edge,) * 4, mode="replicate")
    fy, fx, f = frequencies(*padded.shape[2:], linear.device)
    spectrum = torch.fft.rfft2(padded) * transfer(fy, fx, f, blur, view.scale)
    spectrum = spectrum * scatter(f, dice, profile, view.scale) * fringe(fy, fx, dice, profile, view.scale)
    softer = (-2 * (pi * view.scale * dice.log(1.2, 6) * f) ** 2).exp()

    def image(spectrum):
        whole = torch.fft.irfft2(spectrum, s=padded.shape[2:])
        return whole[:, :, edge : edge + height, edge : edge + width].clamp(min=0)

    sharp = image(spectrum)
    patch = torch.maximum(smudge(view, dice, profile), far_haze(view, later, profile))
    haze = dice.uniform(0, 0.5) * sharp.mean((1, 2, 3), keepdim=True)
    sharp = sharp + patch * (image(spectrum * softer) + haze - sharp)
    return sharp / (1 + dice.uniform(*profile.vignette) * view.radius2) ** 2


def smudge(view, dice, profile):
    """[n, 1, h, w] 0..1: how much of the soft copy shows; at most patches, never the whole frame by design."""
    height, width = view.inside.shape[2:]
    fine, coarse = dice.field(height, width, 7), dice.field(height, width, 3)
    spots = ((torch.where(dice.chance(0.5), fine, coarse) - dice.uniform(0.6, 1.6)) * dice.log(2, 15)).sigmoid()
    angle = dice.uniform(-pi, pi)
    slope = view.x * angle.cos() + view.y * angle.sin()
    side = ((slope - dice.uniform(-0.2, 0.6)) * dice.log(1.5, 6)).sigmoid()
    return torch.maximum(dice.sometimes(profile.smudges, spots), dice.sometimes(profile.uneven_focus, side))


def far_haze(view, dice, profile):
    """[n, 1, h, w] 0..1: the middle of the frame, which lies deeper than what the lens is focused on."""
    middle = ((dice.uniform(0.35, 0.8) - view.radius2.sqrt()) * dice.log(4, 15)).sigmoid()
    return dice.sometimes(profile.near_focus, dice.uniform(0.3, 0.9)) * middle


def disperse(image, view, dice, profile):
    """Red enlarged and blue shrunk about the photo's centre, or the other way round."""
    height, width = image.shape[2:]
    shift = dice.normal(profile.dispersion) * view.scale * 2 / (view.width**2 + view.height**2).sqrt()  # pixels per pixel
    away_x, away_y = view.x * view.width / 2, view.y * view.height / 2
    across = (torch.arange(width, device=image.device).view(1, 1, 1, -1) + 0.5) * 2 / width - 1
    down = (torch.arange(height, device=image.device).view(1, 1, -1, 1) + 0.5) * 2 / height - 1

    def moved(channel, by):
        place = (across + by * away_x * 2 / width, down + by * away_y * 2 / height)
        grid = torch.stack(torch.broadcast_tensors(*place), -1).squeeze(1)
        return F.grid_sample(channel, grid, mode="bilinear", padding_mode="border", align_corners=False)

    fringed = torch.cat((moved(image[:, :1], shift), image[:, 1:2], moved(image[:, 2:], -shift)), 1)
    return torch.where(shift == 0, image, fringed)
