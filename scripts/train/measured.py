"""Adds what a program reaches on photos with truth to the card of its net.

    python3 measured.py CARD FIGURES    # FIGURES: what scripts/measure wrote with -json
"""

import json
import sys
from pathlib import Path


def main(card, figures):
    measured = json.loads(Path(figures).read_text())
    measured["sets"] = {name: content["figures"] for name, content in measured["sets"].items()}
    content = json.loads(Path(card).read_text())
    content["measured"] = measured
    Path(card).write_text(json.dumps(content, indent=1) + "\n")


if __name__ == "__main__":
    main(*sys.argv[1:])
