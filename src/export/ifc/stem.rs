//! The beginning of every model: units, project, site, building and story; points, directions and
//! placements.

use super::step::{Id, Step, Value};
use crate::export::ask::Ask;
use crate::export::stable;
use crate::export::unit::FileUnit;
use crate::geom::DVec3;
use crate::measure::quantity::InInches;

/// The parents of the model's products: made first, because all others refer to them.
pub(super) struct Stem {
    pub(super) context: Id,
    pub(super) body: Id,
    pub(super) storey: Id,
    pub(super) storey_place: Id,
}

pub(super) fn point(step: &mut Step, at: DVec3) -> Id {
    step.add_once("IFCCARTESIANPOINT", vec![at.to_array().to_vec().into()])
}

pub(super) fn direction(step: &mut Step, way: DVec3) -> Id {
    step.add_once("IFCDIRECTION", vec![way.to_array().to_vec().into()])
}

pub(super) fn axes(step: &mut Step, at: DVec3, x: DVec3, z: DVec3) -> Id {
    let values = vec![point(step, at).into(), direction(step, z).into(), direction(step, x).into()];
    step.add_once("IFCAXIS2PLACEMENT3D", values)
}

pub(super) fn place(step: &mut Step, within: Option<Id>, at: DVec3, x: DVec3, z: DVec3) -> Id {
    let values = vec![within.into(), axes(step, at, x, z).into()];
    step.add("IFCLOCALPLACEMENT", values)
}

pub(super) fn identity(step: &mut Step) -> Id {
    let origin = point(step, DVec3::ZERO);
    step.add_once(
        "IFCCARTESIANTRANSFORMATIONOPERATOR3D",
        vec![Value::Unset, Value::Unset, origin.into(), Value::Unset, Value::Unset],
    )
}

/// The geometric context of the model, and that of its bodies, in a unit so many of which are an inch.
fn context(step: &mut Step, length: f64) -> (Id, Id) {
    let origin = axes(step, DVec3::ZERO, DVec3::X, DVec3::Z);
    let context = step.add(
        "IFCGEOMETRICREPRESENTATIONCONTEXT",
        vec![
            Value::Unset,
            "Model".into(),
            Value::Whole(3),
            (1e-6 * length).into(),
            origin.into(),
            Value::Unset,
        ],
    );
    let body = part_of(step, context, "Body");
    (context, body)
}

/// A part of the model's geometry: bodies, or lines in plan.
pub(super) fn part_of(step: &mut Step, context: Id, name: &str) -> Id {
    let derived = [const { Value::Derived }; 4];
    let mut values = vec![name.into(), "Model".into()];
    values.extend(derived);
    values.extend([context.into(), Value::Unset, Value::Word("MODEL_VIEW"), Value::Unset]);
    step.add("IFCGEOMETRICREPRESENTATIONSUBCONTEXT", values)
}

