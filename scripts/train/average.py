"""The mean of the weights of several runs of one line, each begun where the one before ended: as good as the last where they
learned, and steadier on photos of another kind (Izmailov et al., "Averaging Weights Leads to Wider Optima and Better
Generalization", 2018).

    python3 average.py --out DIR RUN1 RUN2 ...

RUN is the folder that run.sh left. DIR gets net.pt and a card.json that holds the cards of the runs.
"""

import argparse
import json
from pathlib import Path

from export import load_checkpoint, save_checkpoint


def mean(nets):
    """The first net with every weight, running means of batch norm included, replaced by the mean over all nets."""
    states = [net.state_dict() for net in nets]
    for name, value in states[0].items():
        if value.is_floating_point():
            value.copy_(sum(state[name] for state in states) / len(states))
    return nets[0]


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--out", type=Path, required=True)
    parser.add_argument("runs", type=Path, nargs="+")
    chosen = parser.parse_args()
    chosen.out.mkdir(parents=True, exist_ok=True)
    save_checkpoint(chosen.out / "net.pt", mean([load_checkpoint(run / "net.pt") for run in chosen.runs]))
    cards = [json.loads((run / "card.json").read_text()) for run in chosen.runs]
    (chosen.out / "card.json").write_text(json.dumps({"mean_of": cards}, indent=1) + "\n")


if __name__ == "__main__":
    main()
