"""Building models: ifcopenshell's schema and express rules find nothing; volumes and places are the solids'."""

import ifcopenshell
import ifcopenshell.geom
import ifcopenshell.util.element as element
import ifcopenshell.util.placement as placing
import ifcopenshell.util.shape as shapes
import ifcopenshell.util.unit as units
import ifcopenshell.validate

from common import FOLDER, bounds, close, groups_of_obj, report, roofs, sticks

WORLD = ifcopenshell.geom.settings()
WORLD.set("use-world-coords", True)


def quantities(product):
    (found,) = element.get_psets(product, qtos_only=True).values()
    return found


for name, factor in roofs():
    path = str(FOLDER / f"{name}.ifc")
    model = ifcopenshell.open(path)
    log = ifcopenshell.validate.json_logger()
    ifcopenshell.validate.validate(model, log, express_rules=True)
    assert not log.statements, log.statements[:5]
    ids = [root.GlobalId for root in model.by_type("IfcRoot")]
    assert len(set(ids)) == len(ids)
    meter = units.calculate_unit_scale(model)
    close(meter, 0.0254 / factor)
    cubic = units.calculate_unit_scale(model, "VOLUMEUNIT")
    wanted = sticks(name)
    solids = groups_of_obj(name)
    wall = next(used["value"] for used in report(name)["used"] if used["key"] == "building.wall_height")
    members = {product.Tag: product for product in model.by_type("IfcMember") + model.by_type("IfcBeam")}
    assert set(members) == set(wanted), "every stick once"
    for id, product in members.items():
        stick, placement = wanted[id]
        assert product.Name == stick["mark"] and product.ObjectType == stick["role"], id
        sizes = quantities(product)
        inch = 0.0254
        body = ifcopenshell.geom.create_shape(WORLD, product).geometry
        volume = shapes.get_volume(body)
        close(sizes["NetVolume"] * cubic, volume, relative=1e-6, absolute=0.0, what=f"volume of {id}")
        close(volume, stick["volume_in3"] * inch**3, relative=1e-6, absolute=0.0, what=f"solid of {id}")
        close(sizes["Length"] * meter, stick["blank_in"] * inch, what=f"length of {id}")
        cuts = element.get_psets(product)["Stepoff_CutList"]
        assert cuts["Mark"] == stick["mark"]
        close(cuts["BlankLength"] * meter, stick["blank_in"] * inch)
        for end, told in zip(stick["ends"], ("Start", "End")):
            assert cuts[f"{told}Cut"] == end["cut"]
            close(cuts[f"{told}Miter"], end["miter_deg"])
            close(cuts[f"{told}Bevel"], end["bevel_deg"])
        # the origin of its placement, and every corner, from the top of the plate
        matrix = placing.get_local_placement(product.ObjectPlacement)
        origin = [value * meter / inch for value in matrix[:3, 3]]
        for found, good in zip(origin, (placement["x_in"], placement["y_in"], placement["z_in"] + wall)):
            close(found, good, absolute=1e-6, what=f"place of {id}")
        corners = shapes.get_vertices(body) / inch
        good = bounds([[part / factor for part in corner] for face in solids[id] for corner in face])
        for found, wanted_bounds in zip(bounds(corners.tolist()), good):
            for axis, (a, b) in enumerate(zip(found, wanted_bounds)):
                close(a, b + (wall if axis == 2 else 0.0), absolute=1e-5, what=f"corners of {id}")
        material = element.get_material(product)
        profile = material.MaterialProfiles[0].Profile
        close(profile.XDim * meter / inch, stick["thickness_in"])
        close(profile.YDim * meter / inch, stick["depth_in"])
    plates = model.by_type("IfcPlate")
    slabs = {slab.Tag: slab for slab in model.by_type("IfcSlab")}
    assert set(slabs) == {f"plane {plane['face']}" for plane in report(name)["planes"]}
    (roof,) = model.by_type("IfcRoof")
    assert set(element.get_decomposition(roof)) >= set(slabs.values())
    rafters = [solids[id] for id in wanted if wanted[id][0]["role"] == "common rafter"]
    for plate in plates:
        sizes = quantities(plate)
        body = ifcopenshell.geom.create_shape(WORLD, plate).geometry
        close(sizes["NetVolume"] * cubic, shapes.get_volume(body), relative=1e-6, absolute=0.0)
    if plates:
        # the panels lie on the rafters: in the direction square to plane A no rafter reaches above their undersides
        on_a = [plate for plate in element.get_decomposition(slabs["plane A"])]
        matrix = placing.get_local_placement(on_a[0].ObjectPlacement)
        normal, origin = matrix[:3, 2], matrix[:3, 3] * meter / 0.0254
        level = float(normal @ origin)
        for plate in on_a:
            corners = shapes.get_vertices(ifcopenshell.geom.create_shape(WORLD, plate).geometry) / 0.0254
            close(min(corners @ normal), level, absolute=1e-5, what="undersides in one plane")
        highest = max(
            sum(n * part for n, part in zip(normal, (x / factor, y / factor, z / factor + wall)))
            for faces in rafters
            for face in faces
            for x, y, z in face
        )
        close(highest, level, absolute=1e-5, what="rafters under the panels")
    print(f"{name}.ifc: no findings, {len(members)} members, {len(plates)} panels, volumes equal")
