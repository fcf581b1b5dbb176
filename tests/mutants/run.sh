#!/usr/bin/env bash
# Mutation testing of what judges eyes and hands: sight, hands, and the choice of lines. Every mutant is built and run against the
# library's own tests, which hold the facts of every record here (src/annotate/kept.rs). docs/mutants.md has the last result.
#
#   tests/mutants/run.sh            all of them: hours on two cores
#   tests/mutants/run.sh 0/2        every second one
#
# Needs cargo-mutants (cargo install cargo-mutants --locked). Works on a copy of the tree; what it found is in target/mutants.out.
set -euo pipefail
cd "$(dirname "$0")/../.."
cargo mutants --version > /dev/null
share=()
if [ $# -gt 0 ]; then
    share=(--shard "$1" --sharding round-robin)
fi
mkdir -p target
exec cargo mutants --profile mutants --output target --timeout 120 --build-timeout 240 "${share[@]}" \
    -f 'src/sight/*.rs' -f 'src/hands/*.rs' -f src/annotate/choice.rs -f src/annotation/choice.rs \
    -- --lib -- annotate::kept sight:: hands::
