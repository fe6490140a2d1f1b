"""The card of a training run: what it was made from, what it reached, what it cannot."""

import json
import math
import platform
import subprocess
from dataclasses import asdict
from pathlib import Path

import torch

import camera
from validation import CAMERA_SEED, SCENES_SEED

LIMITS = (
    "Trained on rendered scenes and on ordinary pictures; no photo of a real engine was seen.",
    "Figures here are on rendered held-back looks through a simulated camera with other ranges.",
    "Deposit classes follow rendered thickness; film and metal stain can look alike.",
)


def commit():
    """The checkout's commit, or null where there is none (the device machine has no history)."""
    found = subprocess.run(["git", "rev-parse", "HEAD"], cwd=Path(__file__).parent, capture_output=True, text=True)
    return found.stdout.strip() if found.returncode == 0 else None


def known(value):
    """NaN, "not measured", is null in JSON."""
    return None if isinstance(value, float) and math.isnan(value) else value


def named(value):
    """Files are told by name: where they lay on that machine helps nobody."""
    if isinstance(value, list):
        return [named(each) for each in value]
    return Path(value).name if isinstance(value, Path) or "/" in str(value) else value


def write(path, run, seconds, figures, groups):
    chosen = {name: named(value) for name, value in vars(run.chosen).items()}
    on_gpu = run.device.type == "cuda"
    card = {
        "commit": commit(),
        "options": chosen,
        "device": torch.cuda.get_device_name(run.device) if on_gpu else platform.machine(),
        "torch": torch.__version__,
        "seconds": round(seconds, 1),
        "steps": run.step,
        "photos": run.step * run.chosen.batch,
        "scenes": run.feed.pool.added,
        "channels": run.net.channels,
        "parameters": sum(p.numel() for p in run.net.parameters()),
        "loss_weights": run.task.WEIGHTS,
        "cameras": [asdict(profile) for profile in camera.TAUGHT],
        "validation": {
            "family": "held-back looks", "scenes_seed": SCENES_SEED, "camera_seed": CAMERA_SEED,
            "figures": {name: known(value) for name, value in figures.items()},
            "groups: count, head IoU, index error, index bias": {
                name: [known(value) for value in values] for name, values in groups.items()
            },
        },
        "limits": LIMITS,
    }
    path.write_text(json.dumps(card, indent=1) + "\n")
