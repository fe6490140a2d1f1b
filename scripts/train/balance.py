"""Moves the limit between medium and heavy so that the index of held-back photos errs least; the net is else unchanged.

    python3 balance.py --checkpoint net.pt --out balanced.pt FOLDER...

FOLDER holds what held_back.py wrote. Training prices many things at once and leaves the net a little greedy for heavy crust; one
number, subtracted from the bias of that step, takes it back. (All three steps searched together gained nothing more on photos that
were not searched.) With several folders each is also measured as moved by a search of the others alone: no test where they share
their seeds.
"""

import argparse
import json
from pathlib import Path

import numpy as np
import torch
from PIL import Image

from export import load_checkpoint, save_checkpoint
from frames import HEIGHT, WIDTH, content_size
from labels import index_of
from loss import hard_steps
from net import REGIONS

MOVES = (-0.5, -0.25, 0.0, 0.25, 0.5, 0.75, 1.0)  # logits; none is among them


def judged(folder):
    """Photos [n, 3, HEIGHT, WIDTH] that can be judged, in their frame, and their true index [n]."""
    photos, index = [], []
    for truth in json.loads((folder / "truth.json").read_text()):
        if truth["judgeable"] is not True or truth["both"] is None:
            continue
        image = Image.open(folder / truth["photo"]).convert("RGB")
        size = content_size(*image.size)
        frame = Image.new("RGB", (WIDTH, HEIGHT))
        frame.paste(image.resize(size, Image.BOX), ((WIDTH - size[0]) // 2, (HEIGHT - size[1]) // 2))
        photos.append(torch.tensor(np.asarray(frame)).permute(2, 0, 1))
        index.append(truth["both"]["index"])
    return torch.stack(photos).float() / 255, torch.tensor(index)


@torch.no_grad()
def answers(net, photos):
    """Logits of the steps [n, 3, h, w] at the net's size and the valve it finds [n, 1, h, w]."""
    maps = torch.cat([net(part)[0] for part in photos.split(16)])
    return maps[:, REGIONS:], (maps[:, :REGIONS].argmax(1, keepdim=True) > 0).float()


def errors(steps, valve, truth):
    """Mean absolute error of the index for each of MOVES."""
    heavy = torch.tensor([0.0, 0.0, 1.0]).view(1, 3, 1, 1)
    return torch.stack([(index_of(hard_steps(steps - move * heavy), valve) - truth).abs().mean() for move in MOVES])


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--checkpoint", required=True)
    parser.add_argument("--out", type=Path, required=True)
    parser.add_argument("folders", type=Path, nargs="+")
    chosen = parser.parse_args()
    net, tables, counts = load_checkpoint(chosen.checkpoint), [], []
    for folder in chosen.folders:
        photos, truth = judged(folder)
        tables.append(errors(*answers(net, photos), truth))
        counts.append(len(truth))
    still, everything = MOVES.index(0.0), range(len(tables))
    mean = lambda which: sum(counts[k] * tables[k] for k in which) / sum(counts[k] for k in which)
    for k in everything if len(tables) > 1 else ():
        best = int(mean([other for other in everything if other != k]).argmin())
        print(f"{chosen.folders[k]}: {counts[k]} photos, index error {tables[k][still]:.2f}, {tables[k][best]:.2f} moved by {MOVES[best]} as the others want")
    best = int(mean(everything).argmin())
    print(f"all: index error {mean(everything)[still]:.2f}, {mean(everything)[best]:.2f} moved by {MOVES[best]}")
    net.maps.bias.data[-1] -= MOVES[best]
    save_checkpoint(chosen.out, net)


if __name__ == "__main__":
    main()
