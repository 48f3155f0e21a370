//! The roof as it is framed: where a wing or a dormer is laid on the sheathed roof, that roof goes on under it.

use crate::geom::{DVec2, DVec3, HalfPlane, Polygon};
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::measure::{Amount, Note};

use super::axes::WallLine;
use super::block::{Block, Slope};
use super::cannot::CannotRoof;
use super::edges::{EdgeKind, RoofEdge};
use super::faces::{Face, Roof};
use super::shape::{Dormer, Shape, Wall, Wing};

/// A block that is laid on another one.
#[derive(Debug, Clone, PartialEq)]
pub struct Laid {
    /// Its name.
    pub block: String,
    /// The slope that carries it.
    pub slope: Slope,
    /// The face with that slope.
    pub host: usize,
    /// A place on the line behind which it has no walls of its own and stands on that slope.
    pub from: DVec2,
    /// Unit vector from that line toward its walls.
    pub out: DVec2,
    /// The dormer that it is; `None` for a wing.
    pub dormer: Option<Dormer>,
}

impl Laid {
    /// True for a dormer with one slope: it rises from its front wall until that slope comes down to it.
    #[must_use]
    pub fn is_shed(&self) -> bool {
        self.dormer.as_ref().is_some_and(|dormer| dormer.shed)
    }
}

/// The roof as it is framed.
#[derive(Debug, Clone, PartialEq)]
pub struct Framed {
    /// Its blocks are those of the roof, its faces those that are framed: a face goes on under what is laid on it.
    pub roof: Roof,
    /// The edges that are seen, with the numbers of the framed faces.
    pub seen: Vec<RoofEdge>,
    /// What is laid on it.
    pub laid: Vec<Laid>,
}

/// Why a roof is not framed.
#[derive(Debug, Clone, PartialEq)]
pub enum CannotFrame {
    /// It has no roof.
    Roof(Vec<CannotRoof>),
    /// A wing can't be laid over, or a dormer is not framed.
    Laid {
        /// The wing or the dormer.
        name: String,
        /// Why not.
        why: Note,
    },
}

/// A wing that is laid over or a dormer, with what it stands on.
struct Over<'a> {
    name: &'a str,
    /// The slope that it lies on.
    slope: Slope,
    /// Where its own walls end, and which way they stand from there.
    from: DVec2,
    out: DVec2,
    /// Of a wing the wall that it stands before, and its side walls.
    wing: Option<(&'a WallLine, [&'a WallLine; 2])>,
    dormer: Option<&'a Dormer>,
}

impl Over<'_> {
    fn cannot(&self, why: &'static str) -> CannotFrame {
        CannotFrame::Laid { name: self.name.to_owned(), why: why.into() }
    }

    /// A cover of the host without the eave that a wing stands in: its tails are cut off at the wall there.
    fn host_cover(&self, cover: &Polygon) -> Vec<Polygon> {
        let Some((host, sides)) = self.wing else { return vec![cover.clone()] };
        let [one, other] = sides.map(inside);
        apart(cover, &[one, other, inside(host).other_side()])
    }

    /// A wing's cover without what reaches over that eave beside its walls.
    fn own_cover(&self, cover: &Polygon) -> Vec<Polygon> {
        let Some((host, sides)) = self.wing else { return vec![cover.clone()] };
        let past = HalfPlane::at_most(host.out, host.out.dot(host.from) + host.reach);
        let beside = sides.map(|wall| inside(wall).other_side());
        let pieces = apart(cover, &[past, beside[0]]);
        pieces.iter().flat_map(|piece| apart(piece, &[past, beside[1]])).collect()
    }
}

/// The side of a wall's line on which its building is.
fn inside(wall: &WallLine) -> HalfPlane {
    HalfPlane::at_most(wall.out, wall.out.dot(wall.from))
}

/// What is left of a cover outside the meeting of the half planes.
fn apart(cover: &Polygon, halves: &[HalfPlane]) -> Vec<Polygon> {
    match cover.within_all(halves.iter().copied()) {
        Some(_) => cover.without(halves.iter().copied()),
        None => vec![cover.clone()],
    }
}

fn with_covers(block: &Block, covers: Vec<Polygon>) -> impl Iterator<Item = Block> {
    covers.into_iter().map(|cover| Block { cover, ..block.clone() })
}

