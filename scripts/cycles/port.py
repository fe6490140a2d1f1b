"""The port: what is hollow in the metal of the head, as a distance field on a grid, and its surface by marching cubes.

Lorensen & Cline, "Marching Cubes", 1987, as scikit-image has it.
"""

from dataclasses import dataclass

import numpy as np
from scipy.spatial import cKDTree
from skimage.measure import marching_cubes

import noise

STEP = 1.1  # mm between points of the grid
WALL = 6  # mm of metal around what is hollow


@dataclass
class Port:
    path: np.ndarray  # [n, 3] middle of the runner, from above the valves outwards
    radius: float  # of the runner
    wide: float  # how much wider than high it is
    guide: float  # height above the seats where the bosses of the guides end
    boss: float  # their radius, in radii of the stem


def draw(dice, valves):
    """A runner that leaves the valves upwards and bends away to one side."""
    reach = max(abs(valve.foot[0]) + valve.head for valve in valves)
    radius = max(valve.head for valve in valves) * dice.uniform(1.0, 1.2)
    bend, early, length = dice.uniform(0.6, 1.3), dice.uniform(0, 0.8), dice.uniform(55, 110)
    t = np.linspace(0, 1, 60)[:, None]
    turn = bend * np.minimum(1, early + 1.6 * t)  # the earlier it turns aside, the nearer the roof in which the stems end
    steps = np.concatenate((np.zeros_like(t), np.sin(turn), np.cos(turn)), 1) * length / len(t)
    path = np.array([0, 0, dice.uniform(5, 12)]) + steps.cumsum(0)
    return Port(path, radius, max(1.0, (reach + 1.5) / radius), dice.uniform(14, 45), dice.uniform(1.4, 2.6))


def inside(port, valves, points):
    """Distance [n] in mm to the wall, about: below 0 in the hollow."""
    squeeze = np.array([1 / port.wide, 1, 1], "f4")
    nearest, _ = cKDTree(port.path[::3] * squeeze).query(points * squeeze)
    hollow = nearest - port.radius
    for valve in valves:  # the throat above each seat
        z, r = valve.inward(points)
        throat = np.maximum(r - (valve.head + 0.9), np.maximum(-3 - z, z - 14))
        hollow = blend(hollow, throat, 3)
    for valve in valves:  # the boss of the guide
        z, r = valve.inward(points)
        boss = np.maximum(r - port.boss * valve.stem, port.guide - z)
        hollow = -blend(-hollow, boss, 2)
    return hollow


def blend(a, b, width):
    """The smaller of two, with a rounded edge."""
    h = np.clip(0.5 + 0.5 * (b - a) / width, 0, 1)
    return b + (a - b) * h - width * h * (1 - h)


def surface(dice, port, valves, mouth):
    """Points, triangles of the wall; with a `mouth` the runner ends in a flat flange there, else it goes on out of sight."""
    ends = np.concatenate((port.path, [valve.foot - (0, 0, 4) for valve in valves]))
    room = (port.radius + WALL) * np.array([port.wide, 1, 1])
    low, high = ends.min(0) - room, ends.max(0) + room
    axes = [np.arange(a, b, STEP) for a, b in zip(low, high)]
    points = np.stack(np.meshgrid(*axes, indexing="ij"), -1).reshape(-1, 3).astype("f4")
    metal = -inside(port, valves, points)
    out = port.path[-1] - port.path[-2]
    out /= np.linalg.norm(out)
    beyond = (points - port.path[-1]) @ out + port.radius
    solid = -blend(-metal, -(beyond if mouth else beyond - 2 * port.radius), 1.5)
    vertices, faces, normals, _ = marching_cubes(solid.reshape([len(axis) for axis in axes]), 0, spacing=(STEP,) * 3)
    vertices = vertices + low
    middle = port.path[-1] - port.radius * out
    flange = np.abs((vertices - middle) @ out) < 0.2 * STEP
    rough = noise.between(dice, 0.02, 0.4) * noise.waves(dice, vertices, dice.uniform(4, 20), 3) * ~flange
    return vertices + normals * rough[:, None], faces, flange, middle, out


def plate(dice, port, out):
    """Points [8, 3] and faces [6, 4] of a thin sheet from the mouth inwards that parts the port above from below."""
    half, deep, thick = port.radius * port.wide * 1.2, dice.uniform(8, 35), dice.uniform(0.4, 1.2)
    up = np.cross(out, (1.0, 0, 0))
    at = port.path[-1] - port.radius * out + up * dice.uniform(-0.4, 0.4) * port.radius - out * dice.uniform(0.5, 4)
    corners = np.array([(x, y, z) for x in (-half, half) for y in (0, -deep) for z in (-thick / 2, thick / 2)])
    points = at + corners[:, :1] * (1, 0, 0) + corners[:, 1:2] * out + corners[:, 2:] * up
    return points, np.array([(0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3)])
