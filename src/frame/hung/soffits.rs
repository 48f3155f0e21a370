//! What carries a level soffit: a ledger along each wall under an eave, and a lookout beside each tail, out to the tail cut.

use crate::catalog::lumber::Section;
use crate::frame::eave_boards::{LEDGER_IN, ledger_depth, soffit_stock};
use crate::frame::role::Role;
use crate::frame::stick::{Axis, Trim};
use crate::geom::{Cell, DVec2, DVec3, Plane, Solid};
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::plan::GablePlan;
use crate::roof::{Slope, Wall, WallLine};

use super::ground::Ground;
use super::left_out::LeftOut;
use super::piece::{Hung, off, plane_of};
use super::solids::Room;
use super::stations::sixteenths;
use super::walled::Walled;
use super::walls::along_in_pieces;

/// A ledger shorter than this is left out, inches.
const SHORTEST_IN: f64 = 12.0;

/// The soffit framing of all eaves over walls, if the plan has it.
pub(super) fn add(
    (ground, plan): (&Ground, &GablePlan),
    room: &mut Room,
    left_out: &mut Vec<LeftOut>,
) {
    if !plan.soffit_framing {
        return;
    }
    let blocks = Walled::all(ground);
    for (number, block) in blocks.iter().enumerate() {
        for side in [Wall::A, Wall::B, Wall::Near, Wall::Far] {
            let wall = block.wall(side);
            let place = format!("{}.{}", block.name, wall.wall.word());
            let none = |why| LeftOut::whole(Role::SoffitLookout, &place, why);
            if ground.faces.iter().enumerate().any(|(face, _)| {
                ground.high_walls_of(face).any(|other| std::ptr::eq(other, wall)) && block.is_shed()
            }) {
                left_out.push(none("the tails rise there, and the soffit is nailed to them"));
            }
            let Some(slope) = wall.slope else { continue };
            let faces = block.faces(ground, side);
            let dormer = faces.first().filter(|_| ground.dormer(block.name).is_some());
            let deck = dormer.and_then(|face| ground.landing(ground.layer_of(*face), false));
            let eave = Eave { deck, ..Eave::of((ground, plan), wall, slope) };
            if eave.ledger_face + LEDGER_IN >= eave.tail {
                left_out.push(none("the overhang leaves no room for it"));
                continue;
            }
            let inner = match eave.ledger_depth() {
                Some(depth) => {
                    eave.put_ledger(depth, (&blocks, number), room);
                    eave.ledger_face
                }
                None => {
                    let why = "the tails leave no room for one against the wall";
                    left_out.push(LeftOut::whole(Role::SoffitLedger, &place, why));
                    eave.ledger_face - LEDGER_IN
                }
            };
            let missing = eave.put_lookouts(&faces, inner, room);
            if missing > 0 {
                left_out.push(LeftOut::some(Role::SoffitLookout, &place, missing));
            }
        }
    }
}

/// An eave over a wall. Places are inches out from the building line.
struct Eave<'a> {
    ground: &'a Ground,
    wall: &'a WallLine,
    slope: Slope,
    along: DVec2,
    /// The outer face of a ledger on the sheathed wall.
    ledger_face: f64,
    /// The tail cut at the top.
    tail: f64,
    /// The tail cut, its outside beyond it.
    tail_cut: Plane,
    /// The lowest wood of the tails.
    lowest: f64,
    /// The top of the deck that a dormer stands on, its outside below.
    deck: Option<Plane>,
}

impl<'a> Eave<'a> {
    fn of((ground, plan): (&'a Ground, &GablePlan), wall: &'a WallLine, slope: Slope) -> Eave<'a> {
        let stretch = slope.stretch();
        let (tail, down, normal) = if ground.has_square_tails() {
            let in_the_face = (wall.out / stretch).extend(-slope.tangent() / stretch);
            (wall.reach - ground.boards / stretch, ground.depth / stretch, in_the_face)
        } else {
            (wall.reach - ground.boards, ground.depth * stretch, wall.out.extend(0.0))
        };
        let down = ground.choices.tail_face.map_or(down, InInches::inches);
        let top = wall.from + wall.out * tail;
        let top = top.extend(slope.height(top));
        Eave {
            ground,
            wall,
            slope,
            along: (wall.to - wall.from).normalize(),
            ledger_face: plan.sheathing.inches() + LEDGER_IN,
            tail,
            tail_cut: Plane::through(top, normal),
            lowest: top.z - down,
            deck: None,
        }
    }

