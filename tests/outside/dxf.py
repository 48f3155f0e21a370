"""Drawings: read by ezdxf, its audit finds and fixes nothing; sticks are where the JSON says."""

import ezdxf

from common import FOLDER, bounds, close, groups_of_obj, report, roofs, sticks

PARTS = {"PLAN", "SECTION", "PATTERN", "SOLID"}


def id_and_mark(entity):
    if not entity.has_xdata("STEPOFF"):
        return None
    values = [value for code, value in entity.get_xdata("STEPOFF") if code == 1000]
    return values[0].removeprefix("id "), values[1].removeprefix("mark ")


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
            assert id not in seen[part], f"{id} twice in {part}"
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
    is_gable = "ridge" in report(name)
    # a section is drawn of one gable alone
    assert ("common rafter" in {wanted[id][0]["role"] for id in seen["SECTION"]}) == is_gable
    marks = [entity for entity in entities if entity.dxf.layer == "PLAN-MARKS"]
    assert len(marks) == len(wanted), "every stick's mark"
    job = next((used["value"] for used in report(name)["used"] if used["key"] == "job.name"), None)
    titles = [entity.dxf.text for entity in entities if entity.dxf.layer.endswith("-TITLE")]
    # a percent sign doubled would be read as an order, so it is parted
    if job is not None:
        assert titles.count(job.replace("%%", "% % ")) == (3 if is_gable else 2), titles
    handles = [entity.dxf.handle for entity in entities]
    assert len(set(handles)) == len(handles)
    print(f"{name}.dxf: no errors, no fixes, {len(entities)} entities")
