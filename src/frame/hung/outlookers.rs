//! Outlookers at gables: laid flat from the barge rafter over the rafter flush with the wall to the next one inside.

use crate::frame::rake_places::{Slant, Slots, Zone};
use crate::frame::role::Role;
use crate::frame::stick::{Axis, Trim};
use crate::geom::{Cell, Cut, DVec3, Plane, Solid};
use crate::measure::quantity::InInches;
use crate::measure::tolerance::HAIR;
use crate::plan::RakeFraming;
use crate::roof::Wall;

use super::overhang::{Barge, Rake};
use super::piece::{Hung, off};
use super::solids::Room;
use super::stations::sixteenths;

/// One slope with the rafters that its outlookers lie on and run to.
struct Slope<'a> {
    face: usize,
    barge: &'a Hung,
    /// Where the barge rafter's top begins and ends up the face, in plan.
    reach: (f64, f64),
    /// The near side of the next rafter inside, along the block.
    inner: f64,
}

/// A slope by what makes the rafters flush with its walls one pattern.
#[derive(Debug, Clone, Copy)]
struct Incline {
    tangent: f64,
    run: f64,
}

impl Incline {
    fn is_like(&self, other: &Incline) -> bool {
        (self.tangent - other.tangent).abs() < HAIR && (self.run - other.run).abs() < HAIR
    }
}

/// What stands where the outlookers of one slope would lie: from where to where up the slope from the tail, inches.
pub(super) struct Taken {
    of: Incline,
    reaches: Vec<(f64, f64)>,
}

