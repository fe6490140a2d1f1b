"""Moves the limit between bare and film so that index and coverage of held-back photos err least; the net is else unchanged.

    python3 balance.py --net DIR --out DIR FOLDER...

The folders of --net and --out hold net.pt and card.json; each FOLDER what held_back.py wrote. Training prices many things at once, and
coverage, which hangs on the film alone, is not among them; one number, subtracted from the bias of that step, makes up for it. With
several folders each is also measured as moved by a search of the others alone: no test where they share their seeds.
"""

import argparse
import json
from pathlib import Path

import numpy as np
import torch
from PIL import Image

from export import load_checkpoint, save_checkpoint
from frames import HEIGHT, WIDTH, content_size
from labels import index_of, mean_over
from loss import hard_steps
from net import REGIONS

MOVES = (-0.5, -0.25, 0.0, 0.25, 0.5, 0.75, 1.0)  # logits; none is among them
FILM = torch.tensor([1.0, 0.0, 0.0]).view(1, 3, 1, 1)


def judged(folder):
    """Photos [n, 3, HEIGHT, WIDTH] that can be judged, in their frame, and their true index and coverage [n, 2]."""
    photos, truths = [], []
    for truth in json.loads((folder / "truth.json").read_text()):
        if truth["judgeable"] is not True or truth["both"] is None:
            continue
        image = Image.open(folder / truth["photo"]).convert("RGB")
        size = content_size(*image.size)
        frame = Image.new("RGB", (WIDTH, HEIGHT))
        frame.paste(image.resize(size, Image.BOX), ((WIDTH - size[0]) // 2, (HEIGHT - size[1]) // 2))
        photos.append(torch.tensor(np.asarray(frame)).permute(2, 0, 1))
        truths.append((truth["both"]["index"], truth["both"]["coverage"]))
    return torch.stack(photos).float() / 255, torch.tensor(truths)


@torch.no_grad()
def answers(net, photos):
    """Logits of the steps [n, 3, h, w] at the net's size and the valve it finds [n, 1, h, w]."""
    maps = torch.cat([net(part)[0] for part in photos.split(16)])
    return maps[:, REGIONS:], (maps[:, :REGIONS].argmax(1, keepdim=True) > 0).float()


def errors(steps, valve, truth):
    """Mean absolute errors of index and coverage for each of MOVES [moves, 2]."""
    table = []
    for move in MOVES:
        hard = hard_steps(steps - move * FILM)
        read = torch.stack((index_of(hard, valve), 100 * mean_over(hard[:, :1], valve)), 1)
        table.append((read - truth).abs().mean(0))
    return torch.stack(table)


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--net", type=Path, required=True)
    parser.add_argument("--out", type=Path, required=True)
    parser.add_argument("folders", type=Path, nargs="+")
    chosen = parser.parse_args()
    net, tables, counts = load_checkpoint(chosen.net / "net.pt"), [], []
    for folder in chosen.folders:
        photos, truth = judged(folder)
        tables.append(errors(*answers(net, photos), truth))
        counts.append(len(truth))
    still, everything = MOVES.index(0.0), range(len(tables))
    mean = lambda which: sum(counts[k] * tables[k] for k in which) / sum(counts[k] for k in which)
    least = lambda table: int(table.sum(1).argmin())
    words = lambda row: "index {:.2f}, coverage {:.2f}".format(*row.tolist())
    for k in everything if len(tables) > 1 else ():
        best = least(mean([other for other in everything if other != k]))
        print(f"{chosen.folders[k]}: {counts[k]} photos, errors {words(tables[k][still])}; moved by {MOVES[best]} as the others want: {words(tables[k][best])}")
    table = mean(everything)
    best = least(table)
    print(f"all: errors {words(table[still])}; moved by {MOVES[best]}: {words(table[best])}")
    net.maps.bias.data[REGIONS] -= MOVES[best]
    chosen.out.mkdir(parents=True, exist_ok=True)
    save_checkpoint(chosen.out / "net.pt", net)
    card = json.loads((chosen.net / "card.json").read_text())
    figures = lambda row: dict(zip(("index_error", "coverage_error"), (round(value, 2) for value in row.tolist())))
    card["balanced"] = {"film_logit": -MOVES[best], "photos": sum(counts), "before": figures(table[still]), "after": figures(table[best])}
    (chosen.out / "card.json").write_text(json.dumps(card, indent=1) + "\n")


if __name__ == "__main__":
    main()
