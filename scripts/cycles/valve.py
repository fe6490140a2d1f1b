"""A valve: its shape in millimetres, head downwards at z = 0, stem upwards, and the points of its surface."""

from dataclasses import dataclass

import numpy as np

ROWS, AROUND = (300, 240), 640  # points along the head, along the stem, around
STEM_BEGINS = 1.3  # stem radii: where the head ends


@dataclass
class Valve:
    stem: float  # radius
    head: float  # radius
    fillet: float  # height over which the head narrows to the stem
    bow: float  # exponent of its profile
    length: float
    foot: np.ndarray  # where the middle of the head lies
    lean: np.ndarray  # [3, 3] rotation

    def radius(self, z):
        return self.stem + (self.head - self.stem) * np.clip(1 - z / self.fillet, 0, 1) ** self.bow

    def axis(self):
        return self.lean @ np.array([0.0, 0.0, 1.0])

    def inward(self, points):
        """Distances of points [n, 3] along its axis from the head, and from the axis."""
        own = (points - self.foot) @ self.lean
        return own[:, 2], np.hypot(own[:, 0], own[:, 1])


def draw(dice):
    head = dice.uniform(12.5, 18)
    return Valve(dice.uniform(2.5, 3.5), head, dice.uniform(0.5, 0.95) * head, dice.uniform(1.5, 3.4), dice.uniform(45, 75),
                 np.zeros(3), np.eye(3))


def surface(valve):
    """Points [n, 3] in the valve's own coordinates, their normals, faces [m, 4], and which points are seat face or rim."""
    z = np.concatenate((np.linspace(0, valve.fillet, ROWS[0]), np.linspace(valve.fillet, valve.length, ROWS[1])[1:]))
    edge = np.array([(valve.head + 1.1, -2.2), (valve.head + 1.0, -1.0)])  # rim, and the cone of the seat face above it
    profile = np.concatenate((edge, np.stack((valve.radius(z), z), 1)))
    turn = np.linspace(0, 2 * np.pi, AROUND, endpoint=False)
    radius, height = profile[:, :1], profile[:, 1:]
    points = np.stack((radius * np.cos(turn), radius * np.sin(turn), np.repeat(height, AROUND, 1)), -1).reshape(-1, 3)
    along = np.gradient(profile, axis=0)
    out = np.stack((along[:, 1], -along[:, 0]), 1)
    out /= np.linalg.norm(out, axis=1, keepdims=True)
    normals = np.stack((out[:, :1] * np.cos(turn), out[:, :1] * np.sin(turn), np.repeat(out[:, 1:], AROUND, 1)), -1)
    return points, normals.reshape(-1, 3), grid(len(profile), AROUND), np.repeat(profile[:, 1] < -1e-6, AROUND)


def grid(rows, around):
    """Faces [m, 4] of a tube of so many rows of points."""
    first = np.arange(rows - 1)[:, None] * around + np.arange(around)
    beside = np.arange(rows - 1)[:, None] * around + (np.arange(around) + 1) % around
    return np.stack((first, beside, beside + around, first + around), -1).reshape(-1, 4)
