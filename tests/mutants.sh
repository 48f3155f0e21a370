#!/usr/bin/env bash
# Makes small changes to the library, one at a time, and says which of them the tests notice (docs/mutants.md).
#
# bash tests/mutants.sh                      40 mutants of each of ten folders, drawn by lot
# bash tests/mutants.sh geom --each 0        all of a folder
# bash tests/mutants.sh --since main         all of the lines that changed since a commit
# bash tests/mutants.sh --at src/geom/mesh.rs:120
# bash tests/mutants.sh --again target/mutants/results.json --results target/mutants/again.json
set -euo pipefail
cd "$(dirname "$0")/.."
CARGO_TARGET_DIR=$(realpath -m "${CARGO_TARGET_DIR:-target}")
export CARGO_TARGET_DIR
mkdir -p target/mutants
cargo run --quiet --locked --manifest-path tests/mutants/Cargo.toml --target-dir target/mutants/tool -- "$@"
