#!/usr/bin/env bash
# Ordinary pictures without a valve, from packages of Debian, as small JPEG files in OUT (about 50 MB): wallpapers, surfaces for
# games (supertuxkart-data, CC-BY-SA: rock, rust, metal, asphalt; ufoai-textures, GPL-2+ and Creative Commons: floors, walls,
# machines), and things (tuxpaint-stamps-default, GPL-2) before these.
#   scripts/train/negatives.sh OUT
set -euo pipefail
out=$(realpath -m "$1")
here=$(dirname "$(realpath "$0")")
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$work"
apt-get download mate-backgrounds lomiri-wallpapers-16.04 lomiri-wallpapers-20.04 gnome-backgrounds ukui-wallpapers supertuxkart-data \
    ufoai-textures tuxpaint-stamps-default
for package in *.deb; do dpkg -x "$package" unpacked; done
find unpacked -name '*.pk3' | while read -r archive; do /usr/bin/python3 -m zipfile -e "$archive" "${archive%.pk3}"; done
mv unpacked/usr/share/tuxpaint/stamps things
/usr/bin/python3 "$here/cut_negatives.py" unpacked "$out"
/usr/bin/python3 "$here/place_things.py" things "$out"
