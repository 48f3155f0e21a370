//! The sticks at the marks of a layout line, and the spacing of the rafters.

use crate::geom::{DVec3, Solid};
use crate::measure::Length;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;

use super::gable::Frame;
use super::layout::{LayoutLine, LineKind, Standing};
use super::member::Member;
use super::role::Role;
use super::site::EaveSide;

/// How the rafters between the end walls are spaced.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spaces {
    /// Near end wall's framing face to the center of the first of them.
    pub first: Length,
    /// Whole spaces from that one to the last one.
    pub count: usize,
    /// One of these spaces, on center.
    pub each: Length,
    /// Center of the last one to the far end wall's framing face.
    pub last: Length,
}

impl Frame {
    /// The sticks at a layout line's marks, in the order of the tape.
    ///
    /// Rafter ties and joists above the plate are listed with the plates, although they have no tape
    /// mark: they go beside a rafter's.
    #[must_use]
    pub fn standing(&self, line: &LayoutLine) -> Vec<Standing> {
        let site = &self.site;
        let tail = DVec3::new(0.0, -site.tail, site.roof_height(-site.tail));
        let (up, rake) = (site.up_slope(), site.rake);
        let station = |corner: DVec3| match line.kind {
            LineKind::Plate(_) | LineKind::Bearing => corner.x,
            LineKind::Ridge(_) => corner.x + rake,
            LineKind::EndWalls => corner.y,
            LineKind::Rakes(_) => (corner - tail).dot(up),
            LineKind::Side => 0.0,
        };
        let mut list: Vec<Standing> = Vec::new();
        for member in &self.members {
            for (id, axis) in member.placed_ids() {
                let solid = member.placed(axis);
                if !self.is_on(line.kind, member, &solid) {
                    continue;
                }
                let (low, high) = solid
                    .corners()
                    .map(station)
                    .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
                        (low.min(at), high.max(at))
                    });
                list.push(Standing {
                    at: inches(low),
                    covers: inches(high - low),
                    mark: member.mark.clone(),
                    id: id.to_owned(),
                    role: member.role,
                });
            }
        }
        list.sort_by(|a, b| {
            a.at.inches().total_cmp(&b.at.inches()).then_with(|| a.mark.cmp(&b.mark))
        });
        list
    }

    /// True if a stick is laid out on a kind of line; if two ends or eaves are alike, only on one.
    fn is_on(&self, kind: LineKind, member: &Member, solid: &Solid) -> bool {
        let Some((low, high)) = solid.bounds() else {
            return false;
        };
        let site = &self.site;
        let middle = (low.y + high.y) / 2.0;
        let over = |eave: EaveSide| (middle < site.run) == (eave == EaveSide::A);
        // a joist above the plate starts where the roof plane has risen to its bottom
        let start = ((low.z - site.heel_stand) / site.tangent).max(0.0) + site.plate;
        let reaches = |eave: EaveSide| match eave {
            EaveSide::A => low.y < start,
            EaveSide::B => high.y > site.span - start,
        };
        match (kind, member.role) {
            (LineKind::Plate(eave), Role::CommonRafter | Role::EndRafter) => over(eave),
            (LineKind::Plate(eave), Role::CeilingJoist | Role::TailJoist | Role::JoistTrimmer) => {
                reaches(eave)
            }
            // clipped under both roof planes, it ends short of the plates
            (LineKind::Plate(_), Role::RafterTie) => true,
            (LineKind::Ridge(eave), Role::CommonRafter | Role::EndRafter | Role::BargeRafter) => {
                over(eave)
            }
            (LineKind::Bearing, Role::CeilingJoist) => true,
            (LineKind::Bearing, Role::TailJoist | Role::JoistTrimmer) => {
                let bearing = self.plan.bearing.map_or(f64::NAN, InInches::inches);
                low.y < bearing && bearing < high.y
            }
            (LineKind::EndWalls, Role::GableStud) => low.x < site.length / 2.0 && low.z < HAIR,
            (LineKind::Rakes(role), found) => {
                role == found && low.x < site.length / 2.0 && low.y < site.run - 1.0
            }
            _ => false,
        }
    }

    /// The spaces of the rafters on eave A; `None` if there is none between the end walls.
    #[must_use]
    pub fn spaces(&self) -> Option<Spaces> {
        let inner: Vec<f64> = self
            .pairs
            .iter()
            .filter(|pair| !pair.at_end)
            .map(|pair| pair.x_a + self.site.thick / 2.0)
            .collect();
        let (first, last) = (*inner.first()?, *inner.last()?);
        let count = inner.len() - 1;
        Some(Spaces {
            first: inches(first),
            count,
            each: inches(if count == 0 { 0.0 } else { (last - first) / count as f64 }),
            last: inches(self.site.length - last),
        })
    }

    /// Numbers, from 1, of the pairs that have a stick with a role beside their rafter on eave A.
    #[must_use]
    pub fn pairs_with(&self, role: Role) -> Vec<usize> {
        let mut faces = Vec::new();
        for member in self.members.iter().filter(|member| member.role == role) {
            let half = member.stick.section.thickness_in() / 2.0;
            for axis in &member.placements {
                faces.push((axis.origin.x - half, axis.origin.x + half));
            }
        }
        let beside = |x: f64| {
            faces.iter().any(|(near, far)| {
                (far - x).abs() < HAIR || (near - x - self.site.thick).abs() < HAIR
            })
        };
        self.pairs
            .iter()
            .enumerate()
            .filter(|(_, pair)| beside(pair.x_a))
            .map(|(index, _)| index + 1)
            .collect()
    }

    /// Marks of all patterns with a role, in their order.
    #[must_use]
    pub fn marks_of(&self, role: Role) -> Vec<&str> {
        self.members
            .iter()
            .filter(|member| member.role == role)
            .map(|member| member.mark.as_str())
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{Entries, GablePlan, file};
    use approx::assert_abs_diff_eq;

    fn frame(text: &str) -> Frame {
        let mut entries = Entries::default();
        assert!(file::read(text, &mut entries).faults.is_empty());
        Frame::build(&GablePlan::read(&entries).unwrap()).unwrap()
    }

    const ROOFS: [&str; 4] = [
        include_str!("../../examples/kestrel-yard.toml"),
        include_str!("../../examples/odd/shallow.toml"),
        include_str!("../../examples/odd/steep.toml"),
        include_str!("../../examples/odd/metric.toml"),
    ];

    #[test]
    fn every_mark_has_its_stick_and_every_stick_its_mark() {
        for text in ROOFS {
            let frame = frame(text);
            for line in &frame.layout {
                let mut wanted = [line.marks.clone(), line.joist_marks.clone()].concat();
                wanted.sort_by(|a, b| a.inches().total_cmp(&b.inches()));
                let mut found: Vec<f64> = frame
                    .standing(line)
                    .iter()
                    .filter(|stick| !matches!(stick.role, Role::RafterTie | Role::JoistTrimmer))
                    .filter(|stick| {
                        !matches!(stick.role, Role::CeilingJoist | Role::TailJoist)
                            || !line.joist_marks.is_empty()
                    })
                    .map(|stick| stick.at.inches())
                    .collect();
                // joists of two lengths, or a stud over another, may be at one mark
                found.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
                assert_eq!(found.len(), wanted.len(), "{}", line.on);
                for (found, wanted) in found.iter().zip(&wanted) {
                    assert_abs_diff_eq!(*found, wanted.inches(), epsilon = 1e-6);
                }
            }
        }
    }

    #[test]
    fn joists_off_the_plate_are_listed_and_have_no_mark_on_it() {
        // bottom 24 in above the plate
        let raised = ROOFS[0].replace("[ceiling]", "[ceiling]\ntie_height = '24\"'");
        assert_ne!(raised, ROOFS[0]);
        let frame = frame(&raised);
        for line in frame.layout.iter().filter(|line| matches!(line.kind, LineKind::Plate(_))) {
            assert!(line.joist_marks.is_empty(), "{}", line.on);
            let standing = frame.standing(line);
            let joists = standing
                .iter()
                .filter(|stick| matches!(stick.role, Role::CeilingJoist | Role::TailJoist));
            assert_eq!(joists.count(), frame.ties.nailed_pairs(), "{}", line.on);
        }
    }

    #[test]
    fn kestrel_yard_has_15_spaces_between_its_first_and_last_inner_pair() {
        // 22 ft at 16 in: centers at 16, 32 ... 256 in; 264 - 256 = 8 in remain
        let spaces = frame(ROOFS[0]).spaces().unwrap();
        assert_eq!(spaces.count, 15);
        assert_abs_diff_eq!(spaces.first.inches(), 16.0, epsilon = 1e-9);
        assert_abs_diff_eq!(spaces.each.inches(), 16.0, epsilon = 1e-9);
        assert_abs_diff_eq!(spaces.last.inches(), 8.0, epsilon = 1e-9);
    }

    #[test]
    fn ties_stand_at_the_pairs_that_the_layout_tells() {
        // stepoff layout of the two: C1 before pairs 2, 5 ... 17; T1 beyond every second pair
        assert_eq!(frame(ROOFS[0]).pairs_with(Role::CollarTie), [2, 5, 8, 11, 14, 17]);
        let every_second: Vec<usize> = (2..=20).step_by(2).collect();
        assert_eq!(frame(ROOFS[1]).pairs_with(Role::RafterTie), every_second);
    }

    #[test]
    fn so_short_a_roof_has_no_spaces() {
        let text = "[building]\nlength = \"3\"\"\nspan = \"10'\"\n[roof]\npitch = \"6/12\"\n";
        let text = text.replace("\"3\"\"", "'3\"'");
        assert_eq!(frame(&text).spaces(), None);
    }
}
