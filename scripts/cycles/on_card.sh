#!/usr/bin/env bash
# Photos with masks for SECONDS on a machine with an NVIDIA card and without Debian's packages, by the folder that pack.py made:
#   scripts/cycles/on_card.sh FOLDER OUT NEGATIVES SEED SECONDS        PROCESSES: as many as cores less two; CARD= renders on the processor
# The first process takes scenes from SEED on, the next from SEED + 500. Without its kernel (SM: of another card than an H100/H200)
# the card waits for nvcc, two minutes.
set -euo pipefail
end=$((SECONDS + $5))
folder=$(realpath "$1") out=$(realpath -m "$2") negatives=$(realpath "$3") seed=$4
here=$(dirname "$(realpath "$0")")
card=${CARD---card}
cycles=$folder/usr/share/blender/scripts/addons/cycles
kernel=$cycles/lib/kernel_${SM:=sm_90}.cubin
if [ -n "$card" ]; then
    mkdir -p "$folder/cuda" "$cycles/lib"
    cuda=$(ldconfig -p | awk '/libcuda.so.1 .*x86-64/ { print $NF; exit }')
    cp "${cuda:-/usr/local/nvidia/lib64/libcuda.so.1}" "$folder/cuda/libcuda.so.1"
    ln -sf libcuda.so.1 "$folder/cuda/libcuda.so"
    if [ ! -e "$kernel" ]; then
        nvcc "-arch=$SM" --cubin "$cycles/source/kernel/device/cuda/kernel.cu" -o "$kernel.part" -m64 --use_fast_math -DNVCC \
            -I "$cycles/source" -w --split-compile=6
        mv "$kernel.part" "$kernel"
    fi
fi
libraries=$(find "$folder" -name '*.so*' -type f -printf '%h\n' | grep -v python3 | sort -u | paste -sd:)
export BLENDER_SYSTEM_SCRIPTS=$folder/usr/share/blender/scripts BLENDER_SYSTEM_DATAFILES=$folder/usr/share/blender/datafiles
export BLENDER_SYSTEM_PYTHON=$folder/usr GCONV_PATH=$folder/usr/lib/x86_64-linux-gnu/gconv
mkdir -p "$out"
cores=$(nproc)
for process in $(seq 0 $((${PROCESSES:-$((cores > 2 ? cores - 2 : 1))} - 1))); do
    first=$((seed + 500 * process))
    # A virtual environment of that machine would move where Python looks for packages.
    timeout --signal=KILL $((end - SECONDS)) "$folder/lib64/ld-linux-x86-64.so.2" --library-path "$libraries" "$folder/usr/bin/blender" \
        -b -t 1 --python-exit-code 1 --python-expr "import sys; sys.path.append('$folder/usr/lib/python3/dist-packages')" -P "$here/make.py" -- \
        --out "$out" --scenes 500 --seed $first --views 3 --behind "$negatives" $card >"$out/$first.log" 2>&1 &
done
wait 2>/dev/null || true
for photo in "$out"/*.jpg; do # the last one of each process may lack its masks
    [ -s "${photo%.jpg}.deposit.png" ] || rm -f "${photo%.jpg}".*
done
ls "$out"/*.jpg | wc -l
