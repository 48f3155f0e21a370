//! The roof: its planes as slabs, and the panels on them as plates.

use super::Model;
use super::stem::{axes, direction};
use super::step::{Id, Value};
use crate::deck::{Deck, Piece, RoofDeck};
use crate::frame::Frame;
use crate::geom::DVec3;
use crate::measure::quantity::InInches;
use crate::measure::trim;
use crate::plan::Blocks;
use crate::plan::blocks::End;
use crate::roof::Face;

/// A panel's shape: width, height and thickness, inches.
#[derive(Clone, Copy)]
struct Panel {
    width: f64,
    height: f64,
    thick: f64,
}

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
        let faces = 0..self.ask.sticks.roof.faces.len();
        let planes: Vec<Id> = faces.map(|number| self.plane(number)).collect();
        self.relate("IFCRELAGGREGATES", "roof has planes", vec![roof.into(), planes.into()]);
        roof
    }

    /// One plane: a slab made of its panels, or without panels the bare plane of the rafters' top
    /// edges.
    fn plane(&mut self, number: usize) -> Id {
        let plane = &self.ask.sticks.roof.faces[number];
        let name = format!("plane {}", plane.name);
        let panels = match (self.ask.sticks.gable, self.ask.deck, self.thickness()) {
            (Some(frame), Some(laid), Some(thick)) => self.panels(number, frame, laid, thick),
            _ => Vec::new(),
        };
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

    /// Thickness of the panels, inches: as given, otherwise the least in which their rating is made.
    fn thickness(&self) -> Option<f64> {
        let checks = &self.ask.plan.checks;
        let written = checks.panel_thickness.map(InInches::inches);
        written.or_else(|| checks.panel.map(|panel| panel.least_thickness_in()))
    }

    fn panels(
        &mut self,
        number: usize,
        frame: &Frame,
        (asked, laid): (&RoofDeck, &Deck),
        thick: f64,
    ) -> Vec<Id> {
        let material = self.panel_material(thick);
        let mut plates = Vec::new();
        for piece in laid.pieces.iter().filter(|piece| piece.plane == number) {
            plates.push(self.panel(number, frame, (asked, laid), piece, thick));
        }
        if !plates.is_empty() {
            let related: Value = plates.clone().into();
            self.relate(
                "IFCRELASSOCIATESMATERIAL",
                &format!("material of panels of plane {number}"),
                vec![related, material.into()],
            );
        }
        plates
    }

    fn panel_material(&mut self, thick: f64) -> Id {
        let name = match self.ask.plan.checks.panel {
            Some(panel) => format!("wood structural panel {}", panel.rating),
            None => "wood structural panel".into(),
        };
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
    fn panel(
        &mut self,
        number: usize,
        frame: &Frame,
        (asked, laid): (&RoofDeck, &Deck),
        piece: &Piece,
        thick: f64,
    ) -> Id {
        let site = &frame.site;
        let face = &frame.roof.faces[number];
        let out = face.slope.outward();
        let course = &laid.planes[number].courses[piece.course];
        let panel =
            Panel { width: piece.width.in_inches(), height: piece.height.in_inches(), thick };
        // pieces are measured from the near rake and, up the slope, from the tail line
        let edge = -site.rake - self.ask.plan.deck.past_rake.inches();
        let x = edge + piece.x.in_inches();
        let up_slope = course.lower_edge.in_inches();
        let from_ridge = asked.slope_width.inches() - up_slope;
        let up = DVec3::new(0.0, if number == 0 { 1.0 } else { -1.0 }, site.tangent) / site.secant;
        let ridge = DVec3::new(0.0, site.run, site.roof_height(site.run));
        let low = ridge + DVec3::X * x - up * from_ridge;
        // x along the ridge on plane A and the other way on plane B, so that z points out of the roof
        let (corner, along) = if DVec3::X.cross(up).dot(out) > 0.0 {
            (low, DVec3::X)
        } else {
            (low + DVec3::X * panel.width, -DVec3::X)
        };
        let id = format!(
            "SH-{}-{}-{}",
            face.name,
            piece.course + 1,
            trim((x * 16.0).round() / 16.0 + 0.0, 4)
        );
        let place = self.place(corner, along, out);
        let solid = self.extruded(panel);
        let shape = self.shape("SweptSolid", solid);
        let mut values = self.rooted(&id, "roof panel".into(), Value::Unset);
        values.extend([
            "roof sheathing panel".into(),
            place.into(),
            shape.into(),
            id.as_str().into(),
            Value::Word("SHEET"),
        ]);
        let plate = self.step.add("IFCPLATE", values);
        let face = panel.width * panel.height;
        let round = 2.0 * (panel.width + panel.height);
        let sizes = [
            ("IFCQUANTITYLENGTH", "Width", thick * self.length),
            ("IFCQUANTITYLENGTH", "Perimeter", round * self.length),
            ("IFCQUANTITYAREA", "GrossArea", face * self.area),
            ("IFCQUANTITYAREA", "NetArea", face * self.area),
            ("IFCQUANTITYVOLUME", "GrossVolume", face * thick * self.volume),
            ("IFCQUANTITYVOLUME", "NetVolume", face * thick * self.volume),
        ];
        let sizes = self.sizes(&id, "Qto_PlateBaseQuantities", &sizes);
        self.relate(
            "IFCRELDEFINESBYPROPERTIES",
            &format!("quantities for {id}"),
            vec![vec![plate].into(), sizes.into()],
        );
        plate
    }

    /// A panel from its lower corner: its outline swept by its thickness.
    fn extruded(&mut self, panel: Panel) -> Id {
        let (width, height) = (panel.width * self.length, panel.height * self.length);
        let middle =
            self.step.add_once("IFCCARTESIANPOINT", vec![vec![width / 2.0, height / 2.0].into()]);
        let middle = self.step.add_once("IFCAXIS2PLACEMENT2D", vec![middle.into(), Value::Unset]);
        let profile = self.step.add_once(
            "IFCRECTANGLEPROFILEDEF",
            vec![Value::Word("AREA"), Value::Unset, middle.into(), width.into(), height.into()],
        );
        let origin = axes(&mut self.step, DVec3::ZERO, DVec3::X, DVec3::Z);
        let up = direction(&mut self.step, DVec3::Z);
        self.step.add(
            "IFCEXTRUDEDAREASOLID",
            vec![profile.into(), origin.into(), up.into(), (panel.thick * self.length).into()],
        )
    }
}