impl Shape {
    /// The roof as it is seen, as it is framed, and its walls, if the wings with these names are laid on the sheathed roof, which is `deck`
    /// thick, inches. Dormers are laid on it, and have walls of their own.
    ///
    /// # Errors
    /// Every reason why it has no roof, or why a wing or a dormer is not framed.
    pub fn framed(
        &self,
        over: &[String],
        deck: f64,
    ) -> Result<(Roof, Framed, Vec<WallLine>), CannotFrame> {
        let (seen, walls) = self.built().map_err(CannotFrame::Roof)?;
        let mut overs: Vec<Over> =
            self.wings.iter().filter_map(|wing| over_of(wing, over, &walls)).collect();
        for one in &overs {
            self.refuse(one)?;
        }
        let mut dormer_walls = Vec::new();
        for dormer in &self.dormers {
            let (one, own) = self.dormer_over(dormer, deck, &walls)?;
            overs.push(one);
            dormer_walls.extend(own);
        }
        if overs.is_empty() {
            let edges = seen.edges.clone();
            let framed = Framed { roof: seen.clone(), seen: edges, laid: Vec::new() };
            return Ok((seen, framed, walls));
        }
        let framed = framed(&seen, &overs)?;
        let walls = walls.into_iter().chain(dormer_walls).collect();
        Ok((seen, framed, walls))
    }

    fn refuse(&self, over: &Over<'_>) -> Result<(), CannotFrame> {
        if self.wings.iter().any(|other| other.on.wing.as_deref() == Some(over.name)) {
            return Err(over.cannot("another wing stands before it"));
        }
        let unlike = |(host, sides): (&WallLine, [&WallLine; 2])| {
            sides.iter().any(|wall| (wall.plate - host.plate).abs() > HAIR)
        };
        if over.wing.is_some_and(unlike) {
            return Err(over.cannot("its plates are not as high as the wall that it stands before"));
        }
        Ok(())
    }

    /// A dormer with its walls, which end where two plates come down to the deck.
    fn dormer_over<'a>(
        &self,
        dormer: &'a Dormer,
        deck: f64,
        walls: &[WallLine],
    ) -> Result<(Over<'a>, Vec<WallLine>), CannotFrame> {
        let cannot = |why: Note| CannotFrame::Laid { name: dormer.name.clone(), why };
        let main = walls.iter().find(|wall| wall.block == "main" && wall.wall == dormer.on);
        let host = main.ok_or_else(|| cannot("it stands in no slope".into()))?;
        let slope = host.slope.ok_or_else(|| cannot("it stands in no slope".into()))?;
        if dormer.face.inches() < LEAST_FACE_IN - HAIR {
            return Err(cannot(Note::with(
                "the header under its front wall would lie on the plate below: write a face of at least {}",
                [inches(LEAST_FACE_IN)],
            )));
        }
        let along = (host.to - host.from).normalize();
        let corner = host.from + along * dormer.start.inches() - host.out * dormer.face.inches();
        let other = corner + along * dormer.span.inches();
        let inward = -host.out;
        let tangent = dormer.pitch.tangent();
        let height = (dormer.wall + dormer.heel_stand.unwrap_or(self.main.heel_stand)).inches();
        // from its front to where its side walls end: on the deck under level plates, or where its slope meets the one below
        let deck_at_front = slope.height(corner) + deck * slope.stretch();
        let stud = dormer.wall.inches() - PLATES_IN - deck_at_front;
        let depth = if dormer.shed {
            (height - slope.height(corner)) / (slope.tangent() - tangent)
        } else {
            stud / slope.tangent()
        };
        if depth < LEAST_WALL_IN || stud < LEAST_STUD_IN {
            let by = (LEAST_STUD_IN - stud).max(if dormer.shed {
                (LEAST_WALL_IN - depth) * (slope.tangent() - tangent)
            } else {
                (LEAST_WALL_IN - depth) * slope.tangent()
            });
            return Err(cannot(Note::with(
                "its walls are too low to be framed: write a wall of at least {}, or a smaller face",
                [Amount::AtLeast(dormer.wall + inches(by))],
            )));
        }
        let side = |wall: Wall, from: DVec2, out: DVec2| WallLine {
            block: dormer.name.clone(),
            wall,
            from,
            to: from + inward * depth,
            out,
            plate: dormer.wall.inches(),
            reach: if dormer.shed { dormer.rake } else { dormer.overhang }.inches(),
            slope: (!dormer.shed).then(|| Slope::rising(from, height, -out, tangent)),
        };
        let front = WallLine {
            wall: Wall::Near,
            to: other,
            out: host.out,
            reach: if dormer.shed { dormer.overhang } else { dormer.rake }.inches(),
            slope: dormer.shed.then(|| Slope::rising(corner, height, inward, tangent)),
            ..side(Wall::Near, corner, host.out)
        };
        let mut own = vec![side(Wall::A, corner, -along), side(Wall::B, other, along), front];
        if dormer.shed {
            // its slope joins the one below without a wall
            let head = WallLine {
                to: other + inward * depth,
                reach: 0.0,
                ..side(Wall::Far, corner + inward * depth, inward)
            };
            own.push(head);
        }
        let from = corner + inward * depth;
        let over = Over {
            name: &dormer.name,
            slope,
            from,
            out: host.out,
            wing: None,
            dormer: Some(dormer),
        };
        Ok((over, own))
    }
}

