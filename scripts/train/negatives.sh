#!/usr/bin/env bash
# Ordinary pictures without a valve, from packages of Debian, as small JPEG files in OUT (about 25 MB): wallpapers, and surfaces
# photographed for a game (supertuxkart-data, CC-BY-SA: rock, rust, metal, asphalt).
#   scripts/train/negatives.sh OUT
set -euo pipefail
out=$(realpath -m "$1")
here=$(dirname "$(realpath "$0")")
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$work"
apt-get download mate-backgrounds lomiri-wallpapers-16.04 lomiri-wallpapers-20.04 gnome-backgrounds ukui-wallpapers supertuxkart-data
for package in *.deb; do dpkg -x "$package" unpacked; done
/usr/bin/python3 "$here/cut_negatives.py" unpacked "$out"
