"""Models in space: the glTF and OBJ forms hold the same solids in the same places as the JSON says."""

import json

import numpy
import trimesh

from common import FOLDER, bounds, close, groups_of_obj, report, roofs, sticks, volume

METER = 0.0254

for name, factor in roofs():
    wanted = sticks(name)
    solids = groups_of_obj(name)
    assert set(solids) == set(wanted)
    for id, faces in solids.items():
        close(volume(faces) / factor**3, wanted[id][0]["volume_in3"], relative=1e-6, what=id)
    data = (FOLDER / f"{name}.glb").read_bytes()
    length = int.from_bytes(data[12:16], "little")
    tree = json.loads(data[20 : 20 + length])
    panels = {node["name"] for node in tree["nodes"] if "panel" in node.get("extras", {})}
    scene = trimesh.load(FOLDER / f"{name}.glb")
    nodes = set(scene.graph.nodes_geometry)
    assert nodes == set(wanted) | panels, nodes ^ (set(wanted) | panels)
    for id in wanted:
        matrix, mesh_name = scene.graph[id]
        assert mesh_name.startswith(wanted[id][0]["mark"])
        mesh = scene.geometry[mesh_name].copy()
        mesh.apply_transform(matrix)
        # y up in meters; x along the ridge, so the roof's y is -z
        corners = numpy.column_stack((mesh.vertices[:, 0], -mesh.vertices[:, 2], mesh.vertices[:, 1])) / METER
        good = bounds([[part / factor for part in corner] for face in solids[id] for corner in face])
        for found, right in zip(bounds(corners.tolist()), good):
            for a, b in zip(found, right):
                # numbers of 32 bits: a thousandth of an inch over a long building
                close(a, b, absolute=1e-3, what=id)
        mesh.merge_vertices(merge_norm=True)
        close(abs(mesh.volume) / METER**3, wanted[id][0]["volume_in3"], relative=1e-3, what=f"volume of {id}")
        assert mesh.volume > 0.0, f"{id} is turned inside out"
    marks = {node["name"]: node["extras"]["mark"] for node in tree["nodes"] if "mark" in node.get("extras", {})}
    assert marks == {id: stick["mark"] for id, (stick, _) in wanted.items()}
    # a tree: every node but the roof is under one other, every stick under its role
    (root,) = tree["scenes"][0]["nodes"]
    above = {}
    for number, node in enumerate(tree["nodes"]):
        for child in node.get("children", []):
            assert child not in above
            above[child] = number
    assert set(above) | {root} == set(range(len(tree["nodes"]))) and root not in above
    for number, node in enumerate(tree["nodes"]):
        if node["name"] in wanted:
            assert tree["nodes"][above[number]]["name"] == wanted[node["name"]][0]["role"], node["name"]
    # panels are as many and as large as they are laid, all equally thick
    if panels:
        pieces = report(name, "sheathing.json")["pieces"]
        assert len(pieces) == len(panels)
        volumes = []
        for id in panels:
            mesh = scene.geometry[scene.graph[id][1]].copy()
            mesh.merge_vertices(merge_norm=True)
            assert mesh.volume > 0.0, f"{id} is turned inside out"
            volumes.append(mesh.volume / METER**3)
        if "corners_in" in pieces[0]:
            rings = [piece["corners_in"] for piece in pieces]
        else:
            rings = [[[0, 0], [w, 0], [w, h], [0, h]] for w, h in ((p["width_in"], p["height_in"]) for p in pieces)]
        areas = [
            abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, ring[1:] + ring[:1]))) / 2 for ring in rings
        ]
        thick = sum(volumes) / sum(areas)
        assert 0.3 < thick < 0.8, thick
        for found, good in zip(sorted(volumes), sorted(areas)):
            close(found, good * thick, relative=2e-3, what="a panel")
    print(f"{name}: {len(wanted)} sticks in the same places in OBJ, glTF and JSON, {len(panels)} panels")
