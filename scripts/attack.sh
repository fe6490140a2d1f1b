#!/bin/sh
# attack.sh [FILES [KILLS [SEED]]]: feeds the program FILES spoilt files of every kind that it reads, and ends KILLS runs half way, as SEED
# (a number) draws them. Each run may take 10 s of the processors and 1 GB. What fails stays in attack-failures/ and is told with how to repeat it.
#
# The memory is bounded by ulimit -d, which on Linux counts what a process can write to. ulimit -v would not do: Go reserves addresses by the
# gigabyte, and each of its threads a stack, without using them.
set -eu
cd "$(dirname "$0")/.."
[ -x bin/valvegrade ] || { echo "attack.sh: build first: make build" >&2; exit 1; }
exec go run -tags "${TAGS:-nodynamic}" ./scripts/attack -files "${1:-300}" -kills "${2:-10}" -seed "${3:-1}"
