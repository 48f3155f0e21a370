//! The heights of a building's section, each above plate, floor and ground.

use crate::measure::Length;
use crate::measure::quantity::{InInches, inches};
use crate::plan::Joists;

use super::eave::Eave;
use super::gable::Frame;
use super::role::Role;

/// One height of the section.
#[derive(Debug, Clone, PartialEq)]
pub struct Level {
    /// What is at this height.
    pub what: &'static str,
    /// The sticks at this height, if they have a mark.
    pub role: Option<Role>,
    /// Plumb, above the top of the plate; below it is negative.
    pub above_plate: Length,
    /// Above the floor.
    pub above_floor: Length,
    /// Above the ground, if the floor's height over it is known.
    pub above_ground: Option<Length>,
}

impl Frame {
    /// The heights of the section, from the highest down; `floor_height` is the floor's above the
    /// ground. What the plan does not give (a window head, the floor's height, a fascia's depth) is
    /// left out.
    #[must_use]
    pub fn levels(&self, eave: &Eave, floor_height: Option<Length>) -> Vec<Level> {
        let wall = self.plan.wall_height;
        let zero = inches(0.0);
        let mut found: Vec<(&'static str, Option<Role>, Length)> =
            vec![("peak of the rafter tops", None, self.rafter.apex)];
        if self.site.half_ridge > 0.0 {
            found.push(("ridge board, top", Some(Role::RidgeBoard), self.rafter.ridge_top));
        }
        found.push(("plate, top", Some(Role::Plate), zero));
        let board = if self.plan.rafter.fascia > zero {
            Some(("fascia, top", "fascia, bottom", Role::Fascia))
        } else if self.plan.rafter.subfascia > zero {
            Some(("sub-fascia, top", "sub-fascia, bottom", Role::Subfascia))
        } else {
            None
        };
        match board {
            Some((top, bottom, role)) => {
                found.push((top, Some(role), eave.fascia_top.above_plate));
                if let Some(low) = self.lowest(role) {
                    found.push((bottom, Some(role), low));
                }
            }
            None => found.push(("tail cut, top", None, eave.tail_top.above_plate)),
        }
        if self.plan.soffit > zero {
            found.push(("soffit, underside", None, eave.soffit));
        }
        match self.plan.joists {
            Joists::Beside => {
                found.push((
                    "ceiling (joists, bottom)",
                    Some(Role::CeilingJoist),
                    self.ties.height,
                ));
            }
            // joists across rest on the plates themselves
            Joists::Across => found.push(("ceiling (joists, bottom)", None, zero)),
            Joists::None => {}
        }
        if let Some(head) = eave.plan.window_head {
            found.push(("window head", None, head - wall));
        }
        found.push(("floor", None, -wall));
        if let Some(floor) = floor_height {
            found.push(("ground", None, -wall - floor));
        }
        // equal heights keep this order
        found.sort_by(|a, b| b.2.inches().total_cmp(&a.2.inches()));
        found
            .into_iter()
            .map(|(what, role, above_plate)| Level {
                what,
                role,
                above_plate,
                above_floor: above_plate + wall,
                above_ground: floor_height.map(|floor| above_plate + wall + floor),
            })
            .collect()
    }

    /// The lowest corner of all sticks with a role, above the plate.
    fn lowest(&self, role: Role) -> Option<Length> {
        self.members
            .iter()
            .filter(|member| member.role == role)
            .filter_map(|member| {
                let solid = member.placed(member.placements.first()?);
                solid.bounds().map(|(low, _)| low.z)
            })
            .min_by(f64::total_cmp)
            .map(inches)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{EavePlan, Entries, GablePlan, file};
    use approx::assert_abs_diff_eq;

    fn levels(text: &str, floor: Option<f64>) -> Vec<Level> {
        let mut entries = Entries::default();
        assert!(file::read(text, &mut entries).faults.is_empty());
        let frame = Frame::build(&GablePlan::read(&entries).unwrap()).unwrap();
        let eave = Eave::build(&EavePlan::read(&entries).unwrap()).unwrap();
        frame.levels(&eave, floor.map(inches))
    }

    #[test]
    fn kestrel_yard_by_hand() {
        // 6 in 12, 2x6: plumb 5.5 x sqrt(1.25) = 6.1492; the 1/4 rule allows a seat that notches 1.375
        // deep, 1.375 x sqrt(5) = 3.07459 long: heel stand 6.14919 - 1.53730 = 4.61189; peak 84 x 1/2
        // above that
        let levels = levels(include_str!("../../examples/kestrel-yard.toml"), Some(18.0));
        let at = |what: &str| {
            let level = levels.iter().find(|level| level.what == what).unwrap();
            (
                level.above_plate.inches(),
                level.above_floor.inches(),
                level.above_ground.unwrap().inches(),
            )
        };
        let wall = 97.125;
        let heel = 4.611_890;
        for (what, above) in [
            ("peak of the rafter tops", heel + 42.0),
            ("ridge board, top", heel + 42.0 - 0.375),
            ("plate, top", 0.0),
            // the fascia's outer face is 12 in out, its top in the roof plane there
            ("fascia, top", heel - 6.0),
            ("fascia, bottom", heel - 6.0 - 7.25),
            // tail cut 11.25 in out; 6.1492 of plumb cut, 3/8 of panel under it
            ("soffit, underside", heel - 5.625 - 6.149_187 - 0.375),
            ("window head", 80.0 - wall),
            ("floor", -wall),
            ("ground", -wall - 18.0),
        ] {
            let found = at(what);
            assert_abs_diff_eq!(found.0, above, epsilon = 1e-4);
            assert_abs_diff_eq!(found.1, above + wall, epsilon = 1e-4);
            assert_abs_diff_eq!(found.2, above + wall + 18.0, epsilon = 1e-4);
        }
    }

    #[test]
    fn what_was_not_told_is_left_out() {
        let levels = levels(include_str!("../../examples/odd/shallow.toml"), None);
        let names: Vec<&str> = levels.iter().map(|level| level.what).collect();
        assert_eq!(
            names,
            [
                "peak of the rafter tops",
                // 8 in out the roof is 2 in lower, of the heel stand's 2.73
                "tail cut, top",
                "plate, top",
                "ceiling (joists, bottom)",
                "floor"
            ]
        );
        assert!(levels.iter().all(|level| level.above_ground.is_none()));
    }
}
