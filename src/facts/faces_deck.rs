//! `sheathing` of a roof with any faces as JSON and CSV. Courses and sheets are numbered from 1, as on the map.

use crate::catalog::panels::Panel;
use crate::deck::EdgeSupport;
use crate::deck::faces::{Broken, FaceAsk, FaceCourse, FacePiece, FacesAsk, FacesDeck, LaidFace};
use crate::measure::{Note, Writing};

use super::datum::Inches;
use super::faces::square_feet;
use super::record::record;
use super::sheathing::EdgeSupportJson;

record! {
    /// The result of `sheathing` for a roof that is more than one gable.
    FacesDeckReport from (ask: &FacesAsk, deck: &FacesDeck, rated: Option<(&Panel, EdgeSupport)>, decided: &[Note]) {
        /// `sheathing`.
        command: &'static str = "sheathing";
        /// What these figures are and who decides.
        caution: &'static str = super::caution::SHEATHING;
        /// Whole sheets that all pieces are cut from.
        sheets: usize = deck.sheets;
        /// No layout with these courses, joints on these rafters, and sheets ripped into tracks takes fewer.
        lower_bound_sheets: usize = deck.least;
        /// True if both are equal: no such layout takes fewer. The bound is worked out in floating point, not by the checker
        /// that proves the deck of a gable.
        at_bound: bool = deck.is_at_bound();
        /// What is covered, in the slopes.
        area_sqft: f64 = square_feet(deck.area);
        /// How much of the sheets is not on the roof, from 0 to 1.
        waste: f64 = deck.waste(&ask.sheet);
        /// Along the strength axis.
        sheet_length_in: Inches = ask.sheet.length;
        /// Up the slope.
        sheet_height_in: Inches = ask.sheet.height;
        /// Width of a saw cut.
        kerf_in: Inches = ask.sheet.kerf;
        /// Space between panels.
        gap_in: Inches = ask.rules.gap;
        /// Least height of a full course.
        least_strip_in: Inches = ask.rules.least_strip;
        /// Least length of a piece, joint to joint.
        least_piece_in: Inches = ask.rules.least_piece;
        /// Every face.
        faces: Vec<LaidFaceJson> = ask.faces.iter().zip(&deck.faces);
        /// Every piece.
        pieces: Vec<FacePieceJson> = deck.pieces.iter().map(|piece| (piece, name(ask, piece)));
        /// What panel edges between the sticks need, if a rating was given.
        edge_support: Option<EdgeSupportJson> = rated;
        /// What was decided.
        notes: Vec<String> = decided.iter().map(|note| note.write(Writing::default()));
    }
}

record! {
    /// One face, in its own surface: x along its eave from left to right as seen from the ground before it, y up its slope from
    /// its lowest edge.
    LaidFaceJson from (ask: &FaceAsk, laid: &LaidFace) {
        /// Its name in the frame.
        face: String = &ask.name;
        /// What is covered.
        area_sqft: f64 = square_feet(ask.region.area());
        /// Corners around it, counterclockwise; then around each hole.
        outline_in: Vec<Vec<[f64; 2]>> = ask.region.loops().iter().map(|around| around.iter().map(|corner| corner.to_array()));
        /// Centers of the sticks that run up it, where joints may fall.
        centers_in: Vec<Inches> = ask.rafters.iter().map(|rafter| rafter.at);
        /// From the eave up.
        courses: Vec<FaceCourseJson> = &laid.courses;
        /// Rules of laying that could not be kept there.
        not_kept: Vec<String> = laid.broken.iter().map(|broken: &Broken| broken.words());
    }
}

record! {
    /// One course of a face.
    FaceCourseJson from (course: &FaceCourse) {
        /// From the face's lowest edge to its lower edge.
        lower_edge_in: Inches = course.low;
        /// The same to its upper edge.
        chalk_line_in: Inches = course.high;
    }
}

record! {
    /// One piece.
    FacePieceJson from (piece: &FacePiece, face: &str) {
        /// The face.
        face: String = face;
        /// Course, from 1 at the eave.
        course: usize = piece.course + 1;
        /// Between its farthest points along the eave.
        length_in: Inches = piece.length;
        /// Up the slope.
        height_in: Inches = piece.height;
        /// Corners around it as it is cut, in the face's surface.
        corners_in: Vec<[f64; 2]> = piece.outline.iter().map(|corner| corner.to_array());
        /// The sheet that it is cut from, from 1.
        sheet: usize = piece.place.sheet + 1;
        /// Lower left corner of the box around it on the sheet, along it.
        sheet_x_in: Inches = piece.place.at.x;
        /// The same, up the sheet.
        sheet_y_in: Inches = piece.place.at.y;
        /// True if it lies on the sheet turned by half a turn.
        turned: bool = piece.place.turned;
    }
}

fn name<'a>(ask: &'a FacesAsk, piece: &FacePiece) -> &'a str {
    ask.faces.get(piece.face).map_or("", |face| face.name.as_str())
}

/// Every piece, as a row.
pub fn pieces<'a>(
    ask: &'a FacesAsk,
    deck: &'a FacesDeck,
) -> impl Iterator<Item = FacePieceJson> + 'a {
    deck.pieces.iter().map(|piece| FacePieceJson::of(piece, name(ask, piece)))
}
