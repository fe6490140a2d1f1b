#!/usr/bin/env bash
# Builds the renderer for the GPU, trains, exports, and leaves eight files in OUT.
#   scripts/train/run.sh OUT [options of train.py]         BUILD: where the renderer is built and kept
set -euo pipefail
out=$(realpath -m "$1") && shift
here=$(dirname "$(realpath "$0")")
mkdir -p "$out"
exec > >(tee "$out/log.txt") 2>&1
export PYTHONUNBUFFERED=1 PYTHONDONTWRITEBYTECODE=1

# What is missing must show now, not after the training.
python3 -c 'import numpy, onnx, onnxruntime, PIL, torch; assert torch.cuda.is_available(), "no GPU"'

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
build=$(realpath -m "${BUILD:-$work}")
time make -s -C "$here/../scenes" OUT="$build" "$build/cuda/libscenes.so"

python3 "$here/train.py" --library "$build/cuda/libscenes.so" --out "$out" "$@"
ls -l "$out"
