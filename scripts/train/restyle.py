"""Looks that no renderer of ours makes, so that the net does not learn what is peculiar to ours.

Three ways, each for a share of the photos: light that is uneven for no reason in the scene; colours and edges through a random
convolution (Xu et al., "Robust and Generalizable Visual Representation Learning via Random Convolutions", 2021); and the
statistics of early features taken from another photo (Zhou et al., "Domain Generalization with MixStyle", 2021).
"""

import torch
import torch.nn.functional as F

UNEVEN, CONVOLVED, MIXED = 0.3, 0.08, 0.25  # shares of the photos
STRONGEST_LIGHT = 0.7  # standard deviation of the logarithm of uneven light
SPREAD = 0.1  # of the Beta distribution that says how much a photo keeps of its own statistics: mostly all or nothing
OWN = 0.8  # what a photo must keep for its brightness and sharpness to be its own


def chosen(count, share, dice, device):
    return (torch.rand(count, generator=dice, device=device) < share).view(-1, 1, 1, 1)


def uneven_light(linear, dice):
    """Linear radiance [n, 3, h, w] times a smooth field, a little coloured, with 3 to 8 swings over the frame."""
    count, _, height, width = linear.shape
    device = linear.device
    cells = int(torch.randint(3, 9, (1,), generator=dice, device=device))
    grey = torch.randn(count, 1, cells, cells, generator=dice, device=device)
    colour = 0.12 * torch.randn(count, 3, cells, cells, generator=dice, device=device)
    strength = STRONGEST_LIGHT * torch.rand(count, 1, 1, 1, generator=dice, device=device)
    field = F.interpolate(strength * (grey + colour), size=(height, width), mode="bicubic", align_corners=False)
    return torch.where(chosen(count, UNEVEN, dice, device), linear * field.exp(), linear)


def convolve(image, dice):
    """Photos [n, 3, h, w] in 0..1, some blended with themselves through a random convolution of the same mean and contrast.

    Returns the photos and which were changed [n].
    """
    count, channels, height, width = image.shape
    size = (1, 3)[int(torch.randint(2, (1,), generator=dice, device=image.device))]
    kernels = torch.randn(count * channels, channels, size, size, generator=dice, device=image.device)
    strange = F.conv2d(image.reshape(1, -1, height, width), kernels, padding=size // 2, groups=count).view_as(image)
    flat = lambda x: (x.mean((2, 3), keepdim=True), x.std((2, 3), keepdim=True))
    (mean, contrast), (strange_mean, strange_contrast) = flat(image), flat(strange)
    strange = (strange - strange_mean) / (strange_contrast + 1e-4) * contrast + mean
    share = torch.rand(count, 1, 1, 1, generator=dice, device=image.device)
    changed = chosen(count, CONVOLVED, dice, image.device)
    blended = torch.lerp(image, strange, share).clamp(0, 1)
    return torch.where(changed, blended, image), changed.flatten()


class MixStyle:
    """Gives some photos of a batch the means and deviations of another's features after the given modules.

    draw() settles who mixes with whom for the next forward pass; without it nothing is changed.
    """

    def __init__(self, modules):
        self.order = self.own = None
        for module in modules:
            module.register_forward_hook(self.mix)

    def draw(self, count, dice, device):
        """Returns which photos are not themselves afterwards [n]."""
        self.order = torch.randperm(count, generator=dice, device=device)
        gamma = lambda: torch._standard_gamma(torch.full((count, 1, 1, 1), SPREAD, device=device), generator=dice)
        a, b = gamma(), gamma()
        own = torch.where(chosen(count, MIXED, dice, device), a / (a + b).clamp(min=1e-12), torch.ones_like(a))
        self.own = own
        return own.flatten() < OWN

    def mix(self, module, _, features):
        if self.order is None or not module.training:
            return features
        wide = features.float()
        mean = wide.mean((2, 3), keepdim=True).detach()
        deviation = (wide.var((2, 3), keepdim=True) + 1e-6).sqrt().detach()
        new_mean, new_deviation = (torch.lerp(x[self.order], x, self.own) for x in (mean, deviation))
        mixed = ((wide - mean) / deviation * new_deviation + new_mean).to(features.dtype)
        return torch.where(self.own < 1, mixed, features)
