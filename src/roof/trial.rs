//! Roofs for tests: a gable, and what is set before it or in it.

use crate::measure::Pitch;
use crate::measure::quantity::inches;

use super::shape::{Before, Dormer, End, Main, Opening, Shape, Wall, Wing};
use crate::plan::blocks::Through;

pub(crate) fn pitch(rise: f64) -> Pitch {
    Pitch::rise_in_12(rise).unwrap()
}

/// A gable of 30 ft by 20 ft with one pitch: 12 in of overhang, 10 in of rake, 4 in of heel stand.
pub(crate) fn gable(rise: f64) -> Shape {
    let main = Main {
        length: inches(360.0),
        span: inches(240.0),
        pitch: pitch(rise),
        pitch_b: Some(pitch(rise)),
        plate_b: inches(0.0),
        ends: [End::Gable; 2],
        overhang: inches(12.0),
        rake: inches(10.0),
        heel_stand: inches(4.0),
    };
    Shape { main, wings: Vec::new(), dormers: Vec::new(), openings: Vec::new() }
}

/// The same with hips of the same pitch at both ends.
pub(crate) fn hips(rise: f64) -> Shape {
    let mut shape = gable(rise);
    shape.main.ends = [End::Hip(pitch(rise)); 2];
    shape
}

/// A wing with a gable end, 5 ft out, its plates on the main plate's height.
pub(crate) fn wing(name: &str, wall: Wall, (start, span): (f64, f64), rise: f64) -> Wing {
    Wing {
        name: name.to_owned(),
        on: Before { wing: None, wall },
        start: inches(start),
        span: inches(span),
        projection: inches(60.0),
        pitch: pitch(rise),
        plate: inches(0.0),
        hip: false,
        overhang: inches(8.0),
        rake: inches(9.0),
    }
}

/// A dormer with two slopes, 24 in behind the building line, its plates 60 in up.
pub(crate) fn dormer(name: &str, on: Wall, (start, span): (f64, f64), rise: f64) -> Dormer {
    Dormer {
        name: name.to_owned(),
        on,
        start: inches(start),
        span: inches(span),
        face: inches(24.0),
        wall: inches(60.0),
        pitch: pitch(rise),
        shed: false,
        heel_stand: None,
        overhang: inches(6.0),
        rake: inches(5.0),
    }
}

pub(crate) fn opening(name: &str, on: Wall, start: f64, from: f64) -> Opening {
    Opening {
        name: name.to_owned(),
        on,
        through: Through::Skylight,
        start: inches(start),
        width: inches(22.5),
        from: inches(from),
        length: inches(38.0),
    }
}
