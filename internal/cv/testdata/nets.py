"""Writes the tiny nets of the tests (Debian's python3-onnx):  /usr/bin/python3 nets.py

Input `image` is 1x2x4x6. Outputs: `double` = 2 * image, `sums` = the sum of each plane.
good.onnx loads; relu6.onnx is valid ONNX that OpenCV 4.6 refuses (Clip with its limits as inputs).
"""

from pathlib import Path

import numpy
import onnx
from onnx import TensorProto, helper, numpy_helper

HERE = Path(__file__).parent
SHAPE = [1, 2, 4, 6]


def save(name, nodes, constants):
    graph = helper.make_graph(
        nodes,
        "tiny",
        [helper.make_tensor_value_info("image", TensorProto.FLOAT, SHAPE)],
        [
            helper.make_tensor_value_info("double", TensorProto.FLOAT, SHAPE),
            helper.make_tensor_value_info("sums", TensorProto.FLOAT, [1, 2]),
        ],
        [numpy_helper.from_array(numpy.array(value, dtype="float32"), key) for key, value in constants.items()],
    )
    model = helper.make_model(graph, opset_imports=[helper.make_opsetid("", 13)], producer_name="valvegrade")
    model.ir_version = 7
    onnx.checker.check_model(model)
    onnx.save(model, HERE / name)


def conv(weights, out):
    return helper.make_node("Conv", ["image", weights], [out], kernel_shape=[1, 1])


def main():
    twice = {"twice": (2 * numpy.eye(2)).reshape(2, 2, 1, 1)}
    mean = helper.make_node("GlobalAveragePool", ["image"], ["mean"])
    flat = helper.make_node("Flatten", ["mean"], ["flat"])
    area = {"area": numpy.eye(2) * 24}
    sums = helper.make_node("Gemm", ["flat", "area"], ["sums"])
    save("good.onnx", [conv("twice", "double"), mean, flat, sums], twice | area)
    clip = helper.make_node("Clip", ["wide", "low", "high"], ["double"])
    save("relu6.onnx", [conv("twice", "wide"), clip, mean, flat, sums], twice | area | {"low": 0.0, "high": 6.0})


main()
