#!/usr/bin/env bash
# The page's tests: its engine against the program, under node; then the page in Debian's Chromium, without network.
# Needs page/build.sh before it, and the program (STEPOFF, else target/debug/stepoff). ROOFS: how many random roofs.
set -euo pipefail
cd "$(dirname "$0")/../.."
stepoff=${STEPOFF:-$(realpath "${CARGO_TARGET_DIR:-target}")/debug/stepoff}
roofs=${ROOFS:-50}

if [ ! -x "${CHROMIUM:-/usr/bin/chromium}" ] && command -v apt-get >/dev/null && [ "$(id -u)" = 0 ]; then
    apt-get update -qq
    apt-get install -y -qq chromium >/dev/null
fi
[ -x "${CHROMIUM:-/usr/bin/chromium}" ] || {
    echo "page tests: Chromium is needed (Debian's package chromium, or CHROMIUM=FILE)" >&2
    exit 1
}
if [ -z "${STEPOFF:-}" ]; then cargo build --locked --quiet; fi
node page/test/engine.mjs "$stepoff" "$roofs"
node page/test/browser.mjs "$stepoff" "$roofs"
