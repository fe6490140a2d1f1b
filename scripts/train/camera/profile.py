"""How good or bad the cameras are: the ranges that one development draws from.

Lengths are pixels of a frame 320 pixels wide; development scales them to larger photos. Shares are probabilities.
"""

from dataclasses import asdict, dataclass, replace

import torch


@dataclass(frozen=True)
class Profile:
    """Ranges are (low, high)."""

    level: tuple = (0.07, 0.3)  # mean linear brightness that the exposure aims at, white = 1
    exposure_error: float = 0.4  # stops, standard deviation
    misexposed: float = 0.12  # share with a further error of `misexposure` stops
    misexposure: tuple = (-2.0, 1.3)
    for_highlights: float = 0.0  # share exposed so that the brightest part is not lost, where that is less light
    highlight: tuple = (0.6, 1.6)  # brightness of that part then
    faults: float = 0.08  # share spoiled on purpose: dark, burnt, defocused, moved

    blur: tuple = (0.25, 1.3)  # Gaussian sigma
    soft: float = 0.1  # share that is softer than that
    softness: tuple = (0.8, 2.5)
    defocus: float = 0.15  # share with a disc of confusion
    defocus_radius: tuple = (0.5, 3.0)
    moving: float = 0.1
    motion: tuple = (0.6, 4.0)  # length of the smear
    colour_fringe: float = 0.5  # shift of red against blue, standard deviation
    halo: tuple = (0.005, 0.15)  # share of light scattered near highlights
    veil: tuple = (0.002, 0.12)  # share of light scattered over the whole frame
    vignette: tuple = (0.0, 1.1)
    smudges: float = 0.08  # share with smeared or oily patches on the lens
    uneven_focus: float = 0.1  # share in focus only in one part of the frame
    near_focus: float = 0.0  # share in focus at the margin, on what is near, and hazy in the middle
    dispersion: float = 0.0  # red and blue of unequal size: shift in the corners, standard deviation
    hot_centre: float = 0.0  # share with a burnt spot where the lamp points
    hot: tuple = (0.7, 6.0)  # its light, as a multiple of the rest
    rim: float = 0.0  # share with a burnt ring: the wall beside the lens
    rim_light: tuple = (0.4, 5.0)

    cast: float = 0.13  # deviation of log gain, warm against cold
    strong_cast: float = 0.05  # share with up to +-0.7
    shot_noise: tuple = (0.003, 0.028)  # deviation at white, linear
    read_noise: tuple = (0.0004, 0.006)
    denoise: float = 0.3
    denoise_strength: tuple = (0.01, 0.08)
    lifted: float = 0.0  # share whose dark parts are brought up, noise and all
    lift: tuple = (0.2, 0.7)  # 1: all parts equally bright
    colour_smear: float = 0.0  # share with the colours of small things washed out

    gamma: tuple = (1.7, 2.6)
    contrast: tuple = (-0.35, 0.8)
    black_level: tuple = (-0.07, 0.06)
    saturation: tuple = (0.5, 1.7)
    grey: float = 0.04  # share with nearly no colour
    sharpen: tuple = (0.0, 0.7)
    oversharpen: float = 0.3
    oversharpening: tuple = (0.7, 3.2)

    rescaled: float = 0.2  # share of the batch that went through a smaller size
    round_stop: float = 0.13
    text: float = 0.25
    marks: float = 0.08  # share with a small on-screen rectangle
    bands: float = 0.04  # share with black bands of its own
    quality: tuple = (25.0, 95.0)  # JPEG
    video: float = 0.0  # share sent as a video picture of half the size
    video_quality: tuple = (25.0, 70.0)


TRAIN = Profile()

# What most people keep and send: sharp enough to see the texture of crust. With the rough cameras alone the net learned that
# medium and heavy cannot be told apart, because in most of their photos nobody could.
FAIR = replace(
    TRAIN,
    level=(0.09, 0.27), exposure_error=0.25, misexposed=0.04, misexposure=(-1.5, 0.9), faults=0.04,
    blur=(0.25, 0.7), soft=0.04, softness=(0.7, 1.3), defocus=0.06, defocus_radius=(0.5, 1.5), moving=0.04, motion=(0.6, 2.0),
    colour_fringe=0.3, halo=(0.005, 0.09), veil=(0.002, 0.06), vignette=(0.0, 0.9), smudges=0.03, uneven_focus=0.05,
    cast=0.08, strong_cast=0.02, shot_noise=(0.003, 0.02), read_noise=(0.0004, 0.004), denoise_strength=(0.01, 0.05),
    gamma=(1.9, 2.4), contrast=(-0.15, 0.5), black_level=(-0.03, 0.03), saturation=(0.7, 1.4), grey=0.02,
    oversharpen=0.25, oversharpening=(0.7, 2.2), rescaled=0.1, round_stop=0.08, marks=0.05, bands=0.02, quality=(45.0, 95.0),
)

