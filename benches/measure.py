#!/usr/bin/env python3
"""Measures again what docs/speed.md says of speed, and writes its tables.

    python3 benches/measure.py            whole processes, then all benchmarks
    python3 benches/measure.py processes  whole processes alone
    python3 benches/measure.py frame deck the benchmarks with these names

Let nothing else run meanwhile. Every table is replaced between its two marks in docs/speed.md, with the machine and the day; what was
not measured stays as it was. No test calls this: a time is no promise of a test.
"""

import datetime
import os
import pathlib
import platform
import re
import statistics
import subprocess
import sys
import tempfile
import time

ROOT = pathlib.Path(__file__).resolve().parent.parent
PAGE = ROOT / "docs" / "speed.md"
KESTREL = "examples/kestrel-yard.toml"
PRICES = ["--prices", "examples/prices.toml"]
RUNS = 30
BENCHES = ["rafter", "frame", "strength", "cutting", "deck", "order", "sheets", "compare", "fit"]
PROCESSES = [
    ("rafter", ["rafter", KESTREL]),
    ("eave", ["eave", KESTREL]),
    ("prove", ["prove", KESTREL]),
    ("layout", ["layout", KESTREL]),
    ("check", ["check", KESTREL]),
    ("frame", ["frame", KESTREL]),
    ("sheathing", ["sheathing", KESTREL]),
    ("cuts with prices", ["cuts", KESTREL, *PRICES]),
    ("cuts", ["cuts", KESTREL]),
    ("order with prices", ["order", KESTREL, *PRICES]),
    ("order", ["order", KESTREL]),
    ("frame of an L with hips and valleys", ["frame", "docs/guide/l-shape.toml"]),
    ("check of that L", ["check", "docs/guide/l-shape.toml"]),
    ("the set of sheets as PDF", ["sheets", KESTREL, "-o", "{}/set.pdf", "--force"]),
    ("the same with prices", ["sheets", KESTREL, *PRICES, "-o", "{}/set.pdf", "--force"]),
    *((f"export to {to}", ["export", KESTREL, "--to", to, "-o", "{}/roof." + to, "--force"])
      for to in ("gltf", "obj", "csv", "xlsx", "ifc", "dxf")),
]


def built(*what):
    """Runs cargo; its output."""
    return subprocess.run(["cargo", *what], cwd=ROOT, check=True, stdout=subprocess.PIPE, text=True).stdout


def machine():
    """What it was measured on."""
    names = re.findall(r"model name\s*: (.*)", pathlib.Path("/proc/cpuinfo").read_text()) if os.path.exists("/proc/cpuinfo") else []
    load = f", load {os.getloadavg()[0]:.1f} before" if hasattr(os, "getloadavg") else ""
    return f"{datetime.date.today():%-d %B %Y}, {names[0] if names else platform.machine()}, {os.cpu_count()} cores{load}"


def times(command):
    """Seconds of whole processes, after one to warm up."""
    found = []
    for run in range(RUNS + 1):
        start = time.perf_counter()
        done = subprocess.run(command, cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
        taken = time.perf_counter() - start
        # a check that fails is an answer too
        if done.returncode not in (0, 1):
            sys.exit(f"{' '.join(command)} ended with {done.returncode}: {done.stderr.decode()}")
        if run > 0:
            found.append(taken)
    return found


def processes():
    """The table of whole processes, each with its ratio to an empty program."""
    built("build", "--release", "--locked", "--quiet")
    target = pathlib.Path(os.environ.get("CARGO_TARGET_DIR", ROOT / "target"))
    program = str(target / "release" / "stepoff")
    with tempfile.TemporaryDirectory() as folder:
        source = pathlib.Path(folder) / "empty.rs"
        source.write_text("fn main() {}")
        empty = str(pathlib.Path(folder) / "empty")
        subprocess.run(["rustc", "-O", "-C", "strip=symbols", "-o", empty, str(source)], check=True)
        nothing = statistics.median(times([empty]))
        rows = ["| command, whole process, median (fastest) of %d | time | times an empty program |" % RUNS, "|---|---|---|"]
        rows.append(f"| an empty program | {nothing * 1e3:.1f} ms | 1 |")
        for name, arguments in PROCESSES:
            found = times([program, *(one.format(folder) for one in arguments)])
            middle = statistics.median(found)
            rows.append(f"| {name} | {middle * 1e3:.1f} ms ({min(found) * 1e3:.1f}) | {middle / nothing:.1f} |")
    return rows


def benchmark(name):
    """The table of one benchmark: divan prints fastest, slowest, median and mean beside each name."""
    rows = ["| benchmark | median | fastest |", "|---|---|---|"]
    above = []
    for line in built("bench", "--locked", "--quiet", "--bench", name).splitlines():
        found = re.match(r"^((?:│  |   )*)[├╰]─ (\S+)\s+(\d.*)$", line)
        branch = re.match(r"^((?:│  |   )*)[├╰]─ (\S+)\s*(?:│.*)?$", line)
        if found:
            depth = len(found[1]) // 3
            names = [*above[:depth], found[2]]
            columns = [part.strip() for part in found[3].split("│")]
            rows.append(f"| {' '.join(names).replace('_', ' ')} | {columns[2]} | {columns[0]} |")
        elif branch:
            depth = len(branch[1]) // 3
            above[depth:] = [branch[2]]
    if len(rows) == 2:
        sys.exit(f"the benchmark {name} printed no table that can be read")
    return rows


def write(name, rows):
    """Replaces a table of docs/speed.md, or adds it at the end."""
    begin, end = f"<!-- {name}: begin -->", f"<!-- {name}: end -->"
    block = "\n".join([begin, f"Measured {machine()}.", "", *rows, end])
    text = PAGE.read_text()
    if begin in text:
        text = re.sub(re.escape(begin) + r".*?" + re.escape(end), lambda _: block, text, flags=re.S)
    else:
        text = text.rstrip() + f"\n\n## {name.capitalize()}\n\n{block}\n"
    PAGE.write_text(text)
    print(block)


def main():
    wanted = sys.argv[1:] or ["processes", *BENCHES]
    for name in wanted:
        if name != "processes" and name not in BENCHES:
            sys.exit(f"{name} is none of: processes, {', '.join(BENCHES)}")
        write(name, processes() if name == "processes" else benchmark(name))


if __name__ == "__main__":
    main()