/// Project, site, building and the story of the roof, with its level at the top of the plates.
pub(super) fn stem(step: &mut Step, ask: &Ask<'_>, job: &str, unit: FileUnit) -> Stem {
    let length = unit.in_an_inch();
    let id = |name: &str| Value::from(stable::global_id(job, name));
    let named = if job.is_empty() { "roof frame" } else { job };
    let (context, body) = context(step, length);
    let units = units(step, unit);
    let project = step.add(
        "IFCPROJECT",
        vec![
            id("project"),
            Value::Unset,
            named.into(),
            Value::Unset,
            Value::Unset,
            Value::Unset,
            Value::Unset,
            vec![context].into(),
            units.into(),
        ],
    );
    let ground = place(step, None, DVec3::ZERO, DVec3::X, DVec3::Z);
    let part = |name: &str, label: &str, place: Id| {
        vec![
            id(name),
            Value::Unset,
            label.into(),
            Value::Unset,
            Value::Unset,
            place.into(),
            Value::Unset,
            Value::Unset,
            Value::Word("ELEMENT"),
        ]
    };
    let mut values = part("site", "site", ground);
    values.extend([const { Value::Unset }; 5]);
    let site = step.add("IFCSITE", values);
    let floor = place(step, Some(ground), DVec3::ZERO, DVec3::X, DVec3::Z);
    let mut values = part("building", named, floor);
    values.extend([const { Value::Unset }; 3]);
    let building = step.add("IFCBUILDING", values);
    let level = ask.sticks.plan.wall_height.inches() * length;
    let storey_place = place(step, Some(floor), DVec3::Z * level, DVec3::X, DVec3::Z);
    let mut values = part("storey", "roof, from the top of the plates", storey_place);
    values.push(level.into());
    let storey = step.add("IFCBUILDINGSTOREY", values);
    for (name, whole, part) in [
        ("project has site", project, site),
        ("site has building", site, building),
        ("building has storey", building, storey),
    ] {
        let values = vec![
            id(name),
            Value::Unset,
            Value::Unset,
            Value::Unset,
            whole.into(),
            vec![part].into(),
        ];
        step.add("IFCRELAGGREGATES", values);
    }
    Stem { context, body, storey, storey_place }
}

/// Lengths in the given unit; angles in degrees.
fn units(step: &mut Step, unit: FileUnit) -> Id {
    let si =
        |step: &mut Step, kind: &'static str, prefix: Option<&'static str>, name: &'static str| {
            step.add_once(
                "IFCSIUNIT",
                vec![
                    Value::Derived,
                    Value::Word(kind),
                    prefix.map_or(Value::Unset, Value::Word),
                    Value::Word(name),
                ],
            )
        };
    let meter = si(step, "LENGTHUNIT", None, "METRE");
    let square = si(step, "AREAUNIT", None, "SQUARE_METRE");
    let cubic = si(step, "VOLUMEUNIT", None, "CUBIC_METRE");
    let radian = si(step, "PLANEANGLEUNIT", None, "RADIAN");
    let mut converted = |kind: &'static str,
                         name: &str,
                         measure: &'static str,
                         factor: f64,
                         base: Id,
                         powers: [i64; 7]| {
        let powers = step.add_once("IFCDIMENSIONALEXPONENTS", powers.map(Value::Whole).to_vec());
        let factor = step.add(
            "IFCMEASUREWITHUNIT",
            vec![Value::Typed(measure, Box::new(factor.into())), base.into()],
        );
        step.add(
            "IFCCONVERSIONBASEDUNIT",
            vec![powers.into(), Value::Word(kind), name.into(), factor.into()],
        )
    };
    let degree = converted(
        "PLANEANGLEUNIT",
        "degree",
        "IFCPLANEANGLEMEASURE",
        std::f64::consts::PI / 180.0,
        radian,
        [0; 7],
    );
    let all = match unit {
        FileUnit::Inch => {
            let inch: f64 = 0.0254;
            vec![
                converted(
                    "LENGTHUNIT",
                    "inch",
                    "IFCLENGTHMEASURE",
                    inch,
                    meter,
                    [1, 0, 0, 0, 0, 0, 0],
                ),
                converted(
                    "AREAUNIT",
                    "square inch",
                    "IFCAREAMEASURE",
                    inch.powi(2),
                    square,
                    [2, 0, 0, 0, 0, 0, 0],
                ),
                converted(
                    "VOLUMEUNIT",
                    "cubic inch",
                    "IFCVOLUMEMEASURE",
                    inch.powi(3),
                    cubic,
                    [3, 0, 0, 0, 0, 0, 0],
                ),
                degree,
            ]
        }
        FileUnit::Millimeter => {
            let millimeter = si(step, "LENGTHUNIT", Some("MILLI"), "METRE");
            vec![millimeter, square, cubic, degree]
        }
    };
    step.add("IFCUNITASSIGNMENT", vec![all.into()])
}
