#!/usr/bin/env bash
# Renders plans path-traced on the GPU, develops them, and packs the photos with their truth into OUT/demo.tar.
#   scripts/train/demo.sh OUT PLAN...        SAMPLES rays a pixel (192), SIZE of the photos (640x480), SCENES the renderer,
#                                            BUILD where it is built and all is kept that is rendered
set -euo pipefail
out=$1 && shift
here=$(dirname "$(realpath "$0")")
export PYTHONDONTWRITEBYTECODE=1

python3 -c 'import numpy, PIL, torch'
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
build=$(realpath -m "${BUILD:-$work}")
scenes=${SCENES:-$build/cuda/scenes}
[ -x "$scenes" ] || make -s -C "$here/../scenes" OUT="$build" "$scenes"

for plan in "$@"; do
  name=$(basename "$plan" .plan)
  "$scenes" --plan "$plan" --family 2 --mode path --samples "${SAMPLES:-192}" --size "${SIZE:-640x480}" --out "$build/$name"
  python3 "$here/demo.py" "$build/$name" "$build/demo/$name"
done
mkdir -p "$out"
tar -C "$build" -cf "$out/demo.tar" demo
ls -l "$out/demo.tar"
