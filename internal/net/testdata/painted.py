"""Writes the nets of the tests, which have the shapes of the real ones and do what anyone can foresee.

    python3 painted.py        # needs python3-onnx and python3-numpy

painted.onnx, the second look, reads a painted photo: blue is background, red is head, green is stem (region logits are 8 times
the mean of a 2x2 cell), the deposit logits are the plain means of red, green and blue, and a frame of nothing but black is too
dark. one.onnx and two.onnx, first looks, say of every photo that is not black that one valve fills it to four
fifths, so that its window is the frame, or that two do, side by side.
"""

from pathlib import Path

import numpy
from onnx import TensorProto, checker, helper, numpy_helper

RED, GREEN, BLUE = 0, 1, 2
# judgeable, dark, bright, blurred, moving, index, index error, overlap, dark deposit, its error, the grades
FRAME_BIAS = [3, 3, -3, -3, -3, 0, numpy.log(0.05), 2.2, 0, numpy.log(0.04), 0, 0, numpy.log(6), 0, 0]
DARK = 1
UNIT = 32  # pixels in which the first look tells the sides


def constant(name, values):
    return numpy_helper.from_array(numpy.asarray(values, numpy.float32), name)


def info(name, shape):
    return helper.make_tensor_value_info(name, TensorProto.FLOAT, shape)


def frame_nodes(outputs):
    """The frame's values: FRAME_BIAS, or less darkness the lighter the photo is."""
    weight = numpy.zeros((outputs, 3, 1, 1))
    weight[DARK] = -20
    nodes = [
        # In two steps: one float32 sum over 81920 pixels would be off in the fourth digit.
        helper.make_node("AveragePool", ["photo"], ["tiles"], kernel_shape=[16, 16], strides=[16, 16]),
        helper.make_node("GlobalAveragePool", ["tiles"], ["mean"]),
        helper.make_node("Conv", ["mean", "frame_weight", "frame_bias"], ["frame_map"], kernel_shape=[1, 1]),
        helper.make_node("Flatten", ["frame_map"], ["frame"], axis=1),
    ]
    return nodes, [constant("frame_weight", weight), constant("frame_bias", FRAME_BIAS[:outputs])]


def write(name, maps, outputs, nodes, constants):
    """`nodes` may read `mean`, the photo's mean colour."""
    more, weights = frame_nodes(outputs)
    graph = helper.make_graph(
        more + nodes, name, [info("photo", [1, 3, 256, 320])],
        [info("maps", maps), info("frame", [1, outputs])], constants + weights,
    )
    made = helper.make_model(graph, opset_imports=[helper.make_opsetid("", 13)])
    made.ir_version = 7
    checker.check_model(made)
    Path(__file__).with_name(name).write_bytes(made.SerializeToString())


def second_look():
    maps = numpy.zeros((6, 3, 2, 2))
    for channel, colour in enumerate((BLUE, RED, GREEN)):
        maps[channel, colour] = 8 / 4
    for channel, colour in enumerate((RED, GREEN, BLUE)):
        maps[3 + channel, colour] = 1 / 4
    nodes = [helper.make_node("Conv", ["photo", "maps_weight"], ["maps"], kernel_shape=[2, 2], strides=[2, 2])]
    write("painted.onnx", [1, 6, 128, 160], 15, nodes, [constant("maps_weight", maps)])


def first_look(name, boxes):
    """Always tells the same boxes (left, top, right, bottom in pixels of the frame), the first as the surest; none of a black photo."""
    told = numpy.full((1, 6, 64, 80), -9.0)
    for k, (left, top, right, bottom) in enumerate(boxes):
        column, row = int((left + right) / 8), int((top + bottom) / 8)
        x, y = 4 * column + 2, 4 * row + 2
        told[0, 0, row, column] = 3 - k
        told[0, 2:, row, column] = numpy.log(numpy.array([x - left, y - top, right - x, bottom - y]) / UNIT)
    # A black photo lowers every logit by 18, so that no middle is left.
    weight = numpy.zeros((6, 3, 4, 4))
    nodes = [
        helper.make_node("Conv", ["photo", "none"], ["blank"], kernel_shape=[4, 4], strides=[4, 4]),
        helper.make_node("Add", ["blank", "told"], ["seen"]),
        helper.make_node("Conv", ["mean", "lift_weight", "lift_bias"], ["lift"], kernel_shape=[1, 1]),
        helper.make_node("Relu", ["lift"], ["missing"]),
        helper.make_node("Sub", ["seen", "missing"], ["maps"]),
    ]
    lift = numpy.zeros((6, 3, 1, 1))
    lift[0] = -18000
    constants = [
        constant("none", weight), constant("told", told), constant("lift_weight", lift), constant("lift_bias", [18, 0, 0, 0, 0, 0]),
    ]
    write(name, [1, 6, 64, 80], 5, nodes, constants)


if __name__ == "__main__":
    second_look()
    first_look("one.onnx", [(32, 25.6, 288, 230.4)])
    first_look("two.onnx", [(16, 25.6, 144, 230.4), (176, 25.6, 304, 230.4)])
