//! The sticks of a face: each lies in it at its station, between what carries it below and above.

use crate::frame::common::SOFFIT_CUT;
use crate::frame::role::Role;
use crate::frame::stick::{Axis, Trim};
use crate::geom::{Cut, DVec2, DVec3, HalfPlane, Plane, Polygon};
use crate::measure::tolerance::{HAIR, LAST_BITS};

use super::face::{Bound, End, FaceAxes, Rim, Stretch};
use super::ground::{Ground, Seat};
use super::lines::LineOf;
use super::nodes::{King, Node, Stick};
use super::piece::{BIRDSMOUTH, Hung, off, plane_of, tail_cut};
use super::stations::{Station, aside};

/// A tail that the boards of its eave lean with.
const SQUARE_TAIL: &str = "tail square cut";

/// A rafter with less length than this between its cuts is left out, inches.
const SHORTEST_IN: f64 = 3.0;

/// The rafters of a face.
pub(super) fn add(
    ground: &Ground,
    lines: (&[King], &[Option<Polygon>]),
    face: usize,
    stations: &[Station],
    sticks: &mut Vec<Hung>,
) {
    sticks.extend(of_face(ground, lines, face, stations, false).into_iter().map(|(hung, _)| hung));
}

/// Moves rafters that would stand half on each side of a corner of their face, where nothing carries them, aside.
pub(super) fn beside_corners(
    ground: &Ground,
    lines: (&[King], &[Option<Polygon>]),
    stations: &mut [Vec<Station>],
) {
    let half = ground.half_rafter;
    for (face, own) in stations.iter_mut().enumerate() {
        let outline = &ground.roof.faces[face].outline;
        let along = ground.faces[face].along;
        let corners: Vec<f64> = outline.iter().map(|corner| corner.truncate().dot(along)).collect();
        let stands = |station: &Station| {
            !of_face(ground, lines, face, std::slice::from_ref(station), false).is_empty()
        };
        for number in 0..own.len() {
            let at = own[number].at;
            let corner = corners.iter().find(|corner| (at - **corner).abs() < half - HAIR);
            let Some(corner) = corner.filter(|_| !own[number].is_fixed() && !stands(&own[number]))
            else {
                continue;
            };
            // what lies under the edges at the corner may be in its way too
            let mut beside = aside().map(|(side, far)| Station {
                at: corner + side * (half + far),
                ..own[number].clone()
            });
            let clear = |moved: &Station| {
                let mut others = own.iter().enumerate().filter(|(other, _)| *other != number);
                others.all(|(_, other)| (other.at - moved.at).abs() >= 2.0 * half - HAIR)
            };
            if let Some(moved) = beside.find(|moved| clear(moved) && stands(moved)) {
                own[number] = moved;
            }
        }
    }
}

/// The barge rafters of a face at some stations beyond its walls, each with where its top begins and ends up the face.
pub(super) fn barges(
    ground: &Ground,
    lines: (&[King], &[Option<Polygon>]),
    face: usize,
    stations: &[Station],
) -> Vec<(Hung, (f64, f64))> {
    of_face(ground, lines, face, stations, true)
}

fn of_face(
    ground: &Ground,
    (kings, covers): (&[King], &[Option<Polygon>]),
    face: usize,
    stations: &[Station],
    is_barge: bool,
) -> Vec<(Hung, (f64, f64))> {
    let mut found = Vec::new();
    // what lies over the face in plan, with room for thicknesses
    let outline: Vec<DVec2> =
        ground.roof.faces[face].outline.iter().map(|corner| corner.truncate()).collect();
    let bounds = |corners: &[DVec2]| {
        let low = corners.iter().copied().fold(DVec2::INFINITY, DVec2::min);
        (low, corners.iter().copied().fold(DVec2::NEG_INFINITY, DVec2::max))
    };
    let (low, high) = bounds(&outline);
    let over = |cover: &&Polygon| {
        let (from, to) = bounds(cover.corners());
        from.cmple(high).all() && to.cmpge(low).all()
    };
    let layer = ground.layer_of(face);
    let own = covers.iter().zip(&ground.lines).filter(|(_, line)| line.layer == layer);
    let beside: Vec<&Polygon> = own.filter_map(|(cover, _)| cover.as_ref()).filter(over).collect();
    let axes = &ground.faces[face];
    let seats = ground.seats(face);
    for station in stations {
        for stretch in axes.stretches(station.at) {
            let king = station
                .king
                .filter(|king| (kings[*king].head.dot(axes.up) - stretch.to).abs() < 0.01);
            let rafter = Rafter {
                ground,
                kings,
                beside: &beside,
                face,
                axes,
                seats: &seats,
                stretch,
                station,
                king,
                is_barge,
            };
            found.extend(rafter.hung());
        }
    }
    found
}

