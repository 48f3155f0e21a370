//! `sheathing` as JSON and CSV. Planes, courses and sheets are numbered from 1, as on the map.

use crate::catalog::panels::{self, Panel};
use crate::deck::{
    Course, Deck, DeckAsk, EaveDatum, EdgeSupport, LaidPlane, LowerStrip, NarrowStrip, Piece,
    RoofPlane, Ticks,
};
use crate::measure::quantity::InInches;
use crate::measure::{Angle, Note, Writing};

use super::datum::{Inches, Of};
use super::record::record;

record! {
    /// The result of `sheathing`.
    SheathingReport from (ask: &DeckAsk, deck: &Deck, lower: Option<&[LowerStrip]>, rated: Option<(&Panel, EdgeSupport)>, decided: &[Note]) {
        /// `sheathing`.
        command: &'static str = "sheathing";
        /// What these figures are and who decides.
        caution: &'static str = super::caution::SHEATHING;
        /// Whole sheets that all pieces are cut from.
        sheets: usize = deck.sheets();
        /// Proven: under the rules no layout takes fewer.
        lower_bound_sheets: usize = deck.lower_bound_sheets();
        /// True if both are equal.
        proven: bool = deck.proven();
        /// True if the planes are laid in more than one group, each from its own sheets, and each group for itself is proven.
        proven_by_plane: bool = deck.proven_by_plane();
        /// Sheets by area alone.
        area_sheets: usize = deck.area_sheets();
        /// Proven: with that many sheets no layout has fewer pieces.
        lower_bound_pieces: usize = deck.lower_bound_pieces();
        /// Along the strength axis.
        sheet_length_in: Inches = ask.sheet.length;
        /// Up the slope.
        sheet_height_in: Inches = ask.sheet.height;
        /// Width of a saw cut.
        kerf_in: Inches = ask.sheet.kerf;
        /// Space between panels.
        gap_in: Inches = ask.rules.gap;
        /// Least height of a course.
        least_strip_in: Inches = ask.rules.least_strip;
        /// Least length of a piece, joint to joint.
        least_piece_in: Inches = ask.rules.least_piece;
        /// Left open at the ridge on each plane, along the slope.
        ridge_slot_in: Inches = ask.ridge_slot;
        /// How far the deck reaches past `eave_datum`, along the slope; negative for short of it.
        past_tail_in: Inches = ask.past_tail;
        /// The edge that courses and chalk lines are measured from: `fascia`, its outer face; `tail cut`; or `edge`, the
        /// lower edge of a plane given by its sides.
        eave_datum: &'static str = match ask.datum { EaveDatum::Fascia { .. } => "fascia", EaveDatum::TailCut => "tail cut", EaveDatum::Edge => "edge" };
        /// Up the slope from the fascia's outer face to the tail cut; `null` where the datum is not the fascia.
        datum_to_tail_cut_in: Option<Inches> = ask.datum.to_tail_cut();
        /// Courses of the first plane, from the eave up.
        courses: Vec<CourseJson> = deck.planes.iter().take(1).flat_map(|plane| &plane.courses).map(|course| (course, ask.datum));
        /// Every plane.
        planes: Vec<PlaneJson> = deck.planes.iter().zip(&ask.planes).map(|(laid, asked)| (laid, asked, ask.datum));
        /// Every piece.
        pieces: Vec<PieceJson> = &deck.pieces;
        /// Pieces that span a single bay: the span table holds for two or more.
        single_span_pieces: usize = deck.single_span_pieces();
        /// Where full courses would leave less than the least strip.
        narrow_strip: Option<NarrowStripJson> = deck.planes.iter().find_map(|plane| plane.narrow).map(|narrow| (narrow, ask.slope));
        /// With `--explain`: lower least strips that take fewer sheets, each with fewer than those before it; empty where none does.
        lower_strips: Vec<LowerStripJson> = lower.into_iter().flatten();
        /// What panel edges between rafters need, if a rating was given.
        edge_support: Option<EdgeSupportJson> = rated;
        /// What was decided where a roof file was laid.
        notes: Vec<String> = decided.iter().map(|note| note.write(Writing::default()));
    }
}

