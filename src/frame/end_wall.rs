//! The wall under a gable, above its plate: studs up to the rafters and the ridge board over it. Described across its own block, so
//! that the gables of every roof have the same ones.

use crate::catalog::lumber::Section;
use crate::geom::{Cut, DVec3, Plane};
use crate::measure::quantity::InInches;
use crate::measure::tolerance::LAST_BITS;
use crate::plan::Vent;

use super::across::Loose;
use super::role::Role;
use super::stick::{Axis, Trim};

/// Studs shorter than this at their short side are left out, inches (common practice).
pub(super) const SHORTEST_STUD_IN: f64 = 3.0;

/// If a stud at the peak has less than this under each rafter, it goes under the ridge board, inches
/// (common practice).
const LEAST_UNDER_RAFTER_IN: f64 = 0.25;

/// The wall under a gable; places are inches across the block from wall A's building line.
#[derive(Debug, Clone)]
pub(super) struct EndWall {
    /// Over wall A's building line on top of the plate, on the side of the studs toward the block's near end.
    pub origin: DVec3,
    /// Unit vector along the ridge.
    pub along: DVec3,
    /// Unit vector across the block, from wall A.
    pub across: DVec3,
    /// Section of the studs.
    pub stud: Section,
    /// First and last place where the middle of a stud is clear of the side walls.
    pub between: (f64, f64),
    /// Place of the ridge's middle.
    pub peak: f64,
    /// Half the thickness of the ridge board; zero if there is none.
    pub half_ridge: f64,
    /// Bottom of the ridge board above the plate; infinite without one.
    pub ridge_bottom: f64,
    /// The planes of the bottom edges of the rafters over wall A, and over wall B unless one slope goes on to it.
    pub bottoms: Vec<Plane>,
    /// The faces of the ridge board toward walls A and B, their outsides there.
    pub ridge_faces: Vec<Plane>,
}

fn end(name: &'static str, plane: Plane) -> Trim {
    Trim { name, cut: Cut::off(plane) }
}

impl EndWall {
    fn half(&self) -> f64 {
        self.stud.thickness_in() / 2.0
    }

    /// Height at the short side of a stud with its middle at `y`, inches.
    pub(super) fn short_side(&self, y: f64) -> f64 {
        let sides = [y - self.half(), y + self.half()];
        let at = |plane: &Plane, side: f64| plane.along_line(self.point(side, 0.0), DVec3::Z);
        let heights =
            self.bottoms.iter().flat_map(|plane| sides.map(|side| at(plane, side))).flatten();
        heights.fold(f64::INFINITY, f64::min)
    }

    fn point(&self, y: f64, z: f64) -> DVec3 {
        self.origin + self.across * y + DVec3::Z * z
    }

    /// The middles of the studs a spacing apart, from the peak to both sides as long as they are tall enough; the first ones as far
    /// from the peak as a vent's opening asks.
    pub(super) fn places_from_peak(&self, spacing: f64, first: f64) -> Vec<f64> {
        let (first_place, last_place) = self.between;
        let stands =
            |y: f64| y >= first_place && y <= last_place && self.short_side(y) >= SHORTEST_STUD_IN;
        let mut places = Vec::new();
        for side in [-1.0, 1.0] {
            let mut out = if side > 0.0 && first <= 0.0 { spacing } else { first };
            while stands(self.peak + side * out) {
                places.push(self.peak + side * out);
                out += spacing;
            }
        }
        places
    }

    /// True if the studs beside a vent opening, and the ridge board over it, leave room over its sill.
    pub(super) fn fits(&self, vent: &Vent) -> bool {
        let flank = self.short_side(self.peak + vent.width.inches() / 2.0 + self.half());
        let other = self.short_side(self.peak - vent.width.inches() / 2.0 - self.half());
        let sill = vent.sill.inches();
        flank.min(other) >= SHORTEST_STUD_IN.max(sill) && self.ridge_bottom > sill
    }

    /// True if the opening has a head; if the rafters leave no room for one, the opening runs up to them.
    pub(super) fn has_head(&self, vent: &Vent) -> bool {
        let half = vent.width.inches() / 2.0;
        let corners = [-half, half].map(|aside| self.point(self.peak + aside, 0.0));
        let over = |bottom: &Plane| corners.map(|corner| bottom.along_line(corner, DVec3::Z));
        let lowest = self.bottoms.iter().flat_map(over).flatten().fold(f64::INFINITY, f64::min);
        lowest.min(self.ridge_bottom)
            >= (vent.sill + vent.height).inches() + self.stud.thickness_in()
    }

