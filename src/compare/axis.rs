//! The things that may be varied, and the fields that they vary.

use crate::catalog::lumber::Section;
use crate::key;
use crate::measure::quantity::{in_degrees, inches};
use crate::measure::{Units, Writing, trim};
use crate::plan::{self, Asked, Entries, Key, OrderPlan, Place};

/// One thing that may be varied.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Axis {
    /// Pitch of both planes.
    Pitch,
    /// Rafter section.
    Rafter,
    /// Ridge board.
    Ridge,
    /// Level overhang.
    Overhang,
    /// Tail cut.
    Tail,
    /// Fascia.
    Fascia,
    /// Blocking over the plates.
    Blocking,
    /// Spacing of the rafters.
    Spacing,
    /// Ceiling joist section.
    Joist,
    /// Species.
    Species,
    /// Grade.
    Grade,
}

impl Axis {
    /// All of them; the first seven make the pattern rafter with its ridge and eave.
    pub const ALL: [Axis; 11] = [
        Axis::Pitch,
        Axis::Rafter,
        Axis::Ridge,
        Axis::Overhang,
        Axis::Tail,
        Axis::Fascia,
        Axis::Blocking,
        Axis::Spacing,
        Axis::Joist,
        Axis::Species,
        Axis::Grade,
    ];

    /// Its word.
    #[must_use]
    pub fn name(self) -> &'static str {
        self.key().name().strip_prefix("compare.").unwrap_or_default()
    }

    /// The field that lists its values.
    #[must_use]
    pub fn key(self) -> Key {
        match self {
            Axis::Pitch => key!("compare.pitch"),
            Axis::Rafter => key!("compare.rafter"),
            Axis::Ridge => key!("compare.ridge"),
            Axis::Overhang => key!("compare.overhang"),
            Axis::Tail => key!("compare.tail"),
            Axis::Fascia => key!("compare.fascia"),
            Axis::Blocking => key!("compare.blocking"),
            Axis::Spacing => key!("compare.spacing"),
            Axis::Joist => key!("compare.joist"),
            Axis::Species => key!("compare.species"),
            Axis::Grade => key!("compare.grade"),
        }
    }

    /// The field that it varies.
    #[must_use]
    pub fn varies(self) -> Key {
        match self {
            Axis::Pitch => key!("roof.pitch"),
            Axis::Rafter => key!("rafter.stock"),
            Axis::Ridge => key!("ridge.board"),
            Axis::Overhang => key!("eave.overhang"),
            Axis::Tail => key!("rafter.tail"),
            Axis::Fascia => key!("eave.fascia"),
            Axis::Blocking => key!("eave.blocking"),
            Axis::Spacing => key!("roof.spacing"),
            Axis::Joist => key!("ceiling.stock"),
            Axis::Species => key!("lumber.species"),
            Axis::Grade => key!("lumber.grade"),
        }
    }

    /// The field with the board's depth, or the field of the tail's face. Its value in the roof file
    /// applies only to a value of this axis that does not give one itself.
    pub(super) fn detail(self) -> Option<Key> {
        match self {
            Axis::Ridge => Some(key!("ridge.depth")),
            Axis::Fascia => Some(key!("eave.fascia_depth")),
            Axis::Tail => Some(key!("rafter.tail_face")),
            _ => None,
        }
    }

    /// The roof with another value of this axis. A nominal board has its own depth, and only a level
    /// cut leaves a tail face: both override the file's values.
    pub(super) fn written(self, entries: &Entries, text: &str, place: Place) -> Entries {
        let changed = entries.with(self.varies(), text, place);
        let Some(detail) = self.detail() else {
            return changed;
        };
        let yields = match self {
            Axis::Tail => !text.trim().eq_ignore_ascii_case("level"),
            _ => Asked::new(&changed).nominal_width(self.varies()).is_some(),
        };
        if yields { changed.without(detail) } else { changed }
    }

    /// Copies what this axis varies from one plan to another.
    pub(super) fn take(self, from: &OrderPlan, to: &mut OrderPlan) {
        let (rafter, of) = (&mut to.gable.rafter, &from.gable.rafter);
        match self {
            Axis::Pitch => rafter.pitch = of.pitch,
            Axis::Rafter => rafter.stock = of.stock.clone(),
            Axis::Ridge => {
                rafter.ridge = of.ridge;
                rafter.ridge_depth = of.ridge_depth;
            }
            Axis::Overhang => rafter.overhang = of.overhang,
            Axis::Tail => {
                rafter.tail = of.tail;
                rafter.tail_face = of.tail_face;
            }
            Axis::Fascia => {
                rafter.fascia = of.fascia;
                rafter.fascia_depth = of.fascia_depth;
            }
            Axis::Blocking => to.gable.blocking = from.gable.blocking,
            Axis::Spacing => to.gable.spacing = from.gable.spacing,
            Axis::Joist => to.gable.joist = from.gable.joist.clone(),
            Axis::Species => to.checks.species = from.checks.species,
            Axis::Grade => to.checks.grade = from.checks.grade,
        }
    }
}

/// The value of an axis in a plan; for a board of the ridge or the fascia both of its sides, if they
/// are known.
pub(super) fn used_value(axis: Axis, plan: &OrderPlan) -> Option<plan::Value> {
    let rafter = &plan.gable.rafter;
    let board = match axis {
        Axis::Ridge => Some((rafter.ridge, rafter.ridge_depth)),
        Axis::Fascia => Some((rafter.fascia, rafter.fascia_depth)),
        _ => None,
    };
    if let Some((thickness, Some(depth))) = board
        && thickness > inches(0.0)
    {
        return Some(plan::Value::Section(Section::sized(thickness, depth)));
    }
    let mut used = rafter.used.iter().chain(&plan.used);
    used.find(|used| used.field.key() == axis.varies()).map(|used| used.value.clone())
}

/// A value of an axis for people. For a pitch only the rise, or on a metric page the degrees, because
/// there are so many other values.
#[must_use]
pub fn axis_words(axis: Axis, value: &plan::Value, writing: Writing) -> String {
    match (axis, value) {
        (Axis::Pitch, plan::Value::Pitch(pitch)) if writing.units == Units::Millimeters => {
            format!("{} deg", trim(in_degrees(pitch.angle()), 2))
        }
        (Axis::Pitch, plan::Value::Pitch(pitch)) => {
            format!("{} in 12", trim(pitch.unit_rise(), 4))
        }
        _ => value.write(writing),
    }
}
