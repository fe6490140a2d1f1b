#!/bin/sh
# try-package.sh: installs the newest package in bin/ on a bare Debian 12, with its dependencies and nothing else, grades a
# photo there and makes a page. Needs root, mmdebstrap and the network.
set -eu
cd "$(dirname "$0")/.."
command -v mmdebstrap >/dev/null || { echo "try-package: apt-get install mmdebstrap" >&2; exit 1; }
root=$(mktemp -d)
trap 'rm -rf "$root"' EXIT
mmdebstrap --quiet --variant=minbase bookworm "$root"
cp /etc/resolv.conf "$root/etc/"
cp "$(ls -t bin/*.deb | head -1)" "$root/tmp/valvegrade.deb"
mkdir "$root/tmp/before"
cp testdata/engine/*-before.jpg "$root/tmp/before"
cp testdata/engine/before.yaml "$root/tmp/before/inspection.yaml"
chroot "$root" sh -euc '
    cd /tmp
    apt-get update -qq
    apt-get -o Dpkg::Use-Pty=0 install -y -qq --no-install-recommends ./valvegrade.deb >/dev/null
    if command -v gcc; then exit 1; fi
    valvegrade version
    valvegrade score before
    valvegrade report --out report.html before && ls -l report.html
    test -s /usr/share/man/man1/valvegrade.1.gz || echo "(minimal Debian leaves manual pages out)"
    apt-get -o Dpkg::Use-Pty=0 purge -y -qq valvegrade >/dev/null
    test ! -e /usr/bin/valvegrade'
