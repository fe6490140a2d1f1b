"""Moves the limit between bare and film so that index and coverage of held-back photos err least; the reader is else unchanged.

    python3 balance.py --net DIR --out DIR FOLDER...

The folders of --net and --out hold net.pt and card.json; each FOLDER what held_back.py wrote. The net reads each photo through the
window of its valve. Training prices many things at once, and coverage, which hangs on the film alone, is not among them; one
number, subtracted from the bias of that step, makes up for it. With several folders each is also measured as moved by a search of
the others alone: no test where they share their seeds.
"""

import argparse
import json
from pathlib import Path

import torch

import labels as labelling
import validation
from export import load_checkpoint, save_checkpoint
from labels import index_of, mean_over
from loss import hard_steps
from net import REGIONS
from scenes import VALVE
from sets import Sets

MOVES = (-0.5, -0.25, 0.0, 0.25, 0.5, 0.75, 1.0)  # logits; none is among them
FILM = torch.tensor([1.0, 0.0, 0.0]).view(1, 3, 1, 1)


@torch.no_grad()
def answers(net, folder):
    """Of the photos that can be judged: logits of the steps [n, 3, h, w] at the net's size, the valve it finds [n, 1, h, w], true
    index and coverage [n, 2]."""
    truths = json.loads((folder / "truth.json").read_text())
    names = [Path(truth["photo"]).stem for truth in truths if truth["judgeable"] and truth["both"]]
    parts = []
    for _, photos, truth in validation.as_taken(Sets([folder], "cpu", names), VALVE, labelling.label):
        maps, _ = net(photos.image)
        valve = (maps[:, :REGIONS].argmax(1, keepdim=True) > 0).float()
        coverage = 100 * mean_over(truth.deposit[:, :1], truth.valve)
        parts.append((maps[:, REGIONS:], valve, torch.stack((truth.index, coverage), 1)))
    return tuple(torch.cat(column) for column in zip(*parts))


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
        steps, valve, truth = answers(net, folder)
        tables.append(errors(steps, valve, truth))
        counts.append(len(truth))
    still, everything = MOVES.index(0.0), range(len(tables))
    mean = lambda which: sum(counts[k] * tables[k] for k in which) / sum(counts[k] for k in which)
    least = lambda table: int(table.sum(1).argmin())
    words = lambda row: "index {:.2f}, coverage {:.2f}".format(*row.tolist())
    for k in everything if len(tables) > 1 else ():
        best = least(mean([other for other in everything if other != k]))
        print(f"{chosen.folders[k]}: {counts[k]} photos, errors {words(tables[k][still])}")
        print(f"  moved by {MOVES[best]} as the others want: {words(tables[k][best])}")
    table = mean(everything)
    best = least(table)
    print(f"all: errors {words(table[still])}; moved by {MOVES[best]}: {words(table[best])}")
    net.maps.bias.data[REGIONS] -= MOVES[best]
    chosen.out.mkdir(parents=True, exist_ok=True)
    save_checkpoint(chosen.out / "net.pt", net)
    card = json.loads((chosen.net / "card.json").read_text())
    figures = lambda row: dict(zip(("index_error", "coverage_error"), (round(value, 2) for value in row.tolist())))
    errors_told = {"before": figures(table[still]), "after": figures(table[best])}
    card["balanced"] = {"film_logit": -MOVES[best], "photos": sum(counts), **errors_told}
    (chosen.out / "card.json").write_text(json.dumps(card, indent=1) + "\n")


if __name__ == "__main__":
    main()
