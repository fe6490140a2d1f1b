#!/bin/sh
# fuzz.sh TIME: runs every fuzz target for the given time, such as 5s or 10m, and says how many inputs each tried. The Makefile hands on TAGS and
# LINK.
set -eu
cd "$(dirname "$0")/.."
duration=$1
# A target that tried fewer tested next to nothing: the machine is busy, or the target hangs on something. It gets the time that so many inputs
# take, up to a limit that only one reaches which hangs.
least=1000
limit=5m

fuzz() { # FILE TARGET TIME LIMIT
    timeout "$4" go test -tags "${TAGS:-}" -ldflags "${LINK:-}" -run '^$' -fuzz "^$2\$" -fuzztime "$3" -fuzzminimizetime 20x \
        "./$(dirname "$1")" 2>&1
}

targets=$(grep -rEo --include='*_test.go' '^func Fuzz[A-Za-z0-9_]*' cmd internal pkg | sort)
[ -n "$targets" ] || { echo "fuzz.sh: no targets found" >&2; exit 1; }
echo "$targets" |
    while IFS=: read -r file func; do
        target=${func#func }
        # The output matters only when it fails.
        log=$(fuzz "$file" "$target" "$duration" 0) || { echo "$log"; exit 1; }
        tried=$(echo "$log" | sed -n 's/.*execs: \([0-9]*\).*/\1/p' | tail -1)
        echo "$(dirname "$file") $target: ${tried:-0} inputs in $duration"
        [ "${tried:-0}" -lt "$least" ] || continue
        log=$(fuzz "$file" "$target" "${least}x" "$limit") || { echo "$log"; echo "fuzz.sh: $target failed, or took more than $limit" >&2; exit 1; }
        echo "$(dirname "$file") $target: $least inputs more"
    done
