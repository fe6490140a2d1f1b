"""What things are made of: shaders of Blender, drawn at random."""

import bpy

from noise import between


class Shader:
    """A material in the making: nodes, and their links."""

    def __init__(self, name):
        self.material = bpy.data.materials.new(name)
        self.material.use_nodes = True
        self.tree = self.material.node_tree
        self.tree.nodes.clear()

    def node(self, kind, links=None, **values):
        """A node of `kind`; `links` from an input to an output, `values` of inputs, or of properties for names in lower case."""
        made = self.tree.nodes.new("ShaderNode" + kind)
        for name, value in values.items():
            if hasattr(made, name):
                setattr(made, name, value)
            elif name.isdigit():
                made.inputs[int(name)].default_value = value
            else:
                made.inputs[name.replace("_", " ")].default_value = value
        for name, output in (links or {}).items():
            self.tree.links.new(output, made.inputs[name])
        return made

    def finish(self, output):
        self.node("OutputMaterial", {"Surface": output})
        return self.material

    def attribute(self, name):
        return self.node("Attribute", attribute_name=name).outputs["Fac"]

    def mix(self, share, first, second):
        return self.node("MixShader", {0: share, 1: first, 2: second}).outputs[0]

    def bumps(self, dice, length, depth):
        """A normal of fine relief; both in mm."""
        place = self.node("TexCoord").outputs["Object"]
        height = self.node("TexNoise", {"Vector": place}, Scale=1 / length, Detail=8.0, Roughness=dice.uniform(0.4, 0.75))
        return self.node("Bump", {"Height": height.outputs["Fac"]}, Strength=1.0, Distance=depth).outputs["Normal"]

    def flecks(self, length, share):
        """1 on this share of grains of this size in mm, else 0."""
        place = self.node("TexCoord").outputs["Object"]
        grains = self.node("TexVoronoi", {"Vector": place}, Scale=1 / length).outputs["Color"]
        drawn = self.node("SeparateXYZ", {"Vector": grains}).outputs["X"]
        return self.node("Math", {0: drawn}, operation="GREATER_THAN", **{"1": 1 - share}).outputs[0]

    def patchy(self, length, low, high):
        """A number between low and high that changes over this length."""
        place = self.node("TexCoord").outputs["Object"]
        field = self.node("TexNoise", {"Vector": place}, Scale=1 / length, Detail=5.0).outputs["Fac"]
        spread = self.node("MapRange", {"Value": field})
        for name, value in (("From Min", 0.3), ("From Max", 0.7), ("To Min", low), ("To Max", high)):
            spread.inputs[name].default_value = value
        return spread.outputs[0]

    def surface(self, colour, normal=None, roughness=None, **values):
        links = {name: output for name, output in (("Normal", normal), ("Roughness", roughness)) if output}
        return self.node("BsdfPrincipled", links, Base_Color=(*colour, 1), **values).outputs[0]


def tinted(dice, level, warm):
    """A grey of this reflectance, more or less warm, seldom cold."""
    warm = dice.uniform(-0.15, 1) * warm
    return level, level * (1 - 0.4 * warm), level * (1 - 0.75 * warm)


METALS = {  # reflectance, warmth, roughness, how much of it is metal
    "polished": ((0.5, 0.8), 0.1, (0.12, 0.3), 1),
    "turned": ((0.4, 0.7), 0.2, (0.2, 0.45), 1),
    "dull": ((0.2, 0.4), 0.2, (0.45, 0.75), 0.9),
    "nitrided": ((0.06, 0.2), 0.25, (0.15, 0.7), 0.8),
    "blasted": ((0.35, 0.6), 0.1, (0.7, 0.95), 0.7),
    "tinted by heat": ((0.25, 0.5), 0.8, (0.2, 0.5), 1),
}


DARK_METALS = ["dull", "nitrided"]  # drawn twice as often, for they are taken for crust


def of_valve(dice):
    """Crust and film over metal by the attributes `thick` (mm) and `film` of the mesh."""
    name = dice.choice(list(METALS) + DARK_METALS)
    level, warm, rough, metallic = METALS[name]
    s = Shader("valve")
    colour, stain = tinted(dice, dice.uniform(*level), warm), tinted(dice, between(dice, 0.2, 0.8), 1)
    normal = s.bumps(dice, dice.uniform(0.1, 0.5), dice.uniform(0, 0.02))
    roughness = s.patchy(dice.uniform(2, 12), dice.uniform(*rough), dice.uniform(*rough))
    turned = dice.uniform(0, 0.9) * (name in ("polished", "turned"))
    metal = s.surface(colour, normal, roughness, Metallic=metallic, Anisotropic=turned)
    film = s.surface(tuple(a * b for a, b in zip(colour, stain)), normal, roughness, Metallic=metallic)  # metal seen through a tint
    return s.finish(s.mix(crusted(dice, s), s.mix(s.attribute("film"), metal, film), crust(dice, s)))


