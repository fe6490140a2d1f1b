"""The scene renderer (scripts/scenes, libscenes.so) seen from Python.

One call renders `count` scenes into fresh tensors on the renderer's device, in the current CUDA stream.
"""

import ctypes
from dataclasses import dataclass

import torch
import torch.nn.functional as F

TRAINING, HELD_BACK, DEMO = 0, 1, 2  # families of looks
FRAME, VALVE = 0, 1  # looks: the whole frame, or a window in which one valve fills a fixed share
FAST, PATH_TRACED = 0, 1  # modes
RENDERED = 20  # facts of a scene
FACTS = RENDERED + 1

# Columns of `facts` that the training reads; scripts/scenes/README.md lists those that the renderer fills.
JUDGEABLE, VALVE_SHARE = 0, 1  # of the picture
OPEN, SKY = 12, slice(13, 16)  # 1 where pixels that equal the sky exactly show nothing and may be filled
LEVEL = 20  # of photos with masks: mean of the linear photo as it was taken; 0 for what no camera has seen yet
PLACE = slice(16, 20)  # left, top, width, height in pixels of the whole photo on the picture, which may show a window of it


@dataclass
class Scenes:
    """Scenes of one size: linear radiance and exact truth."""

    rgb: torch.Tensor  # [n, height, width, 3] float32, >= 0, arbitrary scale
    region: torch.Tensor  # [n, height, width] uint8: 0 background, 1 head, 2 stem, 3 and 4 those of other valves
    deposit: torch.Tensor  # [n, height, width] uint8: 0 bare .. 3 heavy, 255 not on the principal valve
    facts: torch.Tensor  # [n, FACTS] float32

    @staticmethod
    def join(parts):
        """Several batches of one size as one."""
        return Scenes(*(torch.cat([getattr(part, name) for part in parts]) for name in ("rgb", "region", "deposit", "facts")))


class Renderer:
    """A loaded libscenes.so; `device` must be where it renders ("cpu" for a g++ build)."""

    def __init__(self, library, device):
        self.device = torch.device(device)
        self.render = ctypes.CDLL(str(library)).scenes_render
        self.render.restype = ctypes.c_int
        self.render.argtypes = [ctypes.c_uint64] + [ctypes.c_int] * 7 + [ctypes.c_void_p] * 5

    def __call__(self, seed, count, width, height, family, look=FRAME, mode=FAST, samples=1):
        """Renders scenes seed .. seed+count-1; raises RuntimeError when the renderer reports an error."""
        empty = lambda shape, kind: torch.empty(shape, dtype=kind, device=self.device)
        scenes = Scenes(
            rgb=empty((count, height, width, 3), torch.float32),
            region=empty((count, height, width), torch.uint8),
            deposit=empty((count, height, width), torch.uint8),
            facts=empty((count, RENDERED), torch.float32),
        )
        stream = torch.cuda.current_stream(self.device).cuda_stream if self.device.type == "cuda" else 0
        code = self.render(
            seed, count, width, height, family, look, mode, samples,
            scenes.rgb.data_ptr(), scenes.region.data_ptr(), scenes.deposit.data_ptr(), scenes.facts.data_ptr(),
            stream,
        )
        if code != 0:
            raise RuntimeError(f"scenes_render: error {code} (seed {seed}, {count} scenes of {width}x{height})")
        scenes.facts = F.pad(scenes.facts, (0, FACTS - RENDERED))
        return scenes
