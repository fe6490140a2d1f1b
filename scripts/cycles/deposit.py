"""What lies on a valve: thickness of the crust in millimetres, with and without its fine relief, and film."""

import numpy as np

import noise

MEDIUM = 0.05  # mm of crust
HEAVY = 0.08  # stem diameters of crust
BARE = 0.22  # share of the valves without any


def draw(dice, valve, points, normals, edge):
    """(body, relief, film) for points [n, 3]: crust without relief, crust with it, film 0..1. `edge` marks the seat face, which stays clean."""
    nothing = np.zeros(len(points))
    film = films(dice, points) * (dice.random() < 0.5) * ~edge
    if dice.random() < BARE:
        return nothing, nothing, film
    body, relief = kind(dice)(dice, valve, points, where(dice, valve, points, normals))
    return body * ~edge, np.clip(relief, 0, None) * ~edge, film


def where(dice, valve, points, normals):
    """[n] rising with the likelihood of crust: blotches, more on the head, the fillet or the stem, and on one side."""
    height = np.clip(points[:, 2] / valve.fillet, 0, 2)
    side = np.cos(np.arctan2(points[:, 1], points[:, 0]) - dice.uniform(-np.pi, np.pi))
    drawn = points * (1, 1, dice.choice((0.25, 1, 1)))
    return (
        noise.waves(dice, drawn, dice.uniform(6, 24), gain=dice.uniform(0.4, 0.7))
        + dice.normal(0, 0.8) * (1 - height) + dice.normal(0, 0.6) * side + dice.normal(0.3, 1.2)
    )


def soft(value, width):
    return 1 / (1 + np.exp(-np.clip(value / width, -30, 30)))


def patches(dice, valve, points, place):
    """Crust in blotches with slopes, grainy."""
    body = thickness(dice, valve) * soft(place, dice.uniform(0.05, 1.5))
    body = np.where(body > 0.03, body, 0)
    return body, body * (1 + dice.uniform(0.1, 0.5) * noise.waves(dice, points, dice.uniform(0.5, 2.5), 5, 0.65))


def lumps(dice, valve, points, place):
    """Cauliflower: bulges side by side, each as high as it is wide."""
    size = dice.uniform(0.6, 2.4)
    near, _, _ = noise.cells(dice, points, size)
    body = thickness(dice, valve) * soft(place, dice.uniform(0.1, 0.4))
    body = np.where(body > 0.03, body, 0)
    bulge = np.sqrt(np.clip(1 - near**2, 0, 1)) - 0.6
    return body, body * (1 + dice.uniform(0.3, 0.9) * bulge + 0.1 * noise.waves(dice, points, 0.6, 3))


def crags(dice, valve, points, place):
    """Thick, as if baked on in layers: ridges over ridges, least towards the rim."""
    upwards = np.clip(0.3 + points[:, 2] / (dice.uniform(0.3, 1.5) * valve.fillet), 0, 1)
    body = thickness(dice, valve, least=HEAVY * valve.stem) * soft(place + dice.uniform(0, 1.5), 0.6) * upwards
    body = np.where(body > 0.03, body, 0)
    ridges = 1 - np.abs(noise.waves(dice, points, dice.uniform(2, 6), 5, 0.6))
    return body, body * (1 + dice.uniform(0.3, 0.8) * ridges)


def even(dice, valve, points, place):
    """One thickness, hardly any relief, that covers everything or ends at an edge."""
    body = thickness(dice, valve) * (place > dice.choice((-9, 0)))
    return body, body * (1 + dice.uniform(0.01, 0.12) * noise.waves(dice, points, dice.uniform(0.4, 3), 4))


def flakes(dice, valve, points, place):
    """Plates with cracks between them, some of them gone."""
    near, next_, which = noise.cells(dice, points, dice.uniform(0.8, 3.5))
    gone = dice.random(int(which.max()) + 1) < dice.uniform(0, 0.6)
    body = thickness(dice, valve) * ((place + dice.normal(0, 0.3, int(which.max()) + 1)[which]) > 0) * ~gone[which]
    crack = np.clip((next_ - near) / dice.uniform(0.05, 0.2), 0, 1)
    return body, body * (0.3 + 0.7 * crack) * (1 + 0.15 * noise.waves(dice, points, 1.0, 4))


def kind(dice):
    return dice.choice((patches, patches, lumps, crags, even, even, flakes))


def thickness(dice, valve, least=1.2 * MEDIUM):
    """From `least`, just crust unless given, to three times heavy, in mm."""
    return noise.between(dice, least, 6 * HEAVY * valve.stem)


def films(dice, points):
    return np.clip(0.5 + dice.uniform(0.4, 3) * (noise.waves(dice, points, dice.uniform(5, 25)) + dice.normal(0, 1)), 0, 1)


def classes(body, film, stem_diameter):
    """0 bare, 1 film, 2 medium, 3 heavy, of any shape."""
    crust = np.where(body > HEAVY * stem_diameter, 3, 2)
    return np.where(body > MEDIUM, crust, np.where(film > 0.5, 1, 0)).astype(np.uint8)