    /// The point so far along the wall, out from it, and above its plate's level zero.
    fn point(&self, at: f64, out: f64, z: f64) -> DVec3 {
        (self.wall.from + self.along * at + self.wall.out * out).extend(z)
    }

    fn length(&self) -> f64 {
        self.wall.from.distance(self.wall.to)
    }

    /// Depth of the ledger that has room under the rafters.
    fn ledger_depth(&self) -> Option<f64> {
        let plumb = self.ground.depth * self.slope.stretch();
        let bottom = self.slope.height(self.point(0.0, self.ledger_face, 0.0).truncate()) - plumb;
        ledger_depth(bottom - self.lowest)
    }

    /// The ledger, where the wall is free: outside the other blocks, and clear of hips and valleys.
    fn put_ledger(&self, depth: f64, (blocks, own): (&[Walled], usize), room: &mut Room) {
        let sheathed = self.ledger_face - LEDGER_IN;
        let mut taken = self.beside_blocks(blocks, own);
        let (one, other) = (self.along.extend(0.0), self.wall.out.extend(0.0));
        let corner = self.point(0.0, sheathed, self.lowest);
        let sides = (one * self.length(), other * LEDGER_IN, DVec3::Z * depth);
        let cell = if one.cross(other).z > 0.0 {
            Cell::from_box(corner, sides.0, sides.1, sides.2)
        } else {
            Cell::from_box(corner, sides.1, sides.0, sides.2)
        };
        taken.extend(room.taken(&Solid::from(cell), corner, one));
        taken.sort_by(|one, other| one.0.total_cmp(&other.0));
        let mut from = 0.0_f64;
        let mut free = Vec::new();
        for (start, end) in taken.into_iter().chain([(self.length(), self.length())]) {
            if start - from > SHORTEST_IN {
                free.push((from, start));
            }
            from = from.max(end);
        }
        let pieces =
            free.into_iter().flat_map(|(from, to)| along_in_pieces(self.ground.longest, from, to));
        for (from, to) in pieces {
            let square = |at: f64, out: DVec2| {
                off("square cut", Plane::through(self.point(at, 0.0, 0.0), out.extend(0.0)))
            };
            let piece = Hung {
                role: Role::SoffitLedger,
                section: Section::sized(inches(LEDGER_IN), inches(depth)),
                axis: Axis {
                    origin: self.point(from, sheathed + LEDGER_IN / 2.0, self.lowest),
                    along: one,
                    up: DVec3::Z,
                },
                trims: [square(from, -self.along), square(to, self.along)]
                    .into_iter()
                    .chain(self.on_deck())
                    .collect(),
                id: self.id(Role::SoffitLedger, from),
                face: None,
                line: None,
            };
            // a piece without room would show among the rafters that get no lookout
            let _ = room.take(vec![piece], |_, _| true);
        }
    }

