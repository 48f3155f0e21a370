"""Building models: ifcopenshell's schema and express rules find nothing; volumes and places are the solids'; standard sets
have the standard's own properties; assemblies hold every stick once; grids have the rafters' stations."""

import math

import ifcopenshell
import ifcopenshell.geom
import ifcopenshell.util.element as element
import ifcopenshell.util.placement as placing
import ifcopenshell.util.pset
import ifcopenshell.util.shape as shapes
import ifcopenshell.util.unit as units
import ifcopenshell.validate

from common import FOLDER, bounds, close, groups_of_obj, report, roofs, sticks

WORLD = ifcopenshell.geom.settings()
WORLD.set("use-world-coords", True)


def quantities(product):
    (found,) = element.get_psets(product, qtos_only=True).values()
    return found


STANDARD = ifcopenshell.util.pset.get_template("IFC4")


def check_standard_sets(model, members):
    """Sets with the standard's names are of its kinds of things, with its properties and measures."""
    seen = set()
    told = [(one, [of for relation in one.DefinesOccurrence for of in relation.RelatedObjects]) for one in model.by_type("IfcPropertySet")]
    told += [(one, [one.Material]) for one in model.by_type("IfcMaterialProperties")]
    for one, things in told:
        if not one.Name.startswith("Pset_"):
            continue
        seen.add(one.Name)
        template = STANDARD.get_by_name(one.Name)
        assert template is not None, one.Name
        allowed = {part.split("/")[0] for part in template.ApplicableEntity.split(",")}
        assert things
        for thing in things:
            assert any(thing.is_a(kind) for kind in allowed), (one.Name, thing.is_a())
        kinds = {part.Name: part.PrimaryMeasureType for part in template.HasPropertyTemplates}
        properties = one.HasProperties if one.is_a("IfcPropertySet") else one.Properties
        assert properties
        for part in properties:
            assert kinds.get(part.Name) == part.NominalValue.is_a(), (one.Name, part.Name)
    assert {"Pset_MemberCommon", "Pset_SlabCommon", "Pset_RoofCommon"} <= seen, seen
    turns = {}
    for id, product in members.items():
        # slope and roll by the placement: its x along the stick, its y up its depth
        matrix = placing.get_local_placement(product.ObjectPlacement)
        along, up = float(matrix[2, 0]), float(matrix[2, 1])
        slope = math.degrees(math.asin(min(1.0, abs(along))))
        # its depth over its reach in height, if it did not roll
        level = math.sqrt(max(0.0, 1.0 - along**2))
        roll = math.degrees(math.acos(min(1.0, abs(up) / level))) if slope < 89.9 else None
        turns.setdefault(product.Name, []).append((slope, roll))
    for id, product in members.items():
        sets = element.get_psets(product, psets_only=True)
        common = sets["Pset_BeamCommon" if product.is_a("IfcBeam") else "Pset_MemberCommon"]
        assert common["Reference"] == product.Name
        for name, all in zip(("Slope", "Roll"), zip(*turns[product.Name])):
            # what is not the same of all sticks of a pattern is not said of it
            shared = None not in all and max(all) - min(all) < 1e-4
            assert (name in common) == shared, (id, name, all)
            if shared:
                close(common[name], all[0], absolute=1e-2, what=f"{name} of {id}")
        if product.PredefinedType in ("RAFTER", "JOIST"):
            assert common["LoadBearing"] is True


def parts_of(thing):
    return [part for relation in thing.IsDecomposedBy for part in relation.RelatedObjects]


def check_assemblies(model, members, wanted):
    """Every stick is in one part of the frame, and placed in it; what leans as a face does is in that face."""
    (frame,) = [one for one in model.by_type("IfcElementAssembly") if one.Name == "frame"]
    assemblies = parts_of(frame)
    assert len(assemblies) == len(model.by_type("IfcElementAssembly")) - 1
    held = [stick for assembly in assemblies for stick in parts_of(assembly)]
    assert sorted(stick.Tag for stick in held) == sorted(members)
    for assembly in assemblies:
        for stick in parts_of(assembly):
            assert stick.ObjectPlacement.PlacementRelTo == assembly.ObjectPlacement
            assert not stick.ContainedInStructure
            if wanted[stick.Tag][0]["role"] == "common rafter":
                assert assembly.Name.startswith("face "), (stick.Tag, assembly.Name)
    return {assembly.Name: [stick.Tag for stick in parts_of(assembly)] for assembly in assemblies}


