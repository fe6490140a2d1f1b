"""Writes the net for OpenCV: net.onnx, and one golden photo with its outputs for the tests.

    python3 export.py --checkpoint net.pt --out DIR

golden.png is the input (320x256, RGB); golden.f32 holds `maps` and then `frame` as little-endian float32, computed by the training
framework from golden.png / 255.
"""

import argparse
import inspect
from pathlib import Path

import torch
from PIL import Image

from frames import HEIGHT, WIDTH
from finder_net import Finder
from net import Net, folded

TOLERANCE = 1e-4


def save_checkpoint(path, net):
    """Weights and channels; float32, so that training can go on from it."""
    weights = {name: value.cpu().contiguous() for name, value in net.state_dict().items()}
    torch.save({"kind": type(net).__name__, "net": weights, "channels": net.channels}, path)


def load_checkpoint(path, name=None):
    """The net of a checkpoint, in evaluation mode; of a file that holds several, the one of this name.

    A net of fewer outputs keeps those that it has; the new ones begin anew.
    """
    stored = torch.load(path, map_location="cpu")
    if name in stored:
        stored = stored[name]
    net = {"Net": Net, "Finder": Finder}[stored.get("kind", "Net")](stored["channels"])
    fresh = net.state_dict()
    for name, value in stored["net"].items():
        if value.shape != fresh[name].shape:
            fresh[name][: len(value)] = value
            stored["net"][name] = fresh[name]
    net.load_state_dict(stored["net"])
    return net.eval()


def golden_photo():
    """A fixed test input [1, 3, 256, 320] in whole 8-bit steps: a shaded ball, rings and ramps; no scene is needed."""
    y = torch.linspace(-1, 1, HEIGHT).view(-1, 1)
    x = torch.linspace(-1, 1, WIDTH).view(1, -1)
    radius = ((x * WIDTH / HEIGHT) ** 2 + y**2).sqrt()
    ball = (1 - radius).clamp(0, 1)
    rings = 0.5 + 0.5 * torch.sin(40 * radius)
    photo = torch.stack([0.2 + 0.6 * ball, 0.3 * rings + 0.5 * ball, (x + 1) / 2 * 0.5 + (y + 1) / 8])
    return (photo.clamp(0, 1) * 255).round()[None] / 255


def write(net, out):
    """Folds batch norm, exports, compares with onnxruntime, writes the golden pair."""
    net = folded(net.cpu().float()).to(memory_format=torch.contiguous_format)
    photo = golden_photo()
    with torch.no_grad():
        maps, frame = net(photo)
    path = Path(out) / "net.onnx"
    # The exporter by tracing writes the plain operators that OpenCV 4.6 reads; newer frameworks must be told.
    tracing = {"dynamo": False} if "dynamo" in inspect.signature(torch.onnx.export).parameters else {}
    torch.onnx.export(
        net, (photo,), str(path), opset_version=13, input_names=["photo"], output_names=["maps", "frame"], **tracing
    )
    pixels = (photo[0] * 255).round().byte().permute(1, 2, 0).contiguous().numpy()
    Image.fromarray(pixels).save(Path(out) / "golden.png")
    torch.cat((maps.flatten(), frame.flatten())).numpy().astype("<f4").tofile(Path(out) / "golden.f32")
    compare(path, photo, maps, frame)
    print(f"{path}: {path.stat().st_size} bytes")


def compare(path, photo, maps, frame):
    """The exported file must answer as the framework does, run by a second implementation."""
    try:
        import onnxruntime
    except ImportError:
        print(f"{path}: not compared, onnxruntime is missing; check_opencv.py compares too")
        return
    session = onnxruntime.InferenceSession(str(path), providers=["CPUExecutionProvider"])
    answers = session.run(["maps", "frame"], {"photo": photo.numpy()})
    worst = max(abs(answer - truth.numpy()).max() for answer, truth in zip(answers, (maps, frame)))
    if not worst < TOLERANCE:
        raise RuntimeError(f"{path}: onnxruntime differs from the framework by {worst}")
    print(f"{path}: onnxruntime agrees to {worst:.1e}")


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--checkpoint", required=True)
    parser.add_argument("--net", help="which one of a checkpoint that holds several")
    parser.add_argument("--out", type=Path, required=True)
    chosen = parser.parse_args()
    chosen.out.mkdir(parents=True, exist_ok=True)
    write(load_checkpoint(chosen.checkpoint, chosen.net), chosen.out)


if __name__ == "__main__":
    main()
