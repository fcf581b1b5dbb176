#!/usr/bin/env bash
# Mutation testing of what judges eyes and hands: sight, hands, and the choice of lines. Every mutant is built and run against the
# library's own tests, which hold the facts of every record here (src/annotate/kept.rs). docs/mutants.md has the last result.
#
#   tests/mutants/run.sh            all of them: hours on two cores
#   tests/mutants/run.sh 0/4        every fourth one
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
# --lib goes to the build, too: else every mutant would link all test crates.
exec cargo mutants -C --lib --profile mutants --shuffle --output target --timeout 150 --build-timeout 300 "${share[@]}" \
    -f 'src/sight/*.rs' -f 'src/hands/*.rs' -f src/annotate/choice.rs -f src/annotation/choice.rs \
    -- -- annotate::kept annotate::coach sight:: hands::
