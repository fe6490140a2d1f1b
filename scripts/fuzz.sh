#!/bin/sh
# fuzz.sh TIME: runs every fuzz target for the given time, such as 5s or 10m. The Makefile hands on TAGS and LINK.
set -eu
cd "$(dirname "$0")/.."
duration=$1

targets=$(grep -rEo --include='*_test.go' '^func Fuzz[A-Za-z0-9_]*' cmd internal pkg | sort)
[ -n "$targets" ] || { echo "fuzz.sh: no targets found" >&2; exit 1; }
echo "$targets" |
    while IFS=: read -r file func; do
        target=${func#func }
        echo "$(dirname "$file") $target for $duration"
        # The output matters only when it fails.
        log=$(go test -tags "${TAGS:-}" -ldflags "${LINK:-}" -run '^$' -fuzz "^$target\$" -fuzztime "$duration" "./$(dirname "$file")" 2>&1) || {
            echo "$log"
            exit 1
        }
    done
