#!/bin/sh
# package.sh PROGRAM: makes bin/valvegrade_VERSION_ARCHITECTURE.deb with Debian's own tools. Its dependencies are the packages
# of the libraries that the program is linked with on this machine, so a package made on Debian 12 is one for Debian 12.
set -eu
cd "$(dirname "$0")/.."
program=$PWD/$1

# A version begins with a digit, and the day makes versions without a tag grow.
if tag=$(git describe --tags --dirty 2>/dev/null); then
    version=$(echo "${tag#v}" | tr - +)
else
    version=0+$(git log -1 --format=%cd --date=format:%Y%m%d).$(git describe --always --dirty | tr - +)
fi
SOURCE_DATE_EPOCH=$(git log -1 --format=%ct) # the same commit gives the same package
export SOURCE_DATE_EPOCH
architecture=$(dpkg --print-architecture)
package=bin/valvegrade_${version}_$architecture.deb

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
mkdir -p "$work/debian" "$work/root/DEBIAN" "$work/root/usr/share/doc/valvegrade"
chmod 755 "$work/root"
scripts/install.sh "$program" "$work/root/usr"
install -m 644 LICENSE "$work/root/usr/share/doc/valvegrade/copyright"
scripts/licences.sh "$work/root/usr/share/doc/valvegrade/licences"

printf 'Source: valvegrade\n\nPackage: valvegrade\nArchitecture: any\n' >"$work/debian/control"
depends=$(cd "$work" && dpkg-shlibdeps -O root/usr/bin/valvegrade)
cat >"$work/root/DEBIAN/control" <<END
Package: valvegrade
Version: $version
Architecture: $architecture
Maintainer: the valvegrade developers <valvegrade@localhost>
Installed-Size: $(du -sk "$work/root/usr" | cut -f 1)
Depends: ${depends#shlibs:Depends=}
Section: science
Priority: optional
Description: grade intake-valve deposits from photos
 Finds the intake valve in a borescope or phone photo, measures how much deposit
 it carries, and puts that on a fixed scale of 0 to 4 with a 95 % interval.
END
(cd "$work/root" && find usr -type f -exec md5sum {} + | LC_ALL=C sort -k 2 >DEBIAN/md5sums)
chmod -R u+rwX,go+rX,go-w "$work/root"
dpkg-deb --root-owner-group --build "$work/root" "$package" >/dev/null
echo "$package"