def check_colors(model):
    """Every solid has a color, by the kind of member."""
    solids = set(model.by_type("IfcFacetedBrep")) | set(model.by_type("IfcExtrudedAreaSolid"))
    styled = [item.Item for item in model.by_type("IfcStyledItem")]
    assert len(styled) == len(set(styled)) and set(styled) == solids
    assert len(model.by_type("IfcSurfaceStyle")) == len(model.by_type("IfcColourRgb")) > 3


def check_grids(model, members, wanted, factor, span):
    """Stations are the centers of the rafters that run that way, the other lines walls that they stand on."""
    grids = model.by_type("IfcGrid")
    assert 1 <= len(grids) <= 2
    for grid in grids:
        across = "along" in grid.Name
        own, other = (0, 1) if across else (1, 0)
        found = []
        for axis in grid.UAxes:
            (a, b) = [point.Coordinates for point in axis.AxisCurve.Points]
            close(a[own], b[own])
            found.append(a[own] / factor)
        rafters = [
            (placement["x_in"], placement["y_in"])[own]
            for id, (stick, placement) in wanted.items()
            if members[id].PredefinedType == "RAFTER" and stick["role"] != "barge rafter"
            if abs(placement["along"][own]) < 1e-6
        ]
        stations = sorted({round(station, 5) for station in rafters})
        assert len(found) == len(stations), (grid.Name, len(found), len(stations))
        for a, b in zip(found, stations):
            close(a, b, absolute=2e-5)
        assert [axis.AxisTag for axis in grid.UAxes] == [str(number + 1) for number in range(len(found))]
        walls = {axis.AxisTag: axis.AxisCurve.Points[0].Coordinates[other] / factor for axis in grid.VAxes}
        if across:
            close(walls["A"], 0.0)
            if span is not None:
                close(walls["B"], span, absolute=1e-6)


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
    check_standard_sets(model, members)
    assembled = check_assemblies(model, members, wanted)
    check_colors(model)
    used = {one["key"]: one["value"] for one in report(name)["used"]}
    check_grids(model, members, wanted, factor, used["building.span"])
    for plate in plates:
        sizes = quantities(plate)
        body = ifcopenshell.geom.create_shape(WORLD, plate).geometry
        close(sizes["NetVolume"] * cubic, shapes.get_volume(body), relative=1e-6, absolute=0.0)
    if plates:
        laid = report(name, "sheathing.json")["pieces"]
        assert len(plates) == len(laid)
        assert len({plate.Tag for plate in plates}) == len(plates)
    for plane, slab in slabs.items():
        own = parts_of(slab)
        if not own:
            continue
        # the panels lie on the rafters: in the direction square to the face no stick of it reaches above their undersides
        matrix = placing.get_local_placement(own[0].ObjectPlacement)
        normal, origin = matrix[:3, 2], matrix[:3, 3] * meter / 0.0254
        level = float(normal @ origin)
        for plate in own:
            corners = shapes.get_vertices(ifcopenshell.geom.create_shape(WORLD, plate).geometry) / 0.0254
            close(min(corners @ normal), level, absolute=1e-5, what="undersides in one plane")
        highest = max(
            sum(n * part for n, part in zip(normal, (x / factor, y / factor, z / factor + wall)))
            for id in assembled[plane.replace("plane ", "face ")]
            for face in solids[id]
            for x, y, z in face
        )
        close(highest, level, absolute=1e-5, what="rafters under the panels")
    print(
        f"{name}.ifc: no findings, {len(members)} members in {len(assembled)} assemblies, {len(plates)} panels, "
        f"{len(model.by_type('IfcGrid'))} grids, volumes equal"
    )