    /// The stretches along the wall where other blocks stand, with their sheathing, and the ledger of those that come first.
    fn beside_blocks(&self, blocks: &[Walled], own: usize) -> Vec<(f64, f64)> {
        // a dormer stands over what is around it
        if self.deck.is_some() {
            return Vec::new();
        }
        let sheathed = self.ledger_face - LEDGER_IN;
        let others = blocks
            .iter()
            .enumerate()
            .filter(|(number, block)| *number != own && self.ground.dormer(block.name).is_none());
        let reach = |(number, block): (usize, &Walled)| {
            let more = if number < own { self.ledger_face } else { sheathed };
            let corners = [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)].map(|(x, y)| {
                let x = -more + x * (block.length + 2.0 * more);
                let y = -more + y * (block.span + 2.0 * more);
                let arm =
                    block.origin().truncate() + block.along * x + block.across * y - self.wall.from;
                DVec2::new(arm.dot(self.along), arm.dot(self.wall.out))
            });
            let low = corners.into_iter().fold(DVec2::INFINITY, DVec2::min);
            let high = corners.into_iter().fold(DVec2::NEG_INFINITY, DVec2::max);
            let meets = low.y < self.ledger_face - HAIR && high.y > sheathed + HAIR;
            let along = low.x < self.length() && high.x > 0.0;
            (meets && along).then_some((low.x, high.x))
        };
        others.filter_map(reach).collect()
    }

    /// A lookout beside every tail, from `inner` out. Gives how many tails have none.
    fn put_lookouts(&self, faces: &[usize], inner: f64, room: &mut Room) -> usize {
        let is_beyond = |place: DVec3| {
            let out = (place.truncate() - self.wall.from).dot(self.wall.out);
            out > inner + HAIR
        };
        let tails: Vec<f64> = room
            .sticks()
            .filter(|(hung, body)| {
                hung.face.is_some_and(|face| faces.contains(&face))
                    && hung.role != Role::BargeRafter
                    && (is_beyond(body.low) || is_beyond(body.high))
            })
            .map(|(hung, _)| (hung.axis.origin.truncate() - self.wall.from).dot(self.along))
            .filter(|at| (-HAIR..self.length() + HAIR).contains(at))
            .filter(|at| self.is_over_deck(*at, inner))
            .collect();
        let has_ledger = inner >= self.ledger_face - HAIR;
        let holds = |_: &Hung, touched: &[&Hung]| {
            let beside = touched.iter().any(|other| other.face.is_some());
            let on_wall = touched.iter().any(|other| other.role == Role::SoffitLedger);
            beside && (on_wall || !has_ledger)
        };
        let half = soffit_stock(3.5).thickness_in() / 2.0;
        let aside = self.ground.half_rafter + half;
        let mut missing = 0;
        for tail in tails {
            // beyond its rafter, or before it
            let has_one = [tail + aside, tail - aside].into_iter().any(|at| {
                let within = at - half > -HAIR && at + half < self.length() + HAIR;
                within && room.take(vec![self.lookout(at, inner)], holds).is_ok()
            });
            missing += usize::from(!has_one);
        }
        missing
    }

    /// The cut on the deck that a dormer stands on.
    fn on_deck(&self) -> Option<Trim> {
        self.deck.map(|deck| off("cut on the deck", deck))
    }

    /// True if the soffit of a tail is over the deck: farther back a dormer's runs into it.
    fn is_over_deck(&self, at: f64, inner: f64) -> bool {
        let is_above = |deck: Plane| {
            [inner, self.tail]
                .iter()
                .all(|out| deck.distance(self.point(at, *out, self.lowest)) < HAIR)
        };
        self.deck.is_none_or(is_above)
    }

    fn lookout(&self, at: f64, inner: f64) -> Hung {
        let out = self.wall.out.extend(0.0);
        let plumb = |far: f64, normal: DVec3| Plane::through(self.point(at, far, 0.0), normal);
        Hung {
            role: Role::SoffitLookout,
            section: soffit_stock(3.5),
            axis: Axis { origin: self.point(at, inner, self.lowest), along: out, up: DVec3::Z },
            trims: [
                off("square cut", plumb(inner, -out)),
                off("tail cut", self.tail_cut),
                off("clip to the roof plane", plane_of(&self.slope)),
            ]
            .into_iter()
            .chain(self.on_deck())
            .collect(),
            id: self.id(Role::SoffitLookout, at),
            face: None,
            line: None,
        }
    }

    fn id(&self, role: Role, at: f64) -> String {
        let WallLine { block, wall, .. } = self.wall;
        format!("{}-{block}.{}-{}", role.letters(), wall.word(), sixteenths(at))
    }
}
