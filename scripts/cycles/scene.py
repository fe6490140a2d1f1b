"""A scene: what stands where, and from where it is seen."""

import numpy as np

import deposit
import material
import port
import shot
import valve

HAND = 0.12  # share of the scenes that are no port
MOUTH = 0.55  # share of the ports that are seen from outside
EMPTY = 0.06  # share of the ports that have no valve in them
IN_GUIDE = 4  # mm of the stem beyond where its guide begins
NO_HEAD = -1  # in place of film: seat face and rim


def build(dice, card):
    """Builds a scene and returns the valves in it, and what sets up a view of it: new materials, camera and lamps."""
    shot.begin(card)
    if dice.random() < HAND:
        valves, look = in_hand(dice)
    else:
        valves, look = in_port(dice)

    def view():
        shot.clear()
        shot.dress(lambda name: material.OF[name.split()[0]](dice))
        look()

    return valves, view


def in_hand(dice):
    one = valve.draw(dice)
    add_valve(dice, one, 0)
    return [one], lambda: look_at(dice, one)


def in_port(dice):
    valves = row(dice)
    present = valves if dice.random() > EMPTY else []
    runner = port.draw(dice, valves)
    for k, each in enumerate(present):
        each.length = runner.guide + IN_GUIDE
        add_valve(dice, each, k, crusted=runner.guide)
    mouth = dice.random() < MOUTH
    points, faces, flange, middle, out = port.surface(dice, runner, valves, mouth)
    shot.mesh("wall", points, faces, flange=flange & mouth)
    if mouth and dice.random() < 0.3:
        shot.mesh("plate", *port.plate(dice, runner, out))
    return present, lambda: look_into(dice, valves, runner, mouth, middle, out)


def look_at(dice, one):
    """A valve by itself, seen from above the head to a little below it, under a lamp beside the lens and light from all around."""
    turn, up, far = dice.uniform(-np.pi, np.pi), dice.uniform(-0.1, 1.2), dice.uniform(90, 250)
    target = np.array([0, 0, dice.uniform(0, 0.5) * one.length]) + dice.uniform(-0.3, 0.3, 3) * one.head
    place = target + far * np.array([np.cos(turn) * np.cos(up), np.sin(turn) * np.cos(up), np.sin(up)])
    eye = shot.camera(dice, place, target, 2 * np.arctan(dice.uniform(1.1, 3) * one.head / far), dice.uniform(3, 30))
    shot.lamps(dice, eye, dice.uniform(5, 120), dice.integers(1, 4), strength=(far / 30) ** 2)
    shot.surroundings(dice.uniform(0.02, 0.3))


def row(dice):
    """One valve, or two of one kind side by side that lean apart."""
    first = valve.draw(dice)
    if dice.random() < 0.5:
        first.lean = tilt(0, dice.uniform(-0.2, 0.3))
        return [first]
    second = valve.Valve(**vars(first))
    apart, lean = first.head + dice.uniform(1.5, 4), dice.uniform(0, 0.12)
    for each, side in ((first, -1), (second, 1)):
        each.foot, each.lean = np.array([side * apart, 0, 0]), tilt(side * lean, dice.uniform(-0.1, 0.2))
    return [first, second]


def tilt(across, along):
    """Rotation that leans an upright axis by these angles towards x and y."""
    a, b = np.cos(across), np.sin(across)
    c, d = np.cos(along), np.sin(along)
    return np.array([[a, 0, b], [0, 1, 0], [-b, 0, a]]) @ np.array([[1, 0, 0], [0, c, d], [0, -d, c]])


def add_valve(dice, each, number, crusted=np.inf):
    """Stands a valve there with its deposit, of which the guide leaves none above the height `crusted` in mm."""
    points, normals, faces, edge = valve.surface(each)
    clean = edge | (points[:, 2] > crusted)
    body, relief, film = deposit.draw(dice, each, points, normals, clean)
    stem = np.hypot(points[:, 0], points[:, 1]) < valve.STEM_BEGINS * each.stem
    part = 2 * number + 1 + stem
    film = np.where(edge, NO_HEAD, film)
    grown = (points + normals * relief[:, None]) @ each.lean.T + each.foot
    shot.mesh(f"valve {number}", grown, faces, thick=relief, body=body, film=film, part=part)


def look_into(dice, valves, runner, mouth, middle, out):
    """Camera and lamps: from outside through the mouth, or from a place in the runner, towards one of the valves."""
    aim = valves[dice.integers(len(valves))]
    target = aim.foot + aim.lean @ np.array([*dice.uniform(-0.4, 0.4, 2) * aim.head, dice.uniform(0, 0.6) * aim.fillet])
    if mouth:
        if len(valves) > 1 and dice.random() < 0.6:
            target = sum(each.foot for each in valves) / len(valves) + (0, 0, 5)
        place = middle + out * dice.uniform(15, 90) + dice.uniform(-0.5, 0.5, 3) * runner.radius
        across = dice.uniform(0.8, 1.9) * runner.radius  # half of what is seen at the mouth
        eye = shot.camera(dice, place, target, 2 * np.arctan(across / np.linalg.norm(place - middle)), dice.uniform(3, 30))
        shot.lamps(dice, eye, dice.uniform(2, 14), dice.integers(1, 3))
        shot.surroundings(dice.choice((0.0, 0.05, 0.3)))
    else:
        at = runner.path[dice.integers(len(runner.path) // 5, 4 * len(runner.path) // 5)]
        place = at + dice.uniform(-0.55, 0.55, 3) * runner.radius
        eye = shot.camera(dice, place, target, dice.uniform(0.6, 1.4), dice.uniform(20, 200))
        shot.lamps(dice, eye, dice.uniform(1.2, 2.5), dice.integers(1, 7))
        shot.surroundings(0.0)
