"""The mean of the weights of several nets of one line, each trained on from another: as good as the last where they learned, and
steadier on photos of another kind (Izmailov et al., "Averaging Weights Leads to Wider Optima and Better Generalization", 2018;
Wortsman et al., "Robust fine-tuning of zero-shot models", 2022, with the net before among them).

    python3 average.py --out DIR [--shares 0.3,0.3,0.4] [--net reader] CHECKPOINT...

DIR gets net.pt, and card.json with the shares and the cards that lie beside the checkpoints. Shares are equal unless given; --net
says which net of a checkpoint that holds several.
"""

import argparse
import json
from pathlib import Path

from export import load_checkpoint, save_checkpoint


def mean(nets, shares):
    """The first net with every weight, running means of batch norm included, replaced by the weighted mean over all nets."""
    states = [net.state_dict() for net in nets]
    for name, value in states[0].items():
        if value.is_floating_point():
            value.copy_(sum(share * state[name] for share, state in zip(shares, states)))
    return nets[0]


def cards(checkpoints, shares):
    """Share and card of each net, the card null where there is none."""
    beside = [path.with_name("card.json") for path in checkpoints]
    return [
        {"share": share, "card": json.loads(card.read_text()) if card.exists() else None} for share, card in zip(shares, beside)
    ]


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--out", type=Path, required=True)
    parser.add_argument("--shares", help="one number for each checkpoint, separated by commas; they sum to 1")
    parser.add_argument("--net", choices=("finder", "reader"))
    parser.add_argument("checkpoints", type=Path, nargs="+")
    chosen = parser.parse_args()
    count = len(chosen.checkpoints)
    shares = [float(share) for share in chosen.shares.split(",")] if chosen.shares else [1 / count] * count
    if len(shares) != count or abs(sum(shares) - 1) > 1e-6:
        parser.error("one share for each checkpoint is needed, and they must sum to 1")
    chosen.out.mkdir(parents=True, exist_ok=True)
    save_checkpoint(chosen.out / "net.pt", mean([load_checkpoint(path, chosen.net) for path in chosen.checkpoints], shares))
    (chosen.out / "card.json").write_text(json.dumps({"mean_of": cards(chosen.checkpoints, shares)}, indent=1) + "\n")


if __name__ == "__main__":
    main()
