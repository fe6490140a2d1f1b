"""Tables on the device, copied there once: every copy during training would make the GPU wait for the CPU."""

from functools import lru_cache

import torch


@lru_cache(maxsize=None)
def constant(values, device, kind=torch.float32):
    """A tensor of nested tuples; callers must not change it."""
    return torch.tensor(values, dtype=kind, device=device)