    /// The studs a spacing apart, around a vent opening: the middle of each, the height of its foot, and its top if it does not end
    /// at what is over it.
    pub(super) fn studs(&self, spacing: f64, vent: Option<&Vent>) -> Vec<(f64, f64, Option<f64>)> {
        let first = vent.map_or(0.0, |vent| vent.width.inches() / 2.0 + self.half());
        let places = self.places_from_peak(spacing, first);
        let mut list: Vec<(f64, f64, Option<f64>)> =
            places.into_iter().map(|middle| (middle, 0.0, None)).collect();
        if let Some(vent) = vent {
            let thick = self.stud.thickness_in();
            let (sill, head) = (vent.sill.inches(), (vent.sill + vent.height).inches());
            if sill - thick >= SHORTEST_STUD_IN {
                list.push((self.peak, 0.0, Some(sill - thick)));
            }
            let above = self.short_side(self.peak) - head - thick;
            if self.has_head(vent) && above >= SHORTEST_STUD_IN {
                list.push((self.peak, head + thick, None));
            }
        }
        list.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
        list
    }

    /// Sill and head of a vent opening: studs laid flat between the two beside it.
    pub(super) fn vent_frame(&self, vent: &Vent) -> Vec<Loose> {
        let half = vent.width.inches() / 2.0;
        let thick = self.stud.thickness_in();
        let rows = [
            (vent.sill.inches() - thick, vent.sill.inches() >= thick),
            ((vent.sill + vent.height).inches(), self.has_head(vent)),
        ];
        let side = |aside: f64| {
            let out = self.across * aside.signum();
            end("square cut", Plane::through(self.point(self.peak + aside, 0.0), out))
        };
        rows.into_iter()
            .filter(|(_, needed)| *needed)
            .map(|(bottom, _)| Loose {
                role: Role::VentFrame,
                section: self.stud.clone(),
                axis: Axis {
                    origin: self.point(self.peak - half, bottom + thick / 2.0),
                    along: self.across,
                    up: self.along,
                },
                trims: vec![side(-half), side(half)],
            })
            .collect()
    }

    /// A stud with its middle at `y` from a height up to another one, or to what is over it.
    pub(super) fn stud(&self, y: f64, (from, to): (f64, Option<f64>)) -> Loose {
        let half = self.half();
        // the stud's wide side runs along the ridge, so its blade tilt is the slope of the rafter
        let axis = Axis { origin: self.point(y, from), along: DVec3::Z, up: self.along };
        let level = |height: f64, out: DVec3| Plane::through(self.point(0.0, height), out);
        let foot = end("square cut", level(from, -DVec3::Z));
        let loose = |axis: Axis, trims: Vec<Trim>| Loose {
            role: Role::GableStud,
            section: self.stud.clone(),
            axis,
            trims,
        };
        if let Some(to) = to {
            return loose(axis, vec![foot, end("square cut", level(to, DVec3::Z))]);
        }
        // every stud looks the same from its own side of the peak: turn those beyond the peak around
        let beyond = y > self.peak + LAST_BITS;
        let bevel = "beveled to the rafter";
        let at_peak = (y - self.peak).abs() < half + self.half_ridge + LAST_BITS;
        let has_ridge = at_peak && self.half_ridge > 0.0;
        let square = end("square under the ridge board", level(self.ridge_bottom, DVec3::Z));
        // how much of it reaches past the ridge board's face under a rafter, and how low that rafter is
        // there
        let past = (y - self.peak).abs() + half - self.half_ridge;
        let board_is_lowest = self.ridge_bottom <= self.short_side(y) + LAST_BITS;
        let trims = if has_ridge && (board_is_lowest || past < LEAST_UNDER_RAFTER_IN) {
            // it carries the ridge board; if the rafters' plumb cuts reach past the board's bottom, the
            // stud's extra thickness is cut away beside them
            let eased = self.bottoms.iter().zip(&self.ridge_faces).map(|(bottom, face)| Trim {
                name: "eased beside the rafter",
                cut: Cut::out([*bottom, *face]),
            });
            [vec![foot, square], eased.collect()].concat()
        } else if at_peak {
            // it is under the rafters of both sides, and a deep ridge board may be between them
            let both = self.bottoms.iter().map(|bottom| end(bevel, *bottom)).collect();
            let under = if has_ridge { vec![square] } else { Vec::new() };
            [vec![foot], both, under].concat()
        } else {
            let own = if beyond { self.bottoms.last() } else { self.bottoms.first() };
            [vec![foot], own.map(|bottom| end(bevel, *bottom)).into_iter().collect()].concat()
        };
        // in a block that runs the other way around both sides change places
        if beyond != (self.along.cross(self.across).z < 0.0) {
            let deep = self.along * self.stud.depth_in();
            let turned = Axis { origin: axis.origin + deep, along: DVec3::Z, up: -self.along };
            return loose(turned, trims);
        }
        loose(axis, trims)
    }
}
