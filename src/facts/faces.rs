//! Faces and edges of a roof as JSON, CSV and figures.

use crate::measure::quantity::inches;
use crate::measure::tolerance::HAIR;
use crate::measure::{Amount, Length, Note};
use crate::roof::{EdgeKind, Face, Roof, RoofEdge};

use super::datum::{Figure, Inches};
use super::record::record;

pub(super) fn square_feet(square_inches: f64) -> f64 {
    square_inches / 144.0
}

/// The highest point of the faces above the plate of wall A.
#[must_use]
pub fn top(roof: &Roof) -> Length {
    let corners = roof.faces.iter().flat_map(|face| &face.outline);
    inches(corners.map(|corner| corner.z).fold(f64::NEG_INFINITY, f64::max))
}

record! {
    /// One face of the roof.
    PlaneJson from (face: &Face) {
        /// Its name: `A` begins at the eave at y = 0, `B` at the one across.
        face "face": String = &face.name;
        /// The block it belongs to.
        block "block": String = &face.block;
        /// Rise in 12 of run.
        pitch_in_12: f64 = face.slope.tangent() * 12.0;
        /// The same.
        pitch "pitch" on page: Figure = Note::with("{}", [Amount::RiseIn12(face.slope.tangent() * 12.0)]);
        /// Area in the slope.
        area_sqft: f64 = square_feet(face.area());
        /// The same.
        area "area in the slope" on page: Figure = Note::with("{}", [Amount::SquareFeet((square_feet(face.area()) * 10.0).round() / 10.0)]);
        /// Corners around it, counterclockwise from above: x along the ridge from the near end wall, y from wall A, z above the plate.
        outline_in: Vec<[f64; 3]> = face.outline.iter().map(|corner| corner.to_array());
        /// Corners around what is wholly inside it.
        holes_in: Vec<Vec<[f64; 3]>> = face.holes.iter().map(|hole| hole.iter().map(|corner| corner.to_array()));
    }
}

record! {
    /// One edge of the roof.
    EdgeJson from (edge: &RoofEdge, roof: &Roof) {
        /// `ridge`, `hip`, `valley`, `eave`, `rake`, or `step` where the roof drops from one face to another.
        kind: &'static str = edge.kind.words();
        /// The same, with the high edge of a shed by its name.
        what "edge" on page: &'static str = if edge.kind == EdgeKind::Eave && edge.rises_out { "high eave" } else { edge.kind.words() };
        /// One end.
        from_in: [f64; 3] = edge.from.to_array();
        /// The other.
        to_in: [f64; 3] = edge.to.to_array();
        /// True length.
        length_in "true length": Inches = edge.length();
        /// The same in plan.
        level_in "level": Inches = edge.from.truncate().distance(edge.to.truncate());
        /// From its lower to its higher end.
        rise_in "rise": Inches = (edge.to.z - edge.from.z).abs();
        /// True for the level head of a shed dormer, which is a valley, and for every other level edge.
        level: bool = edge.is_level();
        /// True for the high edge of a shed: the face rises toward it.
        high: bool = edge.kind == EdgeKind::Eave && edge.rises_out;
        /// The faces it borders; of a step the upper one first.
        faces "faces": Vec<String> = edge.faces.iter().map(|face| &roof.faces[*face].name);
    }
}

record! {
    /// All edges of a kind.
    EdgeTotal from (kind: EdgeKind, roof: &Roof) with {
        let of = || roof.edges.iter().filter(|edge| edge.kind == kind);
    } {
        /// The kind.
        kind "edge": &'static str = kind.words();
        /// How many.
        count "count": usize = of().count();
        /// True length of all together.
        length_in "in all": Inches = of().map(RoofEdge::length).sum::<f64>();
    }
}

/// The length of all edges of each kind that the roof has.
#[must_use]
pub fn totals(roof: &Roof) -> Vec<EdgeTotal> {
    let all = EdgeKind::ALL.into_iter().map(|kind| EdgeTotal::of(kind, roof));
    all.filter(|total| total.count > 0).collect()
}

/// Every edge.
#[must_use]
pub fn edges(roof: &Roof) -> Vec<EdgeJson> {
    roof.edges.iter().map(|edge| EdgeJson::of(edge, roof)).collect()
}

/// Every face.
#[must_use]
pub fn planes(roof: &Roof) -> Vec<PlaneJson> {
    roof.faces.iter().map(PlaneJson::of).collect()
}

/// What is to be known of eaves that are not level with eave A: the fascias miss each other.
#[must_use]
pub fn unlike_eaves(roof: &Roof) -> Vec<Note> {
    let eaves = || roof.edges.iter().filter(|edge| edge.kind == EdgeKind::Eave && !edge.rises_out);
    let name = |edge: &RoofEdge| roof.faces[edge.faces[0]].name.as_str();
    let Some(a) = eaves().find(|edge| name(edge) == "A") else { return Vec::new() };
    let mut told: Vec<&str> = Vec::new();
    let mut notes = Vec::new();
    for eave in eaves() {
        let above = eave.from.z - a.from.z;
        if above.abs() <= HAIR || told.contains(&name(eave)) {
            continue;
        }
        told.push(name(eave));
        let further = above / roof.faces[eave.faces[0]].slope.tangent();
        let (over, longer) = if above > 0.0 { ("above", "longer") } else { ("below", "shorter") };
        notes.push(Note::with(
            format!(
                "the eave of {} is {{}} {over} that of A, so their fascias miss each other; an overhang {{}} {longer} brings them into one line",
                name(eave)
            ),
            [inches(above.abs()), inches(further.abs())],
        ));
    }
    notes
}
