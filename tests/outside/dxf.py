"""Drawings: read by ezdxf, its audit finds and fixes nothing; sticks are where the JSON says, dimensions say what they
measure, what is hatched is as large as its section, and every drawing has a sheet at a usual scale."""

import re
from fractions import Fraction

import ezdxf
from ezdxf.math import Vec2, area

from common import FOLDER, bounds, close, groups_of_obj, report, roofs, sticks

PARTS = {"PLAN", "SECTION", "PATTERN", "SOLID"}


def id_and_mark(entity):
    if not entity.has_xdata("STEPOFF"):
        return None
    values = [value for code, value in entity.get_xdata("STEPOFF") if code == 1000]
    return values[0].removeprefix("id "), values[1].removeprefix("mark ")


# scales of drawings in feet and inches; of metric ones (ISO 5455), with 1 to 25
SCALES = {
    1.0: [1, 2, 4, 8, 12, 16, 24, 32, 48, 64, 96, 192],
    25.4: [1, 2, 5, 10, 20, 25, 50, 100, 200],
}
SHEETS = {"PLAN": "Framing plan", "SECTION": "Building section", "PATTERN": "Pattern rafter"}


def said(text, factor):
    """The length that a dimension says, in the file's unit."""
    if factor != 1.0:
        return float(re.search(r"(\d+)(?: mm)?$", text).group(1))
    feet, inches, whole, part = re.search(
        r"(?:(\d+)' )?(?:(\d+)-)?(\d+)(?:/(\d+))?\"$", text
    ).groups()
    # one number alone is whole inches, a pair is a fraction
    amount = int(whole) / int(part) if part else int(whole)
    return 12 * int(feet or 0) + int(inches or 0) + amount


def check_dimensions(drawing, name, factor, wanted):
    """Each measures the distance of its points and says so; the pattern has one for each mark."""
    found = list(drawing.modelspace().query("DIMENSION"))
    step = 1 / 32 if factor == 1.0 else 0.5
    for dimension in found:
        between = (dimension.dxf.defpoint3 - dimension.dxf.defpoint2).magnitude
        close(dimension.get_measurement(), between, absolute=1e-6)
        close(dimension.dxf.actual_measurement, between, absolute=1e-6)
        close(said(dimension.dxf.text, factor), between, absolute=step + 1e-6, what=dimension.dxf.text)
        block = dimension.get_geometry_block()
        kinds = sorted(entity.dxftype() for entity in block)
        assert kinds == ["LINE"] * 5 + ["TEXT"], kinds
        (text,) = block.query("TEXT")
        assert text.dxf.text == dimension.dxf.text
    by_part = {part: [d for d in found if d.dxf.layer == f"{part}-DIMENSIONS"] for part in SHEETS}
    assert sum(len(of) for of in by_part.values()) == len(found)
    used = {one["key"]: one["value"] for one in report(name)["used"]}
    for part, key in (("PLAN", "building.length"), ("PLAN", "building.span"), ("SECTION", "building.span"), ("SECTION", "building.wall_height")):
        lengths = [dimension.get_measurement() for dimension in by_part[part]]
        assert any(abs(length - used[key] * factor) < 1e-6 for length in lengths), (part, key, lengths)
    commons = [stick for stick in report(name)["sticks"] if stick["role"] == "common rafter"]
    if commons:
        marks = [mark for edge in ("top", "bottom") for mark in commons[0][f"marks_{edge}_in"][1:]]
        lengths = [dimension.get_measurement() for dimension in by_part["PATTERN"]]
        assert len(lengths) == len(marks)
        for length, mark in zip(sorted(lengths), sorted(marks)):
            close(length, mark * factor, absolute=1e-6, what="mark of the pattern")
    return len(found)


def check_hatches(drawing, factor, wanted, solids):
    """What is hatched is cut wood: in the section, within its own stick, and of a level stick as large as its section."""
    found = list(drawing.modelspace().query("HATCH"))
    cut = {}
    for hatch in found:
        assert hatch.dxf.layer == "SECTION-CUT" and not hatch.dxf.solid_fill
        assert len(hatch.pattern.lines) == 1
        (path,) = hatch.paths
        cut.setdefault(id_and_mark(hatch)[0], []).append([Vec2(point[:2]) for point in path.vertices])
    assert "ridge board" in {wanted[id][0]["role"] for id in cut} or "top plate" in {wanted[id][0]["role"] for id in cut}
    for id, rings in cut.items():
        low, high = bounds([corner for face in solids[id] for corner in face])
        for axis, up in ((1, 0), (2, 1)):
            ends = [point[up] for ring in rings for point in ring]
            assert max(ends) - min(ends) <= high[axis] - low[axis] + 1e-6, id
        stick, placement = wanted[id]
        if stick["role"] == "top plate":
            size = stick["thickness_in"] * stick["depth_in"] * factor**2
            close(sum(abs(area(ring)) for ring in rings), size, relative=1e-6, what=f"cut of {id}")
    return len(found)


def told_scale(text):
    """The scale that a title tells: 48 for 1/4" = 1'-0", 50 for 1:50; None if it tells none."""
    told = re.search(r"scale (?:1:(?P<ratio>[\d.]+)|(?P<inches>[\d/-]+)\" = 1'-0\"|full size) on ", text)
    if told is None:
        return None
    if told["ratio"]:
        return float(told["ratio"])
    if told["inches"]:
        return float(12 / sum(Fraction(part) for part in told["inches"].split("-")))
    return 1.0


