"""A simulated cheap camera: linear radiance in, an 8-bit photo out, everything random and seeded."""

from .development import Photos, develop
from .profile import DEMO, TRAIN, VALIDATION, Profile

__all__ = ["DEMO", "TRAIN", "VALIDATION", "Photos", "Profile", "develop"]
