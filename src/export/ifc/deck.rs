//! The roof: its planes as slabs, and the panels on them as plates.

use super::Model;
use super::stem::{axes, direction};
use super::step::{Id, Value};
use crate::export::panels::Panel;
use crate::geom::DVec3;
use crate::plan::Blocks;
use crate::plan::blocks::End;
use crate::roof::Face;

/// The standard's word for a roof (`IfcRoofTypeEnum`), with words of its own where there is none for it.
fn kind(blocks: &Blocks) -> (&'static str, Option<&'static str>) {
    let is_one =
        blocks.wings.is_empty() && blocks.laid_over.is_empty() && blocks.dormers.is_empty();
    let hips = blocks.ends.iter().filter(|end| matches!(end, End::Hip(_))).count();
    match (is_one, blocks.shed, hips) {
        (true, true, 0) => ("SHED_ROOF", None),
        (true, false, 0) => ("GABLE_ROOF", None),
        (true, false, 2) => ("HIP_ROOF", None),
        (true, ..) => ("USERDEFINED", Some("roof with one hip end")),
        (false, ..) => ("USERDEFINED", Some("roof of several blocks")),
    }
}

impl Model<'_> {
    /// The roof with its planes and their panels.
    pub(super) fn roof(&mut self) -> Id {
        let place = self.place(DVec3::ZERO, DVec3::X, DVec3::Z);
        let mut values = self.rooted("roof", "roof".into(), Value::Unset);
        let (kind, words) = kind(&self.ask.sticks.plan.blocks);
        values.extend([words.into(), place.into(), Value::Unset, "roof".into(), Value::Word(kind)]);
        let roof = self.step.add("IFCROOF", values);
        self.has(roof, "roof", "Pset_RoofCommon", &[("IsExternal", "IFCBOOLEAN", true.into())]);
        let all = &self.ask.sticks.roof.faces;
        let sum = |area: fn(&Face) -> f64| all.iter().map(area).sum::<f64>() * self.area;
        let areas = [
            ("IFCQUANTITYAREA", "GrossArea", sum(Face::area)),
            ("IFCQUANTITYAREA", "ProjectedArea", sum(|face| face.plan_area)),
        ];
        let sizes = self.sizes("roof", "Qto_RoofBaseQuantities", &areas);
        let related = vec![vec![roof].into(), sizes.into()];
        self.relate("IFCRELDEFINESBYPROPERTIES", "quantities for roof", related);
        let (panels, thick) = self.ask.panels();
        let planes: Vec<Id> = all
            .iter()
            .map(|face| {
                let own: Vec<&Panel> =
                    panels.iter().filter(|panel| panel.face == face.name).collect();
                self.plane(face, &own, thick)
            })
            .collect();
        // what is under the faces that are seen: a deck that goes on under a roof laid on it
        let under: Vec<&Panel> =
            panels.iter().filter(|panel| all.iter().all(|face| face.name != panel.face)).collect();
        let under = self.panels("under the roof", &under, thick);
        let parts = [planes, under].concat();
        self.relate("IFCRELAGGREGATES", "roof has planes", vec![roof.into(), parts.into()]);
        roof
    }

    /// One plane: a slab made of its panels, or without panels the bare plane of the rafters' top
    /// edges.
    fn plane(&mut self, plane: &Face, panels: &[&Panel], thick: f64) -> Id {
        let name = format!("plane {}", plane.name);
        let panels = self.panels(&name, panels, thick);
        let shape = panels.is_empty().then(|| self.surface(plane));
        let place = self.place(DVec3::ZERO, DVec3::X, DVec3::Z);
        let mut values = self.rooted(&name, name.as_str().into(), Value::Unset);
        values.extend([
            "roof plane".into(),
            place.into(),
            shape.into(),
            name.as_str().into(),
            Value::Word("ROOF"),
        ]);
        let slab = self.step.add("IFCSLAB", values);
        let area = plane.area() * self.area;
        let sizes =
            self.sizes(&name, "Qto_SlabBaseQuantities", &[("IFCQUANTITYAREA", "GrossArea", area)]);
        self.relate(
            "IFCRELDEFINESBYPROPERTIES",
            &format!("quantities for {name}"),
            vec![vec![slab].into(), sizes.into()],
        );
        let pitch = plane.slope.tangent().atan().to_degrees();
        let told: [(&str, &'static str, Value); 3] = [
            ("Reference", "IFCIDENTIFIER", plane.name.as_str().into()),
            ("PitchAngle", "IFCPLANEANGLEMEASURE", pitch.into()),
            ("IsExternal", "IFCBOOLEAN", true.into()),
        ];
        self.has(slab, &name, "Pset_SlabCommon", &told);
        if !panels.is_empty() {
            self.relate(
                "IFCRELAGGREGATES",
                &format!("{name} has panels"),
                vec![slab.into(), panels.into()],
            );
        }
        slab
    }

    fn surface(&mut self, plane: &Face) -> Id {
        let ring = |model: &mut Self, corners: &[DVec3]| -> Vec<Id> {
            corners.iter().map(|corner| model.point(*corner)).collect()
        };
        let outline = ring(self, &plane.outline);
        let holes: Vec<Vec<Id>> = plane.holes.iter().map(|hole| ring(self, hole)).collect();
        let face = self.face(outline, holes);
        let shell = self.step.add("IFCOPENSHELL", vec![vec![face].into()]);
        let model = self.step.add("IFCSHELLBASEDSURFACEMODEL", vec![vec![shell].into()]);
        self.shape("SurfaceModel", model)
    }

    fn panels(&mut self, of: &str, panels: &[&Panel], thick: f64) -> Vec<Id> {
        let plates: Vec<Id> = panels.iter().map(|panel| self.panel(panel, thick)).collect();
        if !plates.is_empty() {
            let material = self.panel_material(thick);
            let related: Value = plates.clone().into();
            self.relate(
                "IFCRELASSOCIATESMATERIAL",
                &format!("material of panels of {of}"),
                vec![related, material.into()],
            );
        }
        plates
    }

    fn panel_material(&mut self, thick: f64) -> Id {
        let name = self.ask.panel_words();
        let wood = self
            .step
            .add_once("IFCMATERIAL", vec![name.as_str().into(), Value::Unset, "wood".into()]);
        let layer = self.step.add_once(
            "IFCMATERIALLAYER",
            vec![
                wood.into(),
                (thick * self.length).into(),
                Value::Unset,
                Value::Unset,
                Value::Unset,
                Value::Unset,
                Value::Unset,
            ],
        );
        self.step
            .add_once("IFCMATERIALLAYERSET", vec![vec![layer].into(), name.into(), Value::Unset])
    }

    /// One piece, on top of the rafters.
    fn panel(&mut self, panel: &Panel, thick: f64) -> Id {
        let id = panel.id.as_str();
        let place = self.place(panel.corner, panel.along, panel.out);
        let solid = self.extruded(panel, thick);
        self.color(solid, None);
        let shape = self.shape("SweptSolid", solid);
        let mut values = self.rooted(id, "roof panel".into(), Value::Unset);
        values.extend([
            "roof sheathing panel".into(),
            place.into(),
            shape.into(),
            id.into(),
            Value::Word("SHEET"),
        ]);
        let plate = self.step.add("IFCPLATE", values);
        let (face, round) = (panel.area(), panel.around());
        let sizes = [
            ("IFCQUANTITYLENGTH", "Width", thick * self.length),
            ("IFCQUANTITYLENGTH", "Perimeter", round * self.length),
            ("IFCQUANTITYAREA", "GrossArea", face * self.area),
            ("IFCQUANTITYAREA", "NetArea", face * self.area),
            ("IFCQUANTITYVOLUME", "GrossVolume", face * thick * self.volume),
            ("IFCQUANTITYVOLUME", "NetVolume", face * thick * self.volume),
        ];
        let sizes = self.sizes(id, "Qto_PlateBaseQuantities", &sizes);
        self.relate(
            "IFCRELDEFINESBYPROPERTIES",
            &format!("quantities for {id}"),
            vec![vec![plate].into(), sizes.into()],
        );
        let told: [(&str, &'static str, Value); 2] = [
            ("Reference", "IFCIDENTIFIER", self.ask.panel_words().into()),
            ("LoadBearing", "IFCBOOLEAN", true.into()),
        ];
        self.has(plate, id, "Pset_PlateCommon", &told);
        plate
    }

    /// A panel: its outline swept by its thickness.
    fn extruded(&mut self, panel: &Panel, thick: f64) -> Id {
        let mut corners: Vec<Id> = panel.outline.iter().map(|corner| self.flat(*corner)).collect();
        corners.extend(corners.first().copied());
        let around = self.step.add("IFCPOLYLINE", vec![corners.into()]);
        let profile = self.step.add(
            "IFCARBITRARYCLOSEDPROFILEDEF",
            vec![Value::Word("AREA"), Value::Unset, around.into()],
        );
        let origin = axes(&mut self.step, DVec3::ZERO, DVec3::X, DVec3::Z);
        let up = direction(&mut self.step, DVec3::Z);
        self.step.add(
            "IFCEXTRUDEDAREASOLID",
            vec![profile.into(), origin.into(), up.into(), (thick * self.length).into()],
        )
    }
}
