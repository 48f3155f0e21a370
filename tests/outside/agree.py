"""Models in space: the glTF and OBJ forms hold the same solids in the same places as the JSON says."""

import json

import numpy
import trimesh

from common import FOLDER, bounds, close, groups_of_obj, roofs, sticks, volume

METER = 0.0254

for name, factor in roofs():
    wanted = sticks(name)
    solids = groups_of_obj(name)
    assert set(solids) == set(wanted)
    for id, faces in solids.items():
        close(volume(faces) / factor**3, wanted[id][0]["volume_in3"], relative=1e-6, what=id)
    scene = trimesh.load(FOLDER / f"{name}.glb")
    nodes = set(scene.graph.nodes_geometry)
    assert nodes == set(wanted), nodes ^ set(wanted)
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
    data = (FOLDER / f"{name}.glb").read_bytes()
    length = int.from_bytes(data[12:16], "little")
    tree = json.loads(data[20 : 20 + length])
    marks = {node["name"]: node["extras"]["mark"] for node in tree["nodes"]}
    assert marks == {id: stick["mark"] for id, (stick, _) in wanted.items()}
    print(f"{name}: {len(nodes)} solids in the same places in OBJ, glTF and JSON")
