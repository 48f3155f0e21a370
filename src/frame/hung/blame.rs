//! Which field a refused roof's reader looks at first: of the wing, dormer or opening that its sticks are of.

use crate::key;
use crate::measure::{Amount, Note};
use crate::roof::Shape;
use crate::roof::cannot::At;

use super::cannot::CannotHang;
use super::fits::Misfit;

/// Why the sticks of a roof are not framed, and the field that is about, if one is.
#[derive(Debug, Clone, PartialEq)]
pub struct NotFramed {
    /// In the reader's words.
    pub why: Note,
    /// The field.
    pub at: Option<At>,
}

impl NotFramed {
    fn new(why: Note, at: Option<At>) -> NotFramed {
        NotFramed { why: Note::with("the sticks are not framed: {}", [Amount::Said(why)]), at }
    }

    pub(super) fn cannot(why: &CannotHang, shape: &Shape) -> NotFramed {
        let of = |name: &str, field| Some(At::Of(name.to_owned(), field));
        let at = match why {
            CannotHang::Roof(_) => None,
            CannotHang::Laid { name, .. } => of(name, "face"),
            CannotHang::OverPlate { dormer: Some(name), .. } => of(name, "seat"),
            CannotHang::OverPlate { .. } => Some(At::Field(key!("rafter.seat"))),
            CannotHang::NoRafters { face, .. } => match named(shape, face) {
                Some(name) => of(name, "overhang"),
                None => Some(At::Field(key!("eave.overhang"))),
            },
            CannotHang::ShortEdge { along: true, .. } => Some(At::Field(key!("building.length"))),
            CannotHang::Crowded { face: faces, .. }
            | CannotHang::ShortEdge { faces, .. }
            | CannotHang::PitchBreak { faces } => {
                named(shape, faces).and_then(|name| of(name, "span"))
            }
            CannotHang::LevelValley { faces } => {
                named(shape, faces).and_then(|name| of(name, "start"))
            }
            CannotHang::EdgesMeet { one, other } => {
                let name = named(shape, other).or_else(|| named(shape, one));
                name.and_then(|name| of(name, "start"))
            }
            CannotHang::NoFace { opening } => of(opening, "on"),
            CannotHang::NoRoomForTrimmers { opening, .. } => of(opening, "width"),
            CannotHang::Ceiling { .. } => Some(At::Field(key!("attic.access_width"))),
        };
        NotFramed::new(why.told(), at)
    }

    pub(super) fn misfit(misfit: &Misfit, shape: &Shape) -> NotFramed {
        let ids: Vec<&str> = match misfit {
            Misfit::Cut(id) | Misfit::Above(id) | Misfit::InDeck(id) | Misfit::Loose(id) => {
                vec![id]
            }
            Misfit::Shared(one, other) => vec![one, other],
        };
        let name = ids.into_iter().find_map(|id| named(shape, id));
        NotFramed::new(misfit.told().into(), name.map(|name| At::Of(name.to_owned(), "name")))
    }
}

/// The opening, dormer or wing that is named in a stick's id or in the names of faces.
fn named<'a>(shape: &'a Shape, words: &str) -> Option<&'a str> {
    let openings = shape.openings.iter().map(|opening| opening.name.as_str());
    let dormers = shape.dormers.iter().map(|dormer| dormer.name.as_str());
    let wings = shape.wings.iter().map(|wing| wing.name.as_str());
    let parts = |name: &str| {
        let whole = |at: char| !at.is_alphanumeric() && at != '_';
        words.match_indices(name).any(|(at, _)| {
            let (before, after) = (&words[..at], &words[at + name.len()..]);
            before.chars().next_back().is_none_or(whole) && after.chars().next().is_none_or(whole)
        })
    };
    openings.chain(dormers).chain(wings).find(|name| parts(name))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Pitch;
    use crate::measure::quantity::inches;
    use crate::roof::shape::{Before, End, Main, Wall, Wing};

    #[test]
    fn a_wing_is_found_by_its_whole_name() {
        let pitch = Pitch::rise_in_12(6.0).unwrap();
        let wing = |name: &str| Wing {
            name: name.to_owned(),
            on: Before { wing: None, wall: Wall::A },
            start: inches(0.0),
            span: inches(120.0),
            projection: inches(96.0),
            pitch,
            plate: inches(0.0),
            hip: false,
            overhang: inches(12.0),
            rake: inches(12.0),
        };
        let main = Main {
            length: inches(360.0),
            span: inches(288.0),
            pitch,
            pitch_b: Some(pitch),
            plate_b: inches(0.0),
            ends: [End::Gable; 2],
            overhang: inches(12.0),
            rake: inches(12.0),
            heel_stand: inches(4.0),
        };
        let wings = vec![wing("ell"), wing("ell2"), wing("north-ell")];
        let shape = Shape { main, wings, dormers: Vec::new(), openings: Vec::new() };
        assert_eq!(named(&shape, "R-ell.A-16"), Some("ell"));
        assert_eq!(named(&shape, "R-ell2.A-16"), Some("ell2"));
        assert_eq!(named(&shape, "V-A+ell2.B"), Some("ell2"));
        assert_eq!(named(&shape, "R-A-16"), None);
        assert_eq!(named(&shape, "shell.A"), None);
    }
}
