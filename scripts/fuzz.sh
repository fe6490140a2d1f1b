#!/bin/sh
# fuzz.sh TIME: runs every fuzz target for the given time, such as 5s or 10m, and says how many inputs each tried. The Makefile hands on TAGS and
# LINK.
set -eu
cd "$(dirname "$0")/.."
duration=$1
# A target that tried fewer tested next to nothing: it hangs on something, or spends its time on making inputs smaller.
least=1000

targets=$(grep -rEo --include='*_test.go' '^func Fuzz[A-Za-z0-9_]*' cmd internal pkg | sort)
[ -n "$targets" ] || { echo "fuzz.sh: no targets found" >&2; exit 1; }
echo "$targets" |
    while IFS=: read -r file func; do
        target=${func#func }
        # The output matters only when it fails.
        log=$(go test -tags "${TAGS:-}" -ldflags "${LINK:-}" -run '^$' -fuzz "^$target\$" -fuzztime "$duration" -fuzzminimizetime 20x \
            "./$(dirname "$file")" 2>&1) || {
            echo "$log"
            exit 1
        }
        tried=$(echo "$log" | sed -n 's/.*execs: \([0-9]*\).*/\1/p' | tail -1)
        echo "$(dirname "$file") $target: ${tried:-0} inputs in $duration"
        [ "${tried:-0}" -ge "$least" ] || { echo "fuzz.sh: fewer than $least inputs" >&2; exit 1; }
    done