def crusted(dice, s):
    """0 on metal, 1 where crust has some thickness."""
    return s.node("MapRange", {"Value": s.attribute("thick")}, clamp=True, From_Min=0.01, From_Max=between(dice, 0.03, 0.1)).outputs[0]


def crust(dice, s):
    """Soot, ash, tar: dark to grey, brown to black, dry or wet."""
    level, warm = between(dice, 0.008, 0.1), dice.choice((0.05, 0.3, 1))
    grain = between(dice, 0.1, 1.2)
    normal = s.bumps(dice, grain, grain * between(dice, 0.06, 0.4))  # without any grain, a pale even coat is metal to every eye
    wet = dice.random() < 0.3
    rough = (0.08, 0.35) if wet else (0.4, 1)
    dark = s.surface(tinted(dice, level, warm), normal, Roughness=dice.uniform(*rough), Specular=dice.uniform(0.1, 0.6))
    pale = s.surface(
        tinted(dice, min(0.25, level * between(dice, 1, 3.5)), dice.choice((0.05, 0.6))), normal,
        Roughness=dice.uniform(*rough), Specular=dice.uniform(0.1, 0.5),
    )
    mixed = s.mix(s.patchy(between(dice, 1, 12), 0, 1), dark, pale)
    return glinting(dice, s, mixed) if dice.random() < 0.3 else mixed


def glinting(dice, s, ground):
    """Grains that shine: grit, ash, blasting media."""
    glint = s.surface(tinted(dice, dice.uniform(0.3, 0.9), 0.4), Metallic=0.6, Roughness=dice.uniform(0.15, 0.5))
    return s.mix(s.flecks(between(dice, 0.04, 0.25), between(dice, 0.003, 0.06)), ground, glint)


def of_wall(dice):
    """Cast metal, more or less sooty, matte or sparkling, and the flange where the attribute `flange` is 1."""
    level = between(dice, 0.015, 0.08) if dice.random() < 0.5 else between(dice, 0.08, 0.45)
    s = Shader("wall")
    metallic = dice.choice((0, 0.3, 0.9), p=(0.6, 0.25, 0.15))
    grain = between(dice, 0.15, 2.5)
    normal = s.bumps(dice, grain, grain * between(dice, 0.01, 0.25))
    rough = s.patchy(dice.uniform(2, 15), dice.uniform(0.3, 0.9), dice.uniform(0.3, 0.9))
    clean = s.surface(tinted(dice, level, dice.choice((0.1, 0.5))), normal, rough, Metallic=metallic)
    soiled = s.surface(tinted(dice, level * dice.uniform(0.2, 1), 0.6), normal, Roughness=dice.uniform(0.3, 0.9))
    wall = s.mix(s.patchy(dice.uniform(4, 30), 0, 1), clean, soiled)
    wall = glinting(dice, s, wall) if dice.random() < 0.3 else wall
    return s.finish(s.mix(s.attribute("flange"), wall, of_flange(dice, s)))


def of_flange(dice, s):
    """Machined metal with stains, rust and what a seal has left."""
    normal = s.bumps(dice, dice.uniform(0.1, 1), dice.uniform(0, 0.05))
    metal = s.surface(tinted(dice, dice.uniform(0.3, 0.8), 0.2), normal, Metallic=1, Roughness=dice.uniform(0.2, 0.6))
    stain = s.surface(any_colour(dice), normal, Roughness=dice.uniform(0.3, 0.9))
    other = s.surface(any_colour(dice), normal, Roughness=dice.uniform(0.3, 0.9))
    stained = s.mix(s.patchy(between(dice, 2, 20), dice.uniform(-1, 1), 1), metal, stain)
    return s.mix(s.patchy(between(dice, 1, 10), dice.uniform(-2, 0), 1), stained, other)


def any_colour(dice):
    """Mostly greys and browns."""
    level = between(dice, 0.03, 0.5)
    return tuple(level * dice.uniform(0.3, 1, 3)) if dice.random() < 0.25 else tinted(dice, level, 1)


def of_plate(dice):
    """The thin sheet that parts some ports."""
    s = Shader("plate")
    normal = s.bumps(dice, between(dice, 0.2, 2), between(dice, 0.005, 0.1))
    sheet = s.surface(tinted(dice, between(dice, 0.03, 0.5), 0.3), normal, Metallic=dice.choice((0, 0.9)), Roughness=dice.uniform(0.3, 0.8))
    return s.finish(glinting(dice, s, sheet) if dice.random() < 0.5 else sheet)


OF = {"valve": of_valve, "wall": of_wall, "plate": of_plate}


def of_truth(known):
    """Light of its own: red the number of the part, green the body of the crust in mm, blue film; black where nothing is `known`."""
    s = Shader("truth")
    if not known:
        return s.finish(s.node("Emission", Color=(0, 0, 0, 1)).outputs[0])
    colour = s.node("CombineXYZ", {0: s.attribute("part"), 1: s.attribute("body"), 2: s.attribute("film")})
    return s.finish(s.node("Emission", {"Color": colour.outputs[0]}).outputs[0])
