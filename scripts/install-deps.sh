#!/bin/sh
# Installs what building needs on Debian 12 and Ubuntu 24.04; with --tests also what only the tests need: Chromium, in which
# they open the report's page, Poppler, with which they read its PDF, PostgreSQL, of which they start a server of their own,
# and libfaketime, which sets that server's clock; with --package what makes a Debian package. Says nothing when nothing is missing.
set -eu
cd "$(dirname "$0")/.."

say() { echo "install-deps: $*" >&2; }

# Prints the Debian packages that are missing.
missing() {
    command -v make >/dev/null || echo make
    command -v g++ >/dev/null || echo g++
    command -v ld.lld >/dev/null || echo lld
    command -v pkg-config >/dev/null || echo pkg-config
    pkg-config --exists opencv4 2>/dev/null || echo libopencv-dev
    # Without them Go cannot tell whose libraries it fetches.
    [ -e /etc/ssl/certs/ca-certificates.crt ] || echo ca-certificates
}

# Prints those that only tests need. Ubuntu has Chromium as a snap alone; any that is in the path will do.
missing_for_tests() {
    command -v chromium >/dev/null || command -v chromium-browser >/dev/null || echo chromium
    command -v pdftoppm >/dev/null || echo poppler-utils
    ls /usr/lib/postgresql/*/bin/postgres >/dev/null 2>&1 || echo postgresql
    ls /usr/lib/*/faketime/libfaketime.so.1 >/dev/null 2>&1 || echo libfaketime
}

# Prints those that only make package needs.
missing_for_package() {
    command -v dpkg-shlibdeps >/dev/null || echo dpkg-dev
}

install() {
    if ! command -v apt-get >/dev/null; then
        say "missing: $*; there is no apt-get here, so install them by hand"
        exit 1
    fi
    root=
    if [ "$(id -u)" -ne 0 ]; then
        if ! command -v sudo >/dev/null; then
            say "missing: $*; as root, run: apt-get install $*"
            exit 1
        fi
        root=sudo
    fi
    say "installing these packages with apt-get: $*"
    case " $* " in
    *" libopencv-dev "*) say "libopencv-dev brings several hundred more: this takes minutes" ;;
    esac
    $root apt-get update -qq
    for package in "$@"; do
        shift
        if apt-cache show "$package" >/dev/null 2>&1; then
            set -- "$@" "$package"
        else
            say "there is no package $package here: install it by hand"
        fi
    done
    # sudo drops what is set before it.
    $root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "$@" >/dev/null
    say "done"
}

check_opencv() {
    found=$(pkg-config --modversion opencv4)
    case $found in
    4.6.*) ;;
    *) say "warning: OpenCV $found found; the program is made for 4.6" ;;
    esac
}

# An old Go fetches the one that go.mod asks for, unless it was told not to.
check_go() {
    wanted=$(sed -n 's/^go //p' go.mod)
    if ! command -v go >/dev/null; then
        say "Go is missing: install Go $wanted or newer from https://go.dev/dl, then try again"
        exit 1
    fi
    if ! problem=$(go list -m 2>&1 >/dev/null); then
        say "Go $wanted or newer is needed: $problem"
        exit 1
    fi
}

packages=$(missing)
case ${1-} in
--tests) packages="$packages $(missing_for_tests)" ;;
--package) packages="$packages $(missing_for_package)" ;;
esac
if [ -n "${packages# }" ]; then
    # shellcheck disable=SC2086  # one argument per package
    install $packages
fi
check_opencv
check_go
