//! The frame as a building model (IFC4, ISO 16739-1): every stick a member with its solid in its place.

mod assembled;
mod deck;
mod grid;
mod members;
mod roles;
mod standard;
mod stem;
mod step;
mod styles;

use crate::geom::DVec3;

use super::ask::Ask;
use super::stable;
use super::unit::FileUnit;

use stem::{place, point, stem};
use step::{Id, Step, Value};

/// The model as text, its lengths in `unit`. Equal roofs give equal text; a stick that stays in its place keeps its GlobalId.
#[must_use]
pub fn write(ask: &Ask<'_>, unit: FileUnit) -> String {
    let mut model = Model::new(ask, unit);
    let assembled = model.assembled();
    let mut products = vec![model.frame(assembled)];
    products.push(model.roof());
    products.extend(model.grids());
    model.contain(&products);
    let name = model.job.clone();
    model.step.finish(
        "IFC4",
        "ViewDefinition [DesignTransferView_V1.0]",
        &format!("{}.ifc", if name.is_empty() { "roof" } else { &name }),
        concat!("stepoff ", env!("CARGO_PKG_VERSION")),
    )
}

struct Model<'a> {
    ask: Ask<'a>,
    job: String,
    step: Step,
    /// Inches in the unit of lengths, and for square and cubic units.
    length: f64,
    area: f64,
    volume: f64,
    context: Id,
    body: Id,
    /// Lines in plan, once there are any.
    footprint: Option<Id>,
    storey: Id,
    storey_place: Id,
}

impl<'a> Model<'a> {
    fn new(ask: &Ask<'a>, unit: FileUnit) -> Model<'a> {
        let job = ask.sticks.plan.rafter.name.clone().unwrap_or_default();
        let mut step = Step::default();
        let length = unit.in_an_inch();
        // with millimeters areas and volumes are in meters, as is usual
        let (area, volume) = match unit {
            FileUnit::Inch => (1.0, 1.0),
            FileUnit::Millimeter => (0.0254 * 0.0254, 0.0254 * 0.0254 * 0.0254),
        };
        let stem = stem(&mut step, ask, &job, unit);
        Model {
            ask: *ask,
            job,
            step,
            length,
            area,
            volume,
            context: stem.context,
            body: stem.body,
            footprint: None,
            storey: stem.storey,
            storey_place: stem.storey_place,
        }
    }

    fn global_id(&self, name: &str) -> Value {
        stable::global_id(&self.job, name).into()
    }

    /// Attributes at the start of everything with an identity: GlobalId, no owner, name, description.
    fn rooted(&self, name: &str, label: Value, description: Value) -> Vec<Value> {
        vec![self.global_id(name), Value::Unset, label, description]
    }

    fn relate(&mut self, kind: &str, name: &str, values: Vec<Value>) -> Id {
        let mut all = self.rooted(name, Value::Unset, Value::Unset);
        all.extend(values);
        self.step.add(kind, all)
    }

    fn point(&mut self, at: DVec3) -> Id {
        point(&mut self.step, at * self.length)
    }

    /// A placement with x along and z across, both unit vectors.
    fn place(&mut self, origin: DVec3, x: DVec3, z: DVec3) -> Id {
        self.place_in(self.storey_place, origin, x, z)
    }

    /// The same within what has a place of its own.
    fn place_in(&mut self, within: Id, origin: DVec3, x: DVec3, z: DVec3) -> Id {
        let at = origin * self.length;
        place(&mut self.step, Some(within), at, x, z)
    }

    fn shape(&mut self, kind: &str, item: Id) -> Id {
        let body = vec![self.body.into(), "Body".into(), kind.into(), vec![item].into()];
        let body = self.step.add("IFCSHAPEREPRESENTATION", body);
        self.step
            .add("IFCPRODUCTDEFINITIONSHAPE", vec![Value::Unset, Value::Unset, vec![body].into()])
    }

    /// A face with an outline, and with the outlines of its holes.
    fn face(&mut self, ring: Vec<Id>, holes: Vec<Vec<Id>>) -> Id {
        let mut bounds = Vec::new();
        let rings = holes.into_iter().map(|hole| ("IFCFACEBOUND", hole));
        for (kind, ring) in std::iter::once(("IFCFACEOUTERBOUND", ring)).chain(rings) {
            let ring = self.step.add("IFCPOLYLOOP", vec![ring.into()]);
            bounds.push(self.step.add(kind, vec![ring.into(), Value::True]));
        }
        self.step.add("IFCFACE", vec![bounds.into()])
    }

    fn sizes(&mut self, of: &str, name: &str, sizes: &[(&str, &str, f64)]) -> Id {
        let sizes: Vec<Id> = sizes
            .iter()
            .map(|(kind, name, size)| {
                self.step.add_once(
                    kind,
                    vec![(*name).into(), Value::Unset, Value::Unset, (*size).into(), Value::Unset],
                )
            })
            .collect();
        let mut set = self.rooted(&format!("quantities of {of}"), name.into(), Value::Unset);
        set.extend([Value::Unset, sizes.into()]);
        self.step.add("IFCELEMENTQUANTITY", set)
    }

    fn contain(&mut self, products: &[Id]) {
        let storey = self.storey;
        self.relate(
            "IFCRELCONTAINEDINSPATIALSTRUCTURE",
            "products of the storey",
            vec![products.to_vec().into(), storey.into()],
        );
    }
}