struct Rafter<'a> {
    ground: &'a Ground,
    kings: &'a [King],
    /// what the sticks of the lines beside the face cover
    beside: &'a [&'a Polygon],
    face: usize,
    axes: &'a FaceAxes,
    seats: &'a [Seat],
    stretch: Stretch,
    station: &'a Station,
    king: Option<usize>,
    /// True beyond a gable's wall, where rungs carry it and no plate does.
    is_barge: bool,
}

/// The planes of one end, and where they leave the rafter's two sides.
struct EndCut {
    planes: Vec<Plane>,
    /// True if wood stays that is inside any one of them; false if only what is inside all of them stays.
    hollow: bool,
    name: &'static str,
}

impl Rafter<'_> {
    /// The stick with where its top begins and ends up the face; `None` if nothing carries it or hardly anything is left of it.
    fn hung(&self) -> Option<(Hung, (f64, f64))> {
        let half = self.ground.half_rafter;
        let at = self.station.at;
        let [below, above] = self.axes.met(at, half, &self.stretch);
        let mut low = self.end(&below, false)?;
        let mut high = match self.king {
            Some(king) => EndCut {
                planes: Node::at(
                    self.kings[king].head,
                    self.ground.layer_of(self.face),
                    &self.ground.lines,
                    self.kings,
                )
                .cuts(Stick::King(king)),
                hollow: false,
                name: "top plumb cut",
            },
            None => self.end(&above, true)?,
        };
        self.clear_of_lines(&mut low, &mut high)?;
        self.clear_of_boards(&mut low);
        let (from, to) = self.left(&low, &high)?;
        if to - from < SHORTEST_IN {
            return None;
        }
        // one that begins up in the valley has no wood over the plate below it
        let reaches = |seat: &&Seat| from < seat.up + seat.width - HAIR && to > seat.up + HAIR;
        let on_plate: Vec<&Seat> =
            self.seats.iter().filter(|seat| self.is_over(seat)).filter(reaches).collect();
        let bounds = [self.stretch.low, self.stretch.high].map(|rim| self.axes.rims[rim].bound);
        for (bound, is_high) in bounds.iter().zip([false, true]) {
            // an eave carries nothing: the plate inside it must be under the wood
            let carries = |seat: &&&Seat| {
                let inner = seat.up + seat.width.min(self.seat_length(seat));
                seat.is_high == is_high && from < seat.up + HAIR && to > inner - HAIR
            };
            if matches!(bound, Bound::Eave | Bound::Under)
                && !self.is_barge
                && !on_plate.iter().any(|seat| carries(&seat))
            {
                return None;
            }
        }
        let is_whole = match bounds {
            [Bound::Eave, Bound::Line(line)] => self.ground.lines[line].of == LineOf::Ridge,
            [Bound::Eave, Bound::Eave | Bound::Under | Bound::Deck] => true,
            _ => false,
        };
        if self.is_barge && !is_whole {
            return None;
        }
        Some((self.stick(low, high, &on_plate, bounds), (from, to)))
    }

    fn stick(&self, low: EndCut, high: EndCut, on_plate: &[&Seat], bounds: [Bound; 2]) -> Hung {
        let (cosine, sine) = self.axes.turn();
        let up = self.axes.up;
        let normal = (-up * sine).extend(cosine);
        let axis = Axis {
            origin: self.axes.point(self.station.at, self.stretch.from)
                - normal * self.ground.depth,
            along: (up * cosine).extend(sine),
            up: normal,
        };
        let mut ends = Vec::new();
        let mut others = Vec::new();
        for (end, above) in [(low, false), (high, true)] {
            let mut planes = end.planes;
            if end.hollow {
                let out = if above { axis.along } else { -axis.along } * DVec3::new(1.0, 1.0, 0.0);
                let farthest = self.sides(&planes, above);
                let reach = if above { f64::max } else { f64::min };
                let up_to = farthest.into_iter().flatten().reduce(reach).unwrap_or_default();
                let square = self.axes.plan(self.station.at, up_to).extend(0.0);
                ends.push(off(end.name, Plane::through(square, out)));
                others.push(Trim { name: end.name, cut: Cut::out(planes) });
            } else {
                // what cuts it most nearly square ends it
                planes.sort_by(|one, other| {
                    let square = |plane: &Plane| -plane.normal.dot(axis.along).abs();
                    square(one).total_cmp(&square(other))
                });
                let name = |plane: &Plane| match end.name {
                    SQUARE_TAIL => tail_cut(plane),
                    name => name,
                };
                ends.push(off(name(&planes[0]), planes[0]));
                others.extend(planes[1..].iter().map(|plane| off(name(plane), *plane)));
            }
        }
        for seat in on_plate {
            others.push(Trim { name: BIRDSMOUTH, cut: Cut::out([seat.level, seat.heel]) });
        }
        others.extend(self.soffit_cut(bounds[0]));
        let run = (self.stretch.to - self.stretch.from) / cosine;
        let below = self.ground.depth * sine / cosine;
        let bottom = (axis.origin - axis.along * below, axis.origin + axis.along * run);
        for (level, heel) in self.ground.plates_met(bottom, self.ground.half_rafter) {
            let own = |seat: &&Seat| same(&seat.level, &level) && same(&seat.heel, &heel);
            if !on_plate.iter().any(own) {
                others.push(Trim { name: "level cut over a plate", cut: Cut::out([level, heel]) });
            }
        }
        others.extend(self.under_others());
        let known = |trim: &Trim| {
            let planes = ends.iter().chain(&others).flat_map(|other| &other.cut.planes);
            planes.into_iter().any(|plane| trim.cut.planes.iter().all(|own| same(own, plane)))
        };
        let on_it = self.on_what_it_is_laid(bounds[1]).filter(|trim| !known(trim));
        others.extend(on_it);
        let trims: Vec<Trim> = ends.into_iter().chain(others).collect();
        let role = self.role(bounds, !on_plate.is_empty());
        Hung {
            role,
            section: self.ground.choices.rafter.clone(),
            axis,
            trims,
            id: self.id(role, bounds),
            face: Some(self.face),
            line: None,
        }
    }

    /// The level cut under its tail, out from the wall.
    fn soffit_cut(&self, below: Bound) -> Option<Trim> {
        let wall = self.seats.iter().find(|seat| !seat.is_high && below == Bound::Eave)?;
        let up = self.axes.rims[self.stretch.low].up_at(self.station.at);
        let level = self.ground.soffit_cut(self.face, up)?;
        Some(Trim { name: SOFFIT_CUT, cut: Cut::out([level, wall.heel.flipped()]) })
    }

    /// The cut of a dormer's rafter by the roof that it is laid on. Under its tails the sheathed roof goes on (under those of a wing it
    /// does not); over the hole in it a shed's rafter goes down to the header.
    fn on_what_it_is_laid(&self, above: Bound) -> Option<Trim> {
        self.ground.dormer(&self.ground.roof.faces[self.face].block)?;
        let over_hole = matches!(above, Bound::Head(_));
        let deck = self.landing().filter(|_| !over_hole)?;
        Some(off("cut on the deck", deck))
    }

    /// The cuts of a king by the other slopes of its block, which half of it reaches under.
    fn under_others(&self) -> Vec<Trim> {
        let Some(king) = self.king else { return Vec::new() };
        let King { head, beside, .. } = self.kings[king];
        let own = self.ground.slopes_over(&[self.face, beside], head);
        let half = self.ground.half_rafter;
        let higher = own.into_iter().filter(|slope| {
            [-half, half].iter().any(|aside| {
                let place = head + self.axes.along * *aside;
                self.axes.slope.height(place) > slope.height(place) + LAST_BITS
            })
        });
        higher.map(|slope| off("eased to the next face", plane_of(&slope))).collect()
    }

    fn end(&self, rims: &[usize], above: bool) -> Option<EndCut> {
        let mut name = "tail plumb cut";
        let mut planes = Vec::new();
        let mut add = |plane: Plane| {
            if !planes.iter().any(|other: &Plane| same(other, &plane)) {
                planes.push(plane);
            }
        };
        for rim in rims {
            let clear = match self.axes.rims[*rim].bound {
                Bound::Open => return None,
                Bound::Eave if !above && self.ground.is_square(self.face) => {
                    name = SQUARE_TAIL;
                    let eave = self.axes.rims[*rim].up_at(self.station.at);
                    add(self.ground.square_tail(self.face, eave));
                    continue;
                }
                Bound::Eave => self.ground.boards,
                Bound::Under => 0.0,
                Bound::Deck => {
                    let (landing, on_boards) = self.lands()?;
                    name =
                        if on_boards { "level cut on the valley board" } else { "cut on the deck" };
                    add(landing);
                    continue;
                }
                Bound::Head(hole) => {
                    let hole = &self.ground.holes[hole];
                    name = match hole.to_ridge {
                        Some(_) => "ridge plumb cut",
                        None => "plumb cut at the header",
                    };
                    add(hole.head(&self.ground.faces[hole.face]));
                    continue;
                }
                Bound::Hole(hole, end) => {
                    let hole = &self.ground.holes[hole];
                    name = if hole.is_plumb {
                        "plumb cut at the header"
                    } else {
                        "square cut at the header"
                    };
                    add(hole.landing(self.axes, end));
                    continue;
                }
                Bound::Line(line) => {
                    let line = &self.ground.lines[line];
                    name = match line.of {
                        LineOf::Ridge => "ridge plumb cut",
                        LineOf::Hip => "cheek cut at the hip",
                        LineOf::Valley => "cheek cut at the valley",
                        LineOf::Header => "plumb cut at the header",
                    };
                    line.half
                }
            };
            add(self.axes.cut_along(*rim, clear, above));
        }
        // two lines make a hollow corner if each leaves wood where the other takes it
        let hollow = match (rims, planes.len()) {
            (_, 0 | 1) => false,
            ([first, second], 2) => {
                let [one, two] = [first, second].map(|rim| &self.axes.rims[*rim]);
                let middle = |rim: &Rim| (rim.from.x + rim.to.x) / 2.0;
                let half = self.ground.half_rafter;
                // at the first line's own side the first line must decide
                let side = self.station.at + if middle(one) < middle(two) { -half } else { half };
                let (own, other) = (one.up_at(side), two.up_at(side));
                if above { own > other } else { own < other }
            }
            _ => false,
        };
        Some(EndCut { planes, hollow, name })
    }

    /// The top of what it lies on behind its walls: the valley boards there, the deck itself beside its walls.
    fn landing(&self) -> Option<Plane> {
        self.lands().map(|(landing, _)| landing)
    }

    /// The same, and whether there are valley boards.
    fn lands(&self) -> Option<(Plane, bool)> {
        let layer = self.ground.layer_of(self.face);
        let laid = self.ground.laid_as(layer)?;
        let place = self.axes.plan(self.station.at, self.stretch.from);
        let on_boards = laid.out.dot(place - laid.from) < 0.0;
        Some((self.ground.landing(layer, on_boards)?, on_boards))
    }

    /// Cuts both ends to the sticks that reach past the ends of their edges into the rafter.
    fn clear_of_lines(&self, low: &mut EndCut, high: &mut EndCut) -> Option<()> {
        let half = self.ground.half_rafter;
        let at = |aside: f64, up: f64| self.axes.plan(self.station.at + aside, up);
        let spare = 8.0 * half;
        let (from, to) = (self.stretch.from - spare, self.stretch.to + spare);
        let whole =
            Polygon::convex(vec![at(-half, from), at(half, from), at(half, to), at(-half, to)]);
        let kept = |plane: &Plane| self.axes.inside(plane);
        let left = |low: &EndCut, high: &EndCut| {
            let ends = [low, high].into_iter().filter(|end| !end.hollow);
            whole.within_all(ends.flat_map(|end| &end.planes).map(kept))
        };
        for cover in self.beside {
            let own = left(low, high)?;
            if own.within_all(cover.half_planes()).is_none() {
                continue;
            }
            // of the sides of what it runs into: the one that leaves most of the rafter
            let best = cover.half_planes().filter_map(|side| {
                let HalfPlane::Side { normal, offset } = side else { return None };
                let area = own.within(side.other_side())?.area();
                (normal.dot(self.axes.up).abs() > 0.02).then_some((area, normal, offset))
            });
            let (_, normal, offset) = best.max_by(|one, other| one.0.total_cmp(&other.0))?;
            let plane = Plane { normal: -normal.extend(0.0), offset: -offset };
            let end = if normal.dot(self.axes.up) > 0.0 { &mut *low } else { &mut *high };
            if end.hollow {
                // one plane that clears both is enough
                end.planes.clear();
                end.hollow = false;
            }
            end.planes.push(plane);
        }
        Some(())
    }

    /// Cuts a foot that would stand among the boards of its own eave.
    fn clear_of_boards(&self, low: &mut EndCut) {
        let Some(tail) = self.ground.tail(self.face).filter(|_| !low.hollow) else { return };
        let [own] = self.sides(&[tail], false)[..] else { return };
        let cut = self.sides(&low.planes, false);
        let is_past = |side: usize| cut.iter().all(|at| at[side] < own[side] - LAST_BITS);
        if is_past(0) || is_past(1) {
            low.planes.push(tail);
        }
    }

    /// Where each plane crosses the two sides of the rafter in plan, up the face.
    fn sides(&self, planes: &[Plane], _above: bool) -> Vec<[f64; 2]> {
        let half = self.ground.half_rafter;
        planes
            .iter()
            .map(|plane| {
                [-half, half].map(|aside| {
                    self.axes.crosses(plane, self.station.at + aside).unwrap_or(f64::NAN)
                })
            })
            .collect()
    }

    /// From where to where up the face the whole width of the rafter is left.
    fn left(&self, low: &EndCut, high: &EndCut) -> Option<(f64, f64)> {
        let one = |end: &EndCut, above: bool| {
            let sides = self.sides(&end.planes, above);
            let least = if above { f64::min } else { f64::max };
            let most = if above { f64::max } else { f64::min };
            let within = if end.hollow { most } else { least };
            let both = [0, 1].map(|side| sides.iter().map(|at| at[side]).reduce(within));
            both.into_iter().flatten().reduce(least)
        };
        Some((one(low, false)?, one(high, true)?))
    }

    /// True if the rafter crosses a plate.
    fn is_over(&self, seat: &Seat) -> bool {
        let (at, half) = (self.station.at, self.ground.half_rafter);
        let steepest = 2.0 * self.ground.plate.max(2.0 * half);
        at + half > seat.reach.0 + LAST_BITS
            && at - half < seat.reach.1 - LAST_BITS
            && seat.up + self.seat_length(seat) > self.stretch.from - steepest
            && seat.up < self.stretch.to
    }

    /// How long the seat is, up the face in plan.
    fn seat_length(&self, seat: &Seat) -> f64 {
        let bottom = self.axes.slope.height(self.axes.plan(self.station.at, seat.up))
            - self.ground.depth * self.axes.slope.stretch();
        let plate = -seat.level.offset;
        ((plate - bottom) / self.axes.slope.tangent()).max(0.0)
    }

    fn role(&self, bounds: [Bound; 2], on_plate: bool) -> Role {
        let of = |bound: Bound| match bound {
            Bound::Line(line) => Some(self.ground.lines[line].of),
            Bound::Eave
            | Bound::Under
            | Bound::Deck
            | Bound::Open
            | Bound::Hole(..)
            | Bound::Head(_) => None,
        };
        let trims = |hole: &usize| {
            let up = self.ground.holes[*hole].up;
            self.stretch.from < up.0 && self.stretch.to > up.1 - HAIR
        };
        if self.station.trims.iter().any(trims) {
            return Role::Trimmer;
        }
        match bounds {
            [_, Bound::Hole(_, End::Low)] => return Role::TailRafter,
            [Bound::Hole(_, End::High), _] => return Role::HeadRafter,
            [Bound::Deck, _] if !on_plate => return Role::ValleyJack,
            _ => {}
        }
        match bounds.map(of) {
            _ if self.is_barge => Role::BargeRafter,
            _ if self.king.is_some() => Role::CommonRafter,
            [Some(LineOf::Valley | LineOf::Header), Some(LineOf::Hip | LineOf::Valley)] => {
                Role::CrippleJack
            }
            [Some(LineOf::Valley | LineOf::Header), _] if !on_plate => Role::ValleyJack,
            [_, Some(LineOf::Hip)] => Role::HipJack,
            [Some(LineOf::Valley), _] => Role::ValleyJack,
            _ => Role::CommonRafter,
        }
    }

    /// Its role, its face and its station; what does not reach down to a plate is named by what it starts on.
    fn id(&self, role: Role, bounds: [Bound; 2]) -> String {
        let face = &self.ground.roof.faces[self.face].name;
        let start = match bounds[0] {
            Bound::Line(line) => format!("-on-{}", self.ground.lines[line].name),
            Bound::Hole(hole, _) => format!("-on-{}", self.ground.holes[hole].name),
            Bound::Eave | Bound::Under | Bound::Deck | Bound::Open | Bound::Head(_) => {
                String::new()
            }
        };
        format!("{}-{face}-{}{start}", role.letters(), self.station.name)
    }
}

fn same(one: &Plane, other: &Plane) -> bool {
    one.normal.distance(other.normal) < LAST_BITS && (one.offset - other.offset).abs() < LAST_BITS
}
