"""What the readers share: the roofs that were written, and how a check fails."""

import json
import sys
from pathlib import Path

FOLDER = Path(sys.argv[1])
INCHES = {"inches": 1.0, "mm": 25.4}


def roofs():
    """Names of the roofs, with how many of their file units make an inch."""
    found = [(path.stem, INCHES[path.read_text().strip()]) for path in sorted(FOLDER.glob("*.unit"))]
    assert len(found) >= 4, found
    return found


def report(name, ending="json"):
    return json.loads((FOLDER / f"{name}.{ending}").read_text())


def sticks(name):
    """Every stick of the frame: its id, its pattern and its placement, from the JSON form."""
    return {
        placement["id"]: (stick, placement)
        for stick in report(name)["sticks"]
        for placement in stick["placements"]
    }


def close(found, wanted, relative=1e-9, absolute=1e-9, what=""):
    assert abs(found - wanted) <= max(absolute, relative * abs(wanted)), f"{what}: {found} is not {wanted}"


def groups_of_obj(name):
    """Corners and faces of every stick, from the OBJ form, by id."""
    corners, groups, group = [], {}, None
    for line in (FOLDER / f"{name}.obj").read_text().splitlines():
        kind, *values = line.split()
        if kind == "v":
            corners.append([float(value) for value in values])
        elif kind == "g":
            group = groups.setdefault(values[0], [])
        elif kind == "f":
            group.append([int(value) - 1 for value in values])
    return {
        id: [[corners[corner] for corner in face] for face in faces] for id, faces in groups.items()
    }


def bounds(points):
    return [min(axis) for axis in zip(*points)], [max(axis) for axis in zip(*points)]


def volume(faces):
    """Volume inside closed faces, by fans from their first corners."""
    six = 0.0
    for a, *rest in faces:
        for b, c in zip(rest, rest[1:]):
            six += (
                a[0] * (b[1] * c[2] - b[2] * c[1])
                + a[1] * (b[2] * c[0] - b[0] * c[2])
                + a[2] * (b[0] * c[1] - b[1] * c[0])
            )
    return six / 6.0
