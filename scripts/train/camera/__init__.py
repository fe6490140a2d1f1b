"""A simulated cheap camera: linear radiance in, an 8-bit photo out, everything random and seeded."""

from .development import Photos, develop
from .profile import DEMO, FAIR, PHONE, SCOPE, TAUGHT, TRAIN, VALIDATION, Profile, alternating

__all__ = [
    "DEMO", "FAIR", "PHONE", "SCOPE", "TAUGHT", "TRAIN", "VALIDATION", "Photos", "Profile", "alternating", "develop",
]
