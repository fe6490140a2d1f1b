#!/bin/sh
# licences.sh DIR: copies the licences of Go and of all Go modules inside the program into DIR, a folder for each module,
# from the module cache. Fails when a module carries none.
set -eu
cd "$(dirname "$0")/.."
mkdir -p "$1"
install -m 644 "$(go env GOROOT)/LICENSE" "$1/go"
install -D -m 644 internal/serve/page/lit/LICENSE "$1/lit-html/LICENSE"
# On its own, lest a pipe hide that it failed.
modules=$(go list -deps -tags "${TAGS:-nodynamic}" -f '{{with .Module}}{{if not .Main}}{{.Path}} {{.Dir}}{{end}}{{end}}' ./cmd/valvegrade)
echo "$modules" | sort -u | while read -r module dir; do
    into=$1/$(echo "$module" | tr / _)
    (cd "$dir" && find . -name testdata -prune -o -type f ! -name '*.go' \
        \( -iname 'licen[cs]e*' -o -iname 'copying*' -o -iname 'notice*' -o -iname 'patents*' -o -iname 'third_party*' \
        -o -path '*/licenses/*' \) -print) | while read -r file; do
        install -D -m 644 "$dir/$file" "$into/$file"
    done
    [ -d "$into" ] || { echo "licences.sh: $module has no licence" >&2; exit 1; }
done
