#!/usr/bin/env bash
# Files that stepoff writes, read by programs that others wrote. Needs python 3.11 with pip, node with npm;
# installs what is missing: those two from the machine's packages, the readers under target/outside, once for each list of them.
set -euo pipefail
cd "$(dirname "$0")/../.."
here=tests/outside
kept=target/outside
files=$kept/files
stepoff=${STEPOFF:-${CARGO_TARGET_DIR:-target}/debug/stepoff}

# a download may fail by chance: try three times in all
patiently() {
    local attempt
    for attempt in 1 2 3; do
        if "$@"; then return 0; fi
        echo "outside readers: attempt $attempt failed: $*" >&2
        sleep $((attempt * 3))
    done
    return 1
}

# A program from the machine's own packages, if it is missing and they are available
need() {
    local program=$1 package=$2
    if command -v "$program" >/dev/null; then return 0; fi
    if command -v apt-get >/dev/null && [ "$(id -u)" = 0 ]; then
        patiently apt-get update -qq
        patiently apt-get install -y -qq "$package" >/dev/null
    fi
    command -v "$program" >/dev/null || {
        echo "outside readers: $program is needed (package $package)" >&2
        return 1
    }
}

install() {
    need python3 python3-venv
    need npm npm
    local wanted
    wanted=$(cat $here/requirements.txt $here/package-lock.json | cksum)
    if [ "$(cat $kept/installed 2>/dev/null)" = "$wanted" ]; then return 0; fi
    local python=${PYTHON:-}
    if [ -z "$python" ]; then
        for python in python3.11 python3.12 python3.13 python3; do
            if command -v $python >/dev/null; then break; fi
        done
    fi
    rm -rf $kept/venv $kept/node_modules
    mkdir -p $kept
    "$python" -m venv $kept/venv
    patiently $kept/venv/bin/pip install --quiet --disable-pip-version-check -r $here/requirements.txt
    cp $here/package.json $here/package-lock.json $kept/
    patiently npm ci --silent --no-audit --no-fund --prefix $kept
    echo "$wanted" >$kept/installed
}

# Writes every file format of one roof but the sheets: NAME FILE UNIT
write_any() {
    local name=$1 roof=$2 unit=$3 form
    for form in dxf ifc obj xlsx; do
        "$stepoff" export "$roof" --to $form --unit "$unit" -o "$files/$name.$form" --quiet
    done
    "$stepoff" export "$roof" --to gltf -o "$files/$name.glb" --quiet
    "$stepoff" export "$roof" --to csv -o "$files/$name.csv" --quiet
    # status 1 means that a finding fails or needs design, not that a file is wrong
    "$stepoff" export "$roof" --to json -o "$files/$name.json" --quiet || [ $? = 1 ]
    "$stepoff" layout "$roof" --format json >"$files/$name.layout.json"
    "$stepoff" sheathing "$roof" --format json --quiet >"$files/$name.sheathing.json" || [ $? = 1 ]
    "$stepoff" order "$roof" --format json --xlsx "$files/$name.order.xlsx" --quiet >"$files/$name.order.json" || [ $? = 1 ]
    echo "$unit" >"$files/$name.unit"
}

# The same of a roof whose file names no panel, with one: NAME FILE UNIT
write_decked() {
    printf '\n[sheathing]\npanel = "24/16"\n' | cat "$2" - >"$files/$1.toml"
    write_any "$1" "$files/$1.toml" "$3"
}

# Everything of one gable: NAME FILE UNIT
write() {
    local name=$1 roof=$2
    write_any "$@"
    # PDFs: a command that writes one puts it here, as $files/$name.pdf; pdf.py reads whatever is there
    if "$stepoff" sheets --help >/dev/null 2>&1; then
        "$stepoff" sheets "$roof" -o "$files/$name.pdf" --quiet || [ $? = 1 ]
        "$stepoff" sheets "$roof" --only section -o "$files/$name.png" --quiet || [ $? = 1 ]
    fi
}

install
if [ -z "${STEPOFF:-}" ]; then cargo build --locked --quiet; fi
rm -rf $files
mkdir -p $files
write kestrel-yard examples/kestrel-yard.toml inches
write shallow examples/odd/shallow.toml inches
write steep examples/odd/steep.toml inches
write metric examples/odd/metric.toml mm
# letters beyond ASCII, quotes and signs that some formats read as commands
sed "s/^name = .*/name = \"The fox's ½ roof, 100 %% é\"/" examples/odd/shallow.toml >$files/letters.toml
write letters $files/letters.toml mm
# roofs of other shapes: hips, a shed, a wing with valleys, hips and valleys together in metric, a wing laid over, dormers
write_decked hip tests/data/roofs/01-hip-both-ends.toml inches
write_any shed tests/data/roofs/04-shed.toml inches
write_any wing tests/data/roofs/05-L.toml inches
write_decked cross tests/data/roofs/07-cross-hip-wings.toml mm
write_decked over-framed tests/data/roofs/09-over-framed.toml inches
write_decked dormers tests/data/roofs/10-dormers.toml inches
write_any l-shape docs/guide/l-shape.toml inches

# all readers at once, each with its own output
readers=(gltf dxf ifc spreadsheet agree pdf png)
read_by() {
    case $1 in
    gltf) node $here/gltf.js $files/*.glb ;;
    *) $kept/venv/bin/python $here/"$1".py $files ;;
    esac
}
declare -A running
for reader in "${readers[@]}"; do
    read_by "$reader" >$files/"$reader".log 2>&1 &
    running[$reader]=$!
done
failed=()
for reader in "${readers[@]}"; do
    wait "${running[$reader]}" || failed+=("$reader")
    cat $files/"$reader".log
done
if [ ${#failed[@]} -gt 0 ]; then
    echo "outside readers: ${failed[*]} found faults" >&2
    exit 1
fi
echo "outside readers: all files read"