def check_sheets(drawing, factor):
    """A sheet for each drawing, all of it in a window at a usual scale."""
    names = [SHEETS[part] for part in SHEETS]
    assert drawing.layout_names_in_taborder() == ["Model", "All drawings", *names]
    wide, high = (431.8, 279.4) if factor == 1.0 else (420.0, 297.0)
    for part, title in [(None, "All drawings"), *SHEETS.items()]:
        sheet = drawing.layout(title)
        close(sheet.dxf.paper_width, wide, absolute=1e-6)
        close(sheet.dxf.paper_height, high, absolute=1e-6)
        whole, window = sorted(sheet.query("VIEWPORT"), key=lambda port: port.dxf.id)
        inch = 25.4 / factor
        close(whole.dxf.width * inch, wide, absolute=1e-6)
        ratio = window.dxf.view_height / window.dxf.height
        assert any(abs(ratio - scale) < 1e-6 for scale in SCALES[factor]), ratio
        middle, half = window.dxf.center, (window.dxf.width / 2, window.dxf.height / 2)
        for axis, size in ((0, wide), (1, high)):
            assert middle[axis] - half[axis] > 0 and middle[axis] + half[axis] < size / inch
        if part is None:
            continue
        told = [told_scale(text.dxf.text) for text in sheet.query("TEXT")]
        assert any(scale is not None and abs(scale - ratio) < 1e-6 for scale in told), (ratio, told)
        low = [window.dxf.view_center_point[axis] - half[axis] * ratio for axis in (0, 1)]
        far = [window.dxf.view_center_point[axis] + half[axis] * ratio for axis in (0, 1)]
        for entity in drawing.modelspace().query("LWPOLYLINE"):
            if entity.dxf.layer.startswith(f"{part}-"):
                for point in entity.get_points():
                    for axis in (0, 1):
                        assert low[axis] - 1e-6 <= point[axis] <= far[axis] + 1e-6, (part, entity.dxf.layer)


for name, factor in roofs():
    drawing = ezdxf.readfile(FOLDER / f"{name}.dxf")
    audit = drawing.audit()
    told = [entry.message for entry in [*audit.errors, *audit.fixes]]
    assert not told, told
    assert drawing.units == (1 if factor == 1.0 else 4), drawing.units
    wanted = sticks(name)
    solids = groups_of_obj(name)
    seen = {part: set() for part in PARTS}
    entities = list(drawing.modelspace())
    for entity in entities:
        part, _, kind = entity.dxf.layer.partition("-")
        assert part in PARTS and kind, entity.dxf.layer
        layer = drawing.layers.get(entity.dxf.layer)
        assert layer.is_frozen() == (part == "SOLID"), entity.dxf.layer
        tag = id_and_mark(entity)
        if tag is None:
            continue
        id, mark = tag
        assert wanted[id][0]["mark"] == mark, tag
        if entity.dxftype() != "TEXT":
            # what is cut may have several outlines, and a hatch in each
            assert id not in seen[part] or part == "SECTION", f"{id} twice in {part}"
            seen[part].add(id)
        else:
            assert entity.dxf.text == mark
        if part == "SOLID":
            corners = [vertex.dxf.location for vertex in entity.vertices if vertex.is_poly_face_mesh_vertex]
            faces = [vertex for vertex in entity.vertices if vertex.is_face_record]
            corners_wanted = [corner for face in solids[id] for corner in face]
            for found, good in zip(bounds([tuple(c) for c in corners]), bounds(corners_wanted)):
                for a, b in zip(found, good):
                    close(a, b, absolute=1e-6, what=f"{id} in space")
            # triangles of a closed body, by Euler: faces = 2 corners - 4
            assert len(faces) == 2 * len(corners) - 4, id
        elif part == "PLAN" and entity.dxftype() == "LWPOLYLINE":
            low, high = bounds([corner for face in solids[id] for corner in face])
            flat = bounds([point[:2] for point in entity.get_points()])
            for found, good in zip(flat, (low[:2], high[:2])):
                for a, b in zip(found, good):
                    close(a, b, absolute=1e-6, what=f"{id} in plan")
    assert seen["PLAN"] == seen["SOLID"] == set(wanted), "every stick in plan and in space"
    roles = {wanted[id][0]["role"] for id in seen["SECTION"]}
    assert roles & {"common rafter", "hip jack", "end rafter"}, roles
    counts = (check_dimensions(drawing, name, factor, wanted), check_hatches(drawing, factor, wanted, solids))
    check_sheets(drawing, factor)
    marks = [entity for entity in entities if entity.dxf.layer == "PLAN-MARKS"]
    assert len(marks) == len(wanted), "every stick's mark"
    job = next((used["value"] for used in report(name)["used"] if used["key"] == "job.name"), None)
    titles = [entity.dxf.text for entity in entities if entity.dxf.layer.endswith("-TITLE")]
    # a percent sign doubled would be read as an order, so it is parted
    if job is not None:
        assert titles.count(job.replace("%%", "% % ")) == 3, titles
    handles = [entity.dxf.handle for entity in entities]
    assert len(set(handles)) == len(handles)
    print(f"{name}.dxf: no errors, no fixes, {len(entities)} entities, {counts[0]} dimensions, {counts[1]} hatches")
