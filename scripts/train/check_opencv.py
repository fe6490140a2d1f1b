"""Runs net.onnx with OpenCV's dnn and compares with the golden outputs of the training framework.

    python3 check_opencv.py DIR      # DIR holds net.onnx, golden.png, golden.f32; needs python3-opencv
"""

import sys
import time
from pathlib import Path

import cv2
import numpy

TOLERANCE = 1e-4
MAPS = ((1, 6, 128, 160), (1, 6, 64, 80))  # reader, finder


def main(folder):
    cv2.setNumThreads(1)
    net = cv2.dnn.readNetFromONNX(str(folder / "net.onnx"))
    photo = cv2.imread(str(folder / "golden.png"), cv2.IMREAD_COLOR)
    golden = numpy.fromfile(folder / "golden.f32", "<f4")
    blob = cv2.dnn.blobFromImage(photo, 1 / 255, swapRB=True)
    times = []
    for _ in range(8):
        start = time.perf_counter()
        net.setInput(blob)
        maps, frame = net.forward(["maps", "frame"])
        times.append(1000 * (time.perf_counter() - start))
    worst = max(numpy.abs(numpy.concatenate((maps.ravel(), frame.ravel())) - golden))
    print(f"OpenCV {cv2.__version__}: worst difference {worst:.1e}, first {times[0]:.0f} ms, later {min(times[1:]):.0f} ms")
    if maps.shape not in MAPS or not worst < TOLERANCE:
        sys.exit(f"differs from the golden outputs: shape {maps.shape}, {worst}")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
