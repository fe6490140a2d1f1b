"""Blender's side: meshes, lamps, the camera, and the two pictures of a scene, light and truth."""

from pathlib import Path

import bpy
import numpy as np
from mathutils import Vector

WIDTH, HEIGHT = 400, 320
SAMPLES, BOUNCES = 7, 3  # paths a pixel and bounces of light, on the processor
CARD_SAMPLES, CARD_BOUNCES = 24, 5  # and on a card
TINT = 0.1  # deviation of the colours of a lamp
POWER = 4000  # of a lamp in W; the length unit is a millimetre, so it says nothing but the scale of the radiance


def begin(card):
    """An empty scene for Cycles, on the processor or the NVIDIA `card`s there are."""
    bpy.ops.wm.read_factory_settings(use_empty=True)
    scene = bpy.context.scene
    scene.render.engine = "CYCLES"
    scene.render.use_persistent_data = True  # truth and light are of the same meshes
    scene.render.resolution_x, scene.render.resolution_y = WIDTH, HEIGHT
    scene.render.image_settings.file_format, scene.render.image_settings.color_depth = "OPEN_EXR", "32"
    scene.render.film_transparent = True  # what is behind the valve in the hand is put there afterwards
    scene.view_settings.view_transform = "Raw"
    scene.cycles.samples, scene.cycles.max_bounces = (CARD_SAMPLES, CARD_BOUNCES) if card else (SAMPLES, BOUNCES)
    scene.cycles.use_denoising = False
    scene.cycles.sample_clamp_indirect, scene.cycles.light_sampling_threshold = 5, 0  # little light counts too, deep in a port
    scene.world = bpy.data.worlds.new("outside")
    scene.world.use_nodes = True
    if card:
        known = bpy.context.preferences.addons["cycles"].preferences
        known.compute_device_type, scene.cycles.device = "CUDA", "GPU"
        known.get_devices()
        for device in known.devices:
            device.use = device.type == "CUDA"


def mesh(name, points, faces, **attributes):
    """An object of points [n, 3] and faces [m, 3 or 4]; attributes have a number for each point."""
    made, corners = bpy.data.meshes.new(name), faces.shape[1]
    made.vertices.add(len(points))
    made.vertices.foreach_set("co", points.astype("f4").ravel())
    made.loops.add(faces.size)
    made.loops.foreach_set("vertex_index", faces.astype("i4").ravel())
    made.polygons.add(len(faces))
    made.polygons.foreach_set("loop_start", np.arange(0, faces.size, corners, dtype="i4"))
    made.polygons.foreach_set("loop_total", np.full(len(faces), corners, "i4"))
    made.polygons.foreach_set("use_smooth", np.ones(len(faces), bool))
    made.update(calc_edges=True)
    for attribute, values in attributes.items():
        made.attributes.new(attribute, "FLOAT", "POINT").data.foreach_set("value", values.astype("f4"))
    made.materials.append(None)
    bpy.context.scene.collection.objects.link(bpy.data.objects.new(name, made))


def things():
    return [thing for thing in bpy.context.scene.objects if thing.type == "MESH"]


def dress(material):
    """Gives each mesh the material(its name)."""
    for thing in things():
        thing.data.materials[0] = material(thing.name)


def clear():
    """Takes away camera and lamps."""
    for thing in list(bpy.context.scene.objects):
        if thing.type != "MESH":
            bpy.data.objects.remove(thing)


def camera(dice, place, target, angle, sharp):
    """Looks from `place` at `target`, turned at random; `angle` across in radians, `sharp` the f-number for sizes in mm."""
    made = bpy.data.objects.new("camera", bpy.data.cameras.new("camera"))
    bpy.context.scene.collection.objects.link(made)
    bpy.context.scene.camera = made
    sight = Vector(target - place)
    made.location = place
    made.rotation_euler = sight.to_track_quat("-Z", "Y").to_euler()
    made.rotation_euler.rotate_axis("Z", dice.uniform(-np.pi, np.pi))
    made.data.angle, made.data.clip_start = angle, 0.1
    made.data.dof.use_dof, made.data.dof.focus_distance = True, sight.length * dice.uniform(0.8, 1.15)
    made.data.dof.aperture_fstop = sharp
    bpy.context.view_layer.update()
    return made


def lamps(dice, eye, aside, count, strength=1.0):
    """`count` lamps around the lens, `aside` mm from it, shining where it looks."""
    for k in range(count):
        light = bpy.data.lights.new("lamp", "SPOT")
        light.energy = POWER * strength * dice.uniform(0.5, 1.5)
        light.spot_size, light.spot_blend = dice.uniform(1.2, 2.6), 0.7
        light.color = np.clip(1 + dice.normal(0, TINT, 3), 0.3, 1.7)
        light.shadow_soft_size = dice.uniform(0.2, 1.0) * max(1, aside / 4)
        made = bpy.data.objects.new("lamp", light)
        bpy.context.scene.collection.objects.link(made)
        turn = 2 * np.pi * k / count + dice.uniform(0, 1)
        made.location = eye.matrix_world @ Vector((aside * np.cos(turn), aside * np.sin(turn), 0.2))
        made.rotation_euler = eye.rotation_euler


def surroundings(level):
    bpy.context.scene.world.node_tree.nodes["Background"].inputs["Strength"].default_value = level


def light(folder):
    """The picture [h, w, 4], linear, with how much of each pixel is covered."""
    cycles = bpy.context.scene.cycles
    cycles.pixel_filter_type, cycles.filter_width = "BLACKMAN_HARRIS", 1.5
    return render(Path(folder) / "light.exr", 4)


def truth(folder, shader):
    """What shader(name of the object) shines [h, w, 3], without blur; afterwards the scene is as before."""
    scene = bpy.context.scene
    looks = {thing.name: thing.data.materials[0] for thing in things()}
    dress(shader)
    scene.camera.data.dof.use_dof = False
    samples, scene.cycles.samples = scene.cycles.samples, 1
    scene.cycles.pixel_filter_type, scene.cycles.filter_width = "BOX", 0.01
    seen = render(Path(folder) / "truth.exr", 3)
    dress(looks.get)
    scene.camera.data.dof.use_dof, scene.cycles.samples = True, samples
    return seen


def render(path, channels):
    bpy.context.scene.render.filepath = str(path)
    bpy.ops.render.render(write_still=True)
    image = bpy.data.images.load(str(path))
    image.colorspace_settings.name = "Raw"
    values = np.array(image.pixels[:], dtype="f4").reshape(HEIGHT, WIDTH, -1)[::-1, :, :channels]
    bpy.data.images.remove(image)
    return values