/// What stands in the way at all rakes of a block: outlookers lie alike over rafters that are alike.
pub(super) fn taken(rakes: &[(Rake<'_>, Vec<Barge>, String)], room: &Room) -> Vec<Taken> {
    let slopes = rakes.iter().flat_map(|(rake, barges, _)| {
        barges.iter().map(move |(face, barge, reach)| (rake, *face, barge, *reach))
    });
    let taken = slopes.filter_map(|(rake, face, barge, reach)| {
        let (_, inner) = rake.bearing(face, room)?;
        let reaches = rake.taken(&Slope { face, barge, reach, inner }, room);
        Some(Taken { of: rake.incline_of(face, reach), reaches })
    });
    taken.collect()
}

impl Rake<'_> {
    /// Cuts the rafters flush with the wall for outlookers and lays these. False if a slope has no room for any; then the rafters are
    /// as they were.
    pub(super) fn outlooked(&self, barges: &[Barge], taken: &[Taken], room: &mut Room) -> bool {
        let mut before = Vec::new();
        let is_done = barges.iter().all(|(face, barge, reach)| {
            let Some((end, inner)) = self.bearing(*face, room) else { return false };
            let slope = Slope { face: *face, barge, reach: *reach, inner };
            let places = self.outlooker_places(&slope, taken);
            let cut = self.cut_for(&room.hung()[end], &slope, &places);
            let Some(old) = room.recut(end, cut) else { return false };
            before.push((end, old));
            let holds = |_: &Hung, touched: &[&Hung]| {
                let on = |role: Role| touched.iter().any(|other| other.role == role);
                let inside = touched.iter().any(|other| {
                    let is_edge = matches!(other.role, Role::BargeRafter | Role::EndRafter);
                    other.face.is_some() && !is_edge
                });
                on(Role::BargeRafter) && on(Role::EndRafter) && inside
            };
            !places.is_empty()
                && places
                    .iter()
                    .map(|place| self.outlooker(&slope, *place))
                    .all(|one| room.take(vec![one], holds).is_ok())
        });
        if !is_done {
            for (number, old) in before {
                room.recut(number, old);
            }
        }
        is_done
    }

    /// The rafter flush with the wall, and the near side of the next one inside.
    fn bearing(&self, face: usize, room: &Room) -> Option<(usize, f64)> {
        let half = self.ground.half_rafter;
        // inward from the wall's framing face
        let inward = |hung: &Hung| {
            let x = self.block.place(hung.axis.origin.truncate()).x;
            if self.end == Wall::Far { self.flush() - x } else { x - self.flush() }
        };
        let own = room.hung().iter().enumerate().filter(|(_, hung)| hung.face == Some(face));
        let placed: Vec<(usize, f64)> = own.map(|(number, hung)| (number, inward(hung))).collect();
        let (end, _) = placed.iter().find(|(_, aside)| (aside - half).abs() < HAIR)?;
        let inside = placed.iter().map(|(_, aside)| *aside).filter(|aside| *aside > half + HAIR);
        let near = inside.reduce(f64::min)? - half;
        let near = if self.end == Wall::Far { self.flush() - near } else { near };
        Some((*end, near))
    }

    /// Thickness of an outlooker, and half of its width up the slope.
    fn outlooker_size(&self) -> (f64, f64) {
        let outlooker = &self.plan.outlooker;
        (outlooker.thickness_in(), outlooker.depth_in() / 2.0)
    }

    /// Where the middles of the outlookers lie up the slope from the tail: clear of the plate and of what stands over it, and only where
    /// the rafter flush with the wall keeps some wood under them.
    fn outlooker_places(&self, slope: &Slope, taken: &[Taken]) -> Vec<f64> {
        let axes = &self.ground.faces[slope.face];
        let (thick, half) = self.outlooker_size();
        let (from, to) = slope.reach;
        let (stretch, tangent) = (axes.slope.stretch(), axes.slope.tangent());
        let (depth, plate) = (self.ground.depth, self.ground.plate);
        let heel_stand = self.ground.heel_of(self.block.name);
        let seat = self.ground.seats(slope.face).into_iter().find(|seat| !seat.is_high);
        let (over_line, plate_top) = seat.map_or((0.0, 0.0), |seat| (seat.up, -seat.level.offset));
        let soffit = self.ground.soffit_cut(slope.face, from - self.ground.boards);
        let slant = Slant {
            tangent,
            secant: stretch,
            depth,
            heel_stand,
            tail: over_line - from,
            seat: ((depth * stretch - heel_stand) / tangent).min(plate),
            soffit: soffit.map(|plane| -plane.offset - plate_top),
        };
        let mut zones = Zone::of_weak_wood(&slant, half, thick, true);
        zones.extend(Zone::over(&slant, half, thick, (0.0, plate), 0.0));
        let own = self.incline_of(slope.face, slope.reach);
        let alike = taken.iter().filter(|taken| own.is_like(&taken.of));
        let stands = alike.flat_map(|taken| &taken.reaches);
        zones.extend(stands.filter_map(|(low, high)| Zone::new(low - half, high + half)));
        let last = (to - from) * stretch - thick * tangent - half;
        Slots::new(half, last, &zones).places(self.plan.rake_spacing.inches(), 2.0 * half)
    }

    fn incline_of(&self, face: usize, (from, to): (f64, f64)) -> Incline {
        Incline { tangent: self.ground.faces[face].slope.tangent(), run: to - from }
    }

    /// What stands beside the rafter flush with the wall, where outlookers would lie: from where to where up the slope from the tail.
    fn taken(&self, slope: &Slope, room: &Room) -> Vec<(f64, f64)> {
        let axes = &self.ground.faces[slope.face];
        let (thick, _) = self.outlooker_size();
        let ((from, to), stretch) = (slope.reach, axes.slope.stretch());
        let inward = if self.end == Wall::Far { -1.0 } else { 1.0 };
        let edge = self.place() + inward * self.ground.half_rafter;
        let flush = self.flush();
        let sides = [(edge, flush), (flush + inward * 2.0 * self.ground.half_rafter, slope.inner)];
        let beside = sides.into_iter().flat_map(|(one, other)| {
            let (low, high) = (one.min(other), one.max(other));
            let corner = self.on_slope(slope, low, from);
            let along = self.block.along.extend(0.0) * (high - low);
            let (up, down) =
                (axes.uphill() * ((to - from) * stretch), axes.slope.outward() * -thick);
            let turned = along.cross(up).dot(down) > 0.0;
            let cell = if turned {
                Cell::from_box(corner, along, up, down)
            } else {
                Cell::from_box(corner, up, along, down)
            };
            room.taken(&Solid::from(cell), corner, axes.uphill())
        });
        beside.collect()
    }

    /// The point of a slope's plane so far along the block and up the face.
    fn on_slope(&self, slope: &Slope, x: f64, up: f64) -> DVec3 {
        let axes = &self.ground.faces[slope.face];
        axes.point(axes.along.dot(self.world(x).truncate()), up)
    }

    /// The rafter flush with the wall, ripped or housed for outlookers at some places.
    fn cut_for(&self, rafter: &Hung, slope: &Slope, places: &[f64]) -> Hung {
        let axes = &self.ground.faces[slope.face];
        let (thick, half) = self.outlooker_size();
        let (normal, up) = (axes.slope.outward(), axes.uphill());
        let tail = self.on_slope(slope, self.flush(), slope.reach.0);
        let under = Plane::through(tail - normal * thick, normal);
        let mut cut = rafter.clone();
        cut.role = Role::EndRafter;
        cut.id = rafter.id.replacen(rafter.role.letters(), Role::EndRafter.letters(), 1);
        if self.plan.rake_framing == RakeFraming::Over {
            cut.trims.push(off("ripped for the outlookers", under));
            return cut;
        }
        cut.trims.extend(places.iter().map(|place| {
            let middle = tail + up * *place;
            let low = Plane::through(middle - up * half, up);
            let high = Plane::through(middle + up * half, -up);
            Trim { name: "outlooker housing", cut: Cut::out([under, low, high]) }
        }));
        cut
    }

    /// The outlooker whose middle is so far up the slope from the tail: laid flat, its wide side up the slope, its top in the roof plane.
    fn outlooker(&self, slope: &Slope, place: f64) -> Hung {
        let axes = &self.ground.faces[slope.face];
        let (thick, half) = self.outlooker_size();
        let (along, up) = (self.block.along.extend(0.0), axes.uphill());
        let (edge, inner) = match self.end {
            Wall::Far => (slope.inner, self.place() - self.ground.half_rafter),
            _ => (self.place() + self.ground.half_rafter, slope.inner),
        };
        let tail = self.on_slope(slope, edge, slope.reach.0);
        let middle = tail + up * place;
        Hung {
            role: Role::Outlooker,
            section: self.plan.outlooker.clone(),
            axis: Axis {
                origin: middle - up * half - axes.slope.outward() * (thick / 2.0),
                along,
                up,
            },
            trims: vec![
                off("square cut", Plane::through(self.world(edge), -along)),
                off("square cut", Plane::through(self.world(inner), along)),
            ],
            id: format!(
                "{}-{}-{}",
                Role::Outlooker.letters(),
                slope.barge.id.trim_start_matches("RB-"),
                sixteenths(place)
            ),
            face: None,
            line: None,
        }
    }
}