/// Thickness of the two plates on a dormer's side walls, inches.
pub const PLATES_IN: f64 = 3.0;

/// A front wall this far in stands on a header of two members that clears the plate of the wall below, inches.
const LEAST_FACE_IN: f64 = 3.0;

/// The shortest side wall of a dormer that is framed, inches.
const LEAST_WALL_IN: f64 = 12.0;

/// The shortest stud at the front of such a wall, inches.
const LEAST_STUD_IN: f64 = 8.0;

/// A wing that is laid over; a wall without a slope behind it has nothing to lay it on.
fn over_of<'a>(wing: &'a Wing, over: &[String], walls: &'a [WallLine]) -> Option<Over<'a>> {
    let block = wing.on.wing.as_deref().unwrap_or("main");
    let host = walls.iter().find(|wall| wall.block == block && wall.wall == wing.on.wall)?;
    let own = |which: Wall| walls.iter().find(|wall| wall.block == wing.name && wall.wall == which);
    let wing_walls = Some((host, [own(Wall::A)?, own(Wall::B)?]));
    let slope = host.slope.filter(|_| over.contains(&wing.name))?;
    let (from, out) = (host.from, host.out);
    Some(Over { name: &wing.name, slope, from, out, wing: wing_walls, dormer: None })
}

fn framed(seen: &Roof, overs: &[Over<'_>]) -> Result<Framed, CannotFrame> {
    let over_named = |name: &str| overs.iter().position(|over| over.name == name);
    for edge in seen.edges.iter().filter(|edge| edge.is_level()) {
        let Some(over) = over_named(&seen.faces[edge.faces[0]].block) else { continue };
        if let Some((host, _)) = overs[over].wing {
            let past = |end: DVec3| host.out.dot(end.truncate() - host.from) < -HAIR;
            let ends = matches!(edge.kind, EdgeKind::Eave | EdgeKind::Step);
            if ends && (past(edge.from) || past(edge.to)) {
                return Err(overs[over].cannot("its eave reaches past an end of the main roof"));
            }
        }
    }
    let mut base: Vec<Block> = Vec::new();
    let mut laid: Vec<Block> = Vec::new();
    for block in &seen.blocks {
        match over_named(&block.name) {
            Some(over) => laid.extend(with_covers(block, overs[over].own_cover(&block.cover))),
            None => {
                let mut covers = vec![block.cover.clone()];
                for over in overs {
                    covers = covers.iter().flat_map(|cover| over.host_cover(cover)).collect();
                }
                base.extend(with_covers(block, covers));
            }
        }
    }
    let under = Roof::of(base.clone());
    let over = Roof::of(base.into_iter().chain(laid).collect());
    let mut faces = under.faces;
    // numbers of the framed faces, for every face of the roof with the wings
    let mut number_of: Vec<Option<usize>> = Vec::new();
    for face in &over.faces {
        let has = |one: &&Over<'_>| {
            let own = format!("{}.", one.name);
            face.name.split('+').any(|part| part.starts_with(&own))
        };
        if let Some(one) = overs.iter().find(has).filter(|_| face.name.contains('+')) {
            return Err(one.cannot("one of its slopes is one plane with another slope"));
        }
        if over_named(&face.block).is_some() {
            number_of.push(Some(faces.len()));
            faces.push(face.clone());
        } else {
            number_of.push(None);
        }
    }
    let mut edges = under.edges;
    for edge in &over.edges {
        let numbers: Vec<usize> = edge.faces.iter().filter_map(|face| number_of[*face]).collect();
        let Some(first) = numbers.first() else { continue };
        let Some(number) = over_named(&faces[*first].block) else { continue };
        edges.push(laid_edge(&overs[number], edge, numbers, &over)?);
    }
    for edge in &mut edges {
        let block = seen.blocks.iter().find(|block| block.name == faces[edge.faces[0]].block);
        let out = -(edge.to - edge.from).truncate().normalize().perp();
        let beyond = edge.from.truncate().lerp(edge.to.truncate(), 0.5) + out * BESIDE_IN;
        let ends = matches!(edge.kind, EdgeKind::Eave | EdgeKind::Step) && edge.is_level();
        if ends && block.is_some_and(|block| block.cover.holds(beyond)) {
            edge.kind = EdgeKind::Under;
        }
    }
    let number = |face: usize| {
        let face = &seen.faces[face];
        let same =
            |other: &&Face| other.slope.is_same_plane(&face.slope) && other.block == face.block;
        faces.iter().position(|other| same(&other))
    };
    let seen_edges = seen.edges.iter().filter_map(|edge| {
        let numbers: Vec<usize> = edge.faces.iter().filter_map(|face| number(*face)).collect();
        (numbers.len() == edge.faces.len()).then(|| RoofEdge { faces: numbers, ..edge.clone() })
    });
    let seen_edges = seen_edges.collect();
    let mut laid = Vec::new();
    for one in overs {
        let host = faces.iter().position(|face| one.slope.is_same_plane(&face.slope));
        let host =
            host.ok_or_else(|| one.cannot("nothing is seen of the slope that carries it"))?;
        laid.push(Laid {
            block: one.name.to_owned(),
            slope: one.slope,
            host,
            from: one.from,
            out: one.out,
            dormer: one.dormer.cloned(),
        });
    }
    Ok(Framed { roof: Roof { blocks: seen.blocks.clone(), faces, edges }, seen: seen_edges, laid })
}

