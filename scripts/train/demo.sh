#!/usr/bin/env bash
# Renders plans path-traced on the GPU, develops them, and packs the photos with their truth into OUT/demo.tar.
#   scripts/train/demo.sh OUT PLAN...        SAMPLES rays a pixel (192), SIZE of the photos (640x480)
set -euo pipefail
out=$(realpath -m "$1") && shift
plans=()
for plan in "$@"; do plans+=("$(realpath "$plan")"); done
cd "$(dirname "$0")"
export PYTHONDONTWRITEBYTECODE=1

python3 -c 'import numpy, PIL, torch'
build=${BUILD:-$(mktemp -d)} # kept between runs when named
scenes=${SCENES:-$build/cuda/scenes}
[ -x "$scenes" ] || make -s -C ../scenes OUT="$build" "$scenes"

for plan in "${plans[@]}"; do
  name=$(basename "$plan" .plan)
  mkdir -p "$build/$name"
  "$scenes" --plan "$plan" --family 2 --mode path --samples "${SAMPLES:-192}" --size "${SIZE:-640x480}" --out "$build/$name"
  python3 demo.py "$build/$name" "$build/demo/$name"
done
mkdir -p "$out"
tar -C "$build" -cf "$out/demo.tar" demo
ls -l "$out/demo.tar"