record! {
    /// One course.
    CourseJson from (course: &Course, datum: EaveDatum) with {
        let chalk_line = course.chalk_line.in_inches();
    } {
        /// Height of its panels.
        height_in: Inches = course.height;
        /// `eave_datum` to its lower edge, along the slope.
        lower_edge_in: Inches = course.lower_edge;
        /// `eave_datum` to its upper edge.
        chalk_line_in: Inches = chalk_line;
        /// The tail cut to its upper edge; `null` where the datum is not the fascia.
        chalk_line_from_tail_cut_in: Option<Inches> = datum.to_tail_cut().map(|tail| chalk_line - tail.inches());
    }
}

record! {
    /// One plane.
    PlaneJson from (laid: &LaidPlane, asked: &RoofPlane, datum: EaveDatum) {
        /// Its name.
        name: String = &asked.name;
        /// Along the eave.
        length_in: Inches = laid.length;
        /// Slope width that is covered.
        width_in: Inches = laid.width;
        /// Rake from which `x_in` is measured, as seen from the ground: `left` or `right`.
        measured_from: &'static str = if asked.from_right { "right" } else { "left" };
        /// Rafter centers that joints may fall on, from the same rake.
        centers_in: Vec<Inches> = laid.centers.iter().copied();
        /// From the eave up.
        courses: Vec<CourseJson> = laid.courses.iter().map(|course| (course, datum));
    }
}

record! {
    /// One piece.
    PieceJson from (piece: &Piece) {
        /// Plane, from 1.
        plane: usize = piece.plane + 1;
        /// Course, from 1 at the eave.
        course: usize = piece.course + 1;
        /// The end nearer to the rake that the plane is measured from: its left end from the left edge, unless a
        /// plane of a roof file is measured from the right.
        x_in: Inches = piece.x;
        /// Cut length.
        width_in: Inches = piece.width;
        /// Cut height.
        height_in: Inches = piece.height;
        /// Sheet it is cut from, from 1.
        sheet: usize = piece.sheet + 1;
        /// Left end on the sheet.
        sheet_x_in: Inches = piece.sheet_x;
        /// Lower edge on the sheet.
        sheet_y_in: Inches = piece.sheet_y;
    }
}

record! {
    /// How the overhang would have to change for no narrow and no ripped course.
    NarrowStripJson from (narrow: NarrowStrip, slope: Option<Angle>) with {
        let level = |along_slope: f64| slope.map(|angle| along_slope * angle.value.cos());
    } {
        /// What full courses would leave at the ridge; below zero if not even the gap.
        left_over_in: Inches = narrow.left_over;
        /// Longer by this along the slope, for a ridge course of just the least strip.
        lengthen_in: Inches = narrow.lengthen;
        /// Shorter by this along the slope, for full courses only.
        shorten_in: Inches = narrow.shorten;
        /// `lengthen_in` on the level, if the pitch was given.
        lengthen_level_in: Option<Inches> = level(narrow.lengthen.in_inches());
        /// `shorten_in` on the level, if the pitch was given.
        shorten_level_in: Option<Inches> = level(narrow.shorten.in_inches());
    }
}

record! {
    /// A lower least strip that takes fewer sheets.
    LowerStripJson from (lower: &LowerStrip) {
        /// The least strip.
        least_strip_in: Inches = lower.strip;
        /// Sheets of the deck laid with it.
        sheets: usize = lower.sheets;
    }
}

record! {
    /// What panel edges need.
    EdgeSupportJson from (panel: &Panel, support: EdgeSupport) with {
        let (verdict, widest_bay_in, clips_a_bay, clips) = match support {
        EdgeSupport::NotNeeded { widest } => ("not needed", widest, 0, 0),
        EdgeSupport::Needed { widest, clips_a_bay, clips } => ("needed", widest, clips_a_bay, clips),
        EdgeSupport::Fails { widest } => ("fails", widest, 0, 0),
        };
    } {
        /// Span rating.
        rating: String = &panel.rating;
        /// Table it is from.
        section: &'static str = panels::SECTION;
        /// `not needed`, `needed` or `fails`.
        verdict: &'static str = verdict;
        /// Widest bay.
        widest_bay_in: Inches = widest_bay_in;
        /// Greatest span with edge support.
        supported_span_in: Inches = panel.supported_span_in;
        /// Greatest span without.
        unsupported_span_in: Inches = panel.unsupported_span_in;
        /// Clips in a bay.
        clips_a_bay: usize = clips_a_bay;
        /// Clips in all.
        clips: usize = clips;
    }
}

/// The deck's own lengths.
impl Of<Ticks> for Inches {
    fn of(source: Ticks) -> Inches {
        Inches::of(source.in_inches())
    }
}