# A phone before the open port: its flash burns the flange, so the inside is stops under; then the dark is brought up again and
# the grain smeared. Warm or cold, for its white balance goes by the flange.
PHONE = replace(
    FAIR,
    misexposed=0.3, misexposure=(-2.5, -0.3), for_highlights=0.5, blur=(0.25, 0.9), near_focus=0.35, vignette=(0.0, 0.6),
    moving=0.07, cast=0.15, strong_cast=0.2, shot_noise=(0.005, 0.03), denoise=0.8, denoise_strength=(0.015, 0.12),
    lifted=0.7, colour_smear=0.6, contrast=(-0.15, 0.7), saturation=(0.6, 1.6), sharpen=(0.1, 0.9), round_stop=0.0, text=0.03,
    marks=0.0, bands=0.0, quality=(60.0, 95.0),
)

# A cheap borescope: fringes, a hot spot, a burnt ring, everything oversharpened, small video pictures.
SCOPE = replace(
    FAIR,
    for_highlights=0.15, blur=(0.3, 1.0), colour_fringe=0.5, dispersion=1.2, halo=(0.01, 0.15), veil=(0.004, 0.1),
    vignette=(0.1, 1.3), hot_centre=0.35, rim=0.3, moving=0.08, motion=(0.6, 3.0), cast=0.12, denoise=0.4, colour_smear=0.3,
    sharpen=(0.1, 0.9), oversharpen=0.45, oversharpening=(0.8, 3.2), rescaled=0.2, round_stop=0.25, text=0.4, marks=0.15,
    quality=(25.0, 85.0), video=0.25,
)

TAUGHT = (TRAIN, FAIR, PHONE, FAIR, SCOPE, FAIR)  # the cameras that training takes in turns

# Other ranges than in training, so that validation asks for more than memory of the camera.
VALIDATION = replace(
    TRAIN,
    level=(0.08, 0.26), exposure_error=0.5, misexposed=0.1, misexposure=(-1.8, 0.9), faults=0.12,
    blur=(0.3, 1.0), soft=0.08, softness=(0.8, 2.0), defocus=0.1, moving=0.08, motion=(0.8, 3.0), colour_fringe=0.9,
    halo=(0.02, 0.2), vignette=(0.1, 1.3), cast=0.2, strong_cast=0.05, shot_noise=(0.003, 0.03),
    gamma=(1.8, 2.4), contrast=(-0.3, 0.7), saturation=(0.5, 1.6), oversharpening=(1.0, 3.5), quality=(35.0, 92.0),
)

# Fair photos for the demo and testdata: what a careful technician keeps. JPEG is left to the file writer.
DEMO = Profile(
    level=(0.14, 0.22), exposure_error=0.12, misexposed=0.0, faults=0.0,
    blur=(0.25, 0.4), soft=0.0, defocus=0.0, moving=0.0, colour_fringe=0.15, halo=(0.01, 0.05), veil=(0.002, 0.02),
    vignette=(0.1, 0.5), smudges=0.0, uneven_focus=0.0, cast=0.05, strong_cast=0.0, shot_noise=(0.006, 0.018),
    read_noise=(0.0006, 0.003), denoise=0.5, denoise_strength=(0.01, 0.03), gamma=(2.1, 2.3), contrast=(0.0, 0.35),
    black_level=(-0.01, 0.01), saturation=(0.9, 1.25), grey=0.0, sharpen=(0.2, 0.6), oversharpen=0.0, rescaled=0.0,
    round_stop=0.0, text=0.0, marks=0.0, bands=0.0,
)


def alternating(profiles, count, device):
    """One profile for a batch of `count` that takes the cameras of several in turns: numbers become tensors [n, 1, 1, 1]."""
    turn = torch.arange(count, device=device) // 2 % len(profiles)  # in pairs: JPEG takes turns, too
    per_image = lambda values: torch.tensor(values, device=device)[turn].view(-1, 1, 1, 1)
    fields = {}
    for name, first in asdict(profiles[0]).items():
        values = [getattr(profile, name) for profile in profiles]
        fields[name] = tuple(map(per_image, zip(*values))) if isinstance(first, tuple) else per_image(values)
    fields["rescaled"] = sum(profile.rescaled for profile in profiles) / len(profiles)  # of the batch, not of an image
    return Profile(**fields)
