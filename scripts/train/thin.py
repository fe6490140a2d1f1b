"""A net of fewer channels cut out of a wider one, to be trained on: what costs time goes, most of what was learned stays.

    python3 thin.py --checkpoint net.pt --channels 16,24,56,88,120,160 --photos ../../testdata --out thin.pt

At each level the channels stay whose variation over the photos, times the weights that read them, is largest; encoder and
decoder choose for themselves.
"""

import argparse
from pathlib import Path

import numpy as np
import torch
from PIL import Image

from export import load_checkpoint, save_checkpoint
from frames import HEIGHT, WIDTH
from net import Net


def photographs(folder, count=16):
    """The first JPEG files below a folder [n, 3, HEIGHT, WIDTH]; their aspect does not matter here."""
    paths = sorted(Path(folder).rglob("*.jpg"))[:count]
    pixels = [np.asarray(Image.open(path).convert("RGB").resize((WIDTH, HEIGHT), Image.BOX)) for path in paths]
    return torch.tensor(np.stack(pixels)).permute(0, 3, 1, 2).float() / 255


def variation(net, photos):
    """Standard deviation of each channel that leaves a level: [encoder levels], [decoder levels]."""
    seen = {}
    levels = [net.stem, *net.down], list(net.up)
    for side in levels:
        for module in side:
            module.register_forward_hook(lambda module, _, out: seen.__setitem__(module, out.std((0, 2, 3))))
    with torch.no_grad():
        net(photos)
    return [[seen[module] for module in side] for side in levels]


def reading(weights, inputs):
    """Sum of the squared weights that read each of these input channels."""
    return (weights[:, inputs].flatten(2) ** 2).sum((0, 2))


def chosen_channels(net, channels, photos):
    """Which channels stay: [encoder levels], [decoder levels], sorted index tensors."""
    down, up = variation(net, photos)
    wide, state = net.channels, net.state_dict()
    keep = [], []
    for level, spread in enumerate(down):
        weight = torch.zeros(wide[level])
        if level < len(wide) - 1:
            weight += reading(state[f"down.{level}.0.0.weight"], slice(None))
            weight += reading(state[f"up.{level}.reduce.0.weight"], slice(wide[level + 1], None))
        keep[0].append(best(spread**2 * weight, channels[level]))
    for level, spread in enumerate(up):
        name, inputs = (f"up.{level - 1}.reduce.0.weight", slice(wide[level])) if level else ("maps.weight", slice(None))
        keep[1].append(best(spread**2 * reading(state[name], inputs), channels[level]))
    return keep


def best(score, count):
    if count > len(score):
        raise ValueError(f"{count} channels cannot be cut out of {len(score)}")
    return score.topk(count).indices.sort().values


def inputs_of(name, net, down, up):
    """Input channels that stay for a weight, by the place of its module in Net."""
    wide, place = net.channels, name.split(".")
    if name in ("stem.0.0.weight", "frame.weight", "level.weight"):
        return slice(None)
    if name == "whole.0.weight":
        return torch.cat((down[-1], wide[-1] + up[2], wide[-1] + wide[2] + up[2]))
    if place[0] == "down" and place[2:4] == ["0", "0"]:
        return down[int(place[1])]
    if place[0] == "up" and place[2] == "reduce":
        level = int(place[1])
        coarse = up[level + 1] if level + 1 < len(up) else down[-1]
        return torch.cat((coarse, wide[level + 1] + down[level]))
    if place[0] in ("maps", "attention"):
        return up[0] if place[0] == "maps" else up[2]
    return outputs_of(name, down, up)  # inside a level what comes in goes out


def outputs_of(name, down, up):
    """Output channels that stay, None where all do."""
    place = name.split(".")
    if place[0] in ("maps", "whole", "frame", "level", "attention"):
        return None
    return down[0] if place[0] == "stem" else down[int(place[1]) + 1] if place[0] == "down" else up[int(place[1])]


def thin(net, channels, photos):
    down, up = chosen_channels(net, channels, photos)
    state = {}
    for name, value in net.state_dict().items():
        outputs = outputs_of(name, down, up)
        if outputs is not None and value.dim() > 0:
            value = value[outputs]
        if value.dim() == 4 and value.shape[1] > 1:  # neither a bias, nor a batch norm, nor depthwise
            value = value[:, inputs_of(name, net, down, up)]
        state[name] = value.clone()
    small = Net(channels)
    small.load_state_dict(state)
    return small


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--checkpoint", required=True)
    parser.add_argument("--channels", required=True, type=lambda text: tuple(int(part) for part in text.split(",")))
    parser.add_argument("--photos", required=True)
    parser.add_argument("--out", type=Path, required=True)
    chosen = parser.parse_args()
    save_checkpoint(chosen.out, thin(load_checkpoint(chosen.checkpoint), chosen.channels, photographs(chosen.photos)))


if __name__ == "__main__":
    main()
