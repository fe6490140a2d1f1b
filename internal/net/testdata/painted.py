"""Writes painted.onnx, the net of the tests: it has the shape of the real one and does what anyone can foresee.

    python3 painted.py        # needs python3-onnx and python3-numpy

It reads a painted photo: blue is background, red is head, green is stem (region logits are 8 times the mean of a 2x2
cell), the deposit logits are the plain means of red, green and blue, and a frame of nothing but black is too dark.
"""

from pathlib import Path

import numpy
from onnx import TensorProto, checker, helper, numpy_helper

RED, GREEN, BLUE = 0, 1, 2
# judgeable, dark, bright, blurred, moving, index, index error, overlap
FRAME_BIAS = [3, 3, -3, -3, -3, 0, numpy.log(0.05), 2.2]
DARK = 1


def constant(name, values):
    return numpy_helper.from_array(numpy.asarray(values, numpy.float32), name)


def weights():
    maps = numpy.zeros((6, 3, 2, 2))
    for channel, colour in enumerate((BLUE, RED, GREEN)):
        maps[channel, colour] = 8 / 4
    for channel, colour in enumerate((RED, GREEN, BLUE)):
        maps[3 + channel, colour] = 1 / 4
    frame = numpy.zeros((8, 3, 1, 1))
    frame[DARK] = -20
    return maps, frame


def model():
    maps, frame = weights()
    nodes = [
        helper.make_node("Conv", ["photo", "maps_weight"], ["maps"], kernel_shape=[2, 2], strides=[2, 2]),
        # In two steps: one float32 sum over 81920 pixels would be off in the fourth digit.
        helper.make_node("AveragePool", ["photo"], ["tiles"], kernel_shape=[16, 16], strides=[16, 16]),
        helper.make_node("GlobalAveragePool", ["tiles"], ["mean"]),
        helper.make_node("Conv", ["mean", "frame_weight", "frame_bias"], ["frame_map"], kernel_shape=[1, 1]),
        helper.make_node("Flatten", ["frame_map"], ["frame"], axis=1),
    ]
    info = lambda name, shape: helper.make_tensor_value_info(name, TensorProto.FLOAT, shape)
    graph = helper.make_graph(
        nodes, "painted",
        [info("photo", [1, 3, 256, 320])],
        [info("maps", [1, 6, 128, 160]), info("frame", [1, 8])],
        [constant("maps_weight", maps), constant("frame_weight", frame), constant("frame_bias", FRAME_BIAS)],
    )
    made = helper.make_model(graph, opset_imports=[helper.make_opsetid("", 13)])
    made.ir_version = 7
    checker.check_model(made)
    return made


if __name__ == "__main__":
    Path(__file__).with_name("painted.onnx").write_bytes(model().SerializeToString())
