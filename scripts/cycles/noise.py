"""Random numbers, and random fields on points in space: smooth waves, and distances to scattered seeds."""

import numpy as np
from scipy.spatial import cKDTree

WAVES = 14  # in one octave: each costs a cosine for every point


def between(dice, low, high):
    """One number, evenly in the logarithm."""
    return np.exp(dice.uniform(np.log(low), np.log(high)))


def waves(dice, points, length, octaves=5, gain=0.55):
    """[n] of mean 0 and deviation about 1 for points [n, 3]; `length` of the longest waves, each octave half as long."""
    points = points.astype("f4")
    total, strength, power = np.zeros(len(points), "f4"), 1.0, 0.0
    for _ in range(octaves):
        direction = dice.normal(size=(WAVES, 3))
        direction /= np.linalg.norm(direction, axis=1, keepdims=True)
        waves = direction * (2 * np.pi / length) * dice.uniform(0.6, 1.6, (WAVES, 1))
        phase = dice.uniform(0, 2 * np.pi, WAVES)
        total += np.float32(strength * np.sqrt(2 / WAVES)) * np.cos(points @ waves.T.astype("f4") + phase.astype("f4")).sum(1)
        power += strength**2
        strength, length = strength * gain, length / 2
    return total / np.sqrt(power)


def cells(dice, points, size):
    """Of points [n, 3] the distance to the nearest of random seeds, that to the next but one, both in units of the mean size, and
    which seed it is; `size` apart on average near the points."""
    some = points[dice.integers(len(points), size=max(8, min(40000, 4 * len(points) // 3)))]
    near = {tuple(cell): point for cell, point in zip(np.floor(some / size).astype(int), some)}
    seeds = np.array(list(near.values())) + dice.uniform(-0.4, 0.4, (len(near), 3)) * size
    distance, which = cKDTree(seeds).query(points, k=2)
    return distance[:, 0] / size, distance[:, 1] / size, which[:, 0]
