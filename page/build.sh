#!/usr/bin/env bash
# Builds the page anew, all from its sources, and writes docs/page/stepoff.html (or the file named). Needs the Rust
# toolchain and node with npm; installs what it lacks: a compiler for wasm32 from Debian's packages (.ci/wasm), node's
# packages as the lockfile has them. STEPOFF_WASM=FILE takes an engine that is built already.
set -euo pipefail
cd "$(dirname "$0")/.."
out=${1:-docs/page/stepoff.html}

for program in node npm; do
    if ! command -v $program >/dev/null && command -v apt-get >/dev/null && [ "$(id -u)" = 0 ]; then
        apt-get update -qq
        apt-get install -y -qq nodejs npm >/dev/null
    fi
    command -v $program >/dev/null || {
        echo "page: $program is needed to build the page (node 20 with npm)" >&2
        exit 1
    }
done

if [ -z "${STEPOFF_WASM:-}" ]; then
    bash .ci/wasm page --quiet
    STEPOFF_WASM=$PWD/target/web/wasm32-unknown-unknown/page/stepoff_page.wasm
fi
export STEPOFF_WASM

wanted=$(cksum <page/package-lock.json)
if [ "$(cat page/node_modules/.installed 2>/dev/null)" != "$wanted" ]; then
    for attempt in 1 2 3; do
        npm ci --silent --no-audit --no-fund --prefix page && break
        [ $attempt = 3 ] && { echo "page: npm could not install page/package-lock.json" >&2; exit 1; }
        sleep $((attempt * 3))
    done
    echo "$wanted" >page/node_modules/.installed
fi
(cd page && npx tsc --noEmit && npx vite build --logLevel warn)
mkdir -p "$(dirname "$out")"
cp target/page/dist/index.html "$out"

size=$(wc -c <"$out")
most=3000000
if [ "$size" -gt $most ]; then
    echo "page: $out has $size bytes, more than $most" >&2
    exit 1
fi
echo "page: $out, $size bytes"
