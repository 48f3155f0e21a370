//! The standard's own sets of properties: of them only what the frame tells.

use super::Model;
use super::roles::Class;
use super::step::{Id, Value};
use crate::catalog::species::{Grade, Species};
use crate::frame::{Axis, Member, Role};
use crate::geom::DVec3;
use crate::measure::tolerance::HAIR;

/// Kinds of measures.
const ANGLE: &str = "IFCPLANEANGLEMEASURE";
const YES_OR_NO: &str = "IFCBOOLEAN";

/// True for what carries other sticks, a ceiling or the deck; `None` where that depends on more than the role.
fn bears(role: Role) -> Option<bool> {
    match role {
        Role::Header | Role::Plate | Role::BearingPlate => Some(true),
        role if matches!(role.ifc(), "RAFTER" | "JOIST") => Some(true),
        _ => None,
    }
}

/// True for what faces the outside of the building, false for what stands within it; `None` for what reaches through.
fn is_outside(role: Role) -> Option<bool> {
    match role {
        Role::Fascia => Some(true),
        Role::CeilingJoist
        | Role::TailJoist
        | Role::JoistHeader
        | Role::JoistTrimmer
        | Role::OpeningSide
        | Role::RafterTie
        | Role::CollarTie
        | Role::CollarFiller
        | Role::BearingPlate => Some(false),
        _ => None,
    }
}

/// From level to the stick, and from plumb to its depth, degrees; the second is nothing for an upright stick.
fn slope_and_roll(axis: &Axis) -> (f64, Option<f64>) {
    let slope = axis.along.z.abs().clamp(0.0, 1.0).asin().to_degrees();
    let plumb = DVec3::Z - axis.along * axis.along.z;
    let is_upright = plumb.length() < HAIR;
    let roll = axis.up.angle_between(plumb).to_degrees();
    // a stick has no upper side: half a turn is none
    let roll = if roll > 90.0 { 180.0 - roll } else { roll };
    (slope, (!is_upright).then_some(roll))
}

/// What all have, if it is the same of all.
fn shared(mut all: impl Iterator<Item = f64>) -> Option<f64> {
    let first = all.next()?;
    all.all(|other| (other - first).abs() < HAIR).then_some(first)
}

impl Model<'_> {
    /// `Pset_MemberCommon` or `Pset_BeamCommon` of a pattern.
    pub(super) fn common(&mut self, member: &Member, pattern: &str, class: Class) -> Id {
        let mut properties =
            vec![self.property("Reference", "IFCIDENTIFIER", member.mark.as_str())];
        let turns = || member.placements.iter().map(slope_and_roll);
        let slope = shared(turns().map(|(slope, _)| slope));
        let roll = turns()
            .map(|(_, roll)| roll)
            .collect::<Option<Vec<f64>>>()
            .and_then(|all| shared(all.into_iter()));
        for (name, angle) in [("Slope", slope), ("Roll", roll)] {
            properties.extend(angle.map(|angle| self.property(name, ANGLE, angle)));
        }
        let told = [("LoadBearing", bears(member.role)), ("IsExternal", is_outside(member.role))];
        for (name, holds) in told {
            properties.extend(holds.map(|holds| self.property(name, YES_OR_NO, holds)));
        }
        self.set(class.common, pattern, properties)
    }

    /// A set of properties of one thing.
    pub(super) fn set(&mut self, name: &str, of: &str, properties: Vec<Id>) -> Id {
        let mut set = self.rooted(&format!("{name} of {of}"), name.into(), Value::Unset);
        set.push(properties.into());
        self.step.add("IFCPROPERTYSET", set)
    }

    /// A set of properties, with the thing that has it.
    pub(super) fn has(
        &mut self,
        thing: Id,
        of: &str,
        name: &str,
        told: &[(&str, &'static str, Value)],
    ) {
        let properties = told
            .iter()
            .map(|(name, kind, value)| self.property(name, kind, value.clone()))
            .collect();
        let set = self.set(name, of, properties);
        let related = vec![vec![thing].into(), set.into()];
        self.relate("IFCRELDEFINESBYPROPERTIES", &format!("{name} for {of}"), related);
    }

    /// Species and grade of a material, if the roof file names them.
    pub(super) fn wood(&mut self, material: Id, species: Option<Species>, grade: Option<Grade>) {
        let species = species.map(|species| ("Species", species.name()));
        let grade = grade.map(|grade| ("StrengthGrade", grade.name()));
        let told: Vec<Id> = species
            .into_iter()
            .chain(grade)
            .map(|(name, text)| self.property(name, "IFCLABEL", text))
            .collect();
        if !told.is_empty() {
            let values =
                vec!["Pset_MaterialWood".into(), Value::Unset, told.into(), material.into()];
            self.step.add_once("IFCMATERIALPROPERTIES", values);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slope_and_roll_are_those_of_the_standard() {
        let axis = |along: DVec3, up: DVec3| Axis { origin: DVec3::ZERO, along, up };
        // IFC4, Pset_MemberCommon: slope from level; roll 0 where the depth stands plumb
        let (slope, roll) = slope_and_roll(&axis(DVec3::X, DVec3::Z));
        assert_eq!((slope, roll), (0.0, Some(0.0)));
        // a plate lies flat
        let (slope, roll) = slope_and_roll(&axis(DVec3::X, DVec3::Y));
        assert!(slope == 0.0 && (roll.unwrap() - 90.0).abs() < 1e-9);
        // a stud stands: it has no roll
        let (slope, roll) = slope_and_roll(&axis(DVec3::Z, DVec3::X));
        assert!((slope - 90.0).abs() < 1e-9 && roll.is_none());
        // 5 in 12: arctangent of 5/12, 22.6199 degrees
        let along = DVec3::new(0.0, 12.0, 5.0) / 13.0;
        let (slope, roll) = slope_and_roll(&axis(along, DVec3::new(0.0, -5.0, 12.0) / 13.0));
        assert!((slope - 22.619_865).abs() < 1e-6 && roll.unwrap().abs() < 1e-5);
    }
}