/// How far beside an edge the roof is looked at, inches.
const BESIDE_IN: f64 = 1e-3;

/// An edge of a wing that is laid over, with the wing's own faces alone.
fn laid_edge(
    over: &Over<'_>,
    edge: &RoofEdge,
    numbers: Vec<usize>,
    roof: &Roof,
) -> Result<RoofEdge, CannotFrame> {
    let blocks: Vec<&str> =
        edge.faces.iter().map(|face| roof.faces[*face].block.as_str()).collect();
    if blocks.iter().all(|block| *block == over.name) {
        return Ok(RoofEdge { faces: numbers, ..edge.clone() });
    }
    let is_own = |face: usize| roof.faces[face].block == over.name;
    let kind = match edge.kind {
        _ if numbers.len() > 1 => {
            return Err(over.cannot(
                "it runs into another wing or dormer: move it, or write smaller overhangs",
            ));
        }
        EdgeKind::Valley => {
            let on_host = edge
                .faces
                .iter()
                .filter(|face| !is_own(**face))
                .all(|face| over.slope.is_same_plane(&roof.faces[*face].slope));
            if !on_host {
                return Err(over.cannot("it lies on more than one slope"));
            }
            EdgeKind::Laid
        }
        EdgeKind::Step if !is_own(edge.faces[0]) => EdgeKind::Rake,
        // a shed dormer may rise to the ridge itself
        EdgeKind::Ridge if over.dormer.is_some_and(|dormer| dormer.shed) => EdgeKind::Laid,
        EdgeKind::Ridge | EdgeKind::Hip => {
            return Err(over.cannot("it meets another slope in a ridge or a hip"));
        }
        kind => kind,
    };
    Ok(RoofEdge { kind, faces: numbers, ..edge.clone() })
}

#[cfg(test)]
mod tests;
