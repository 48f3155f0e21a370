//! `sheathing` as JSON and CSV. Planes, courses and sheets are numbered from 1, as on the map.

use schemars::JsonSchema;
use serde::Serialize;

use crate::catalog::panels::{self, Panel};
use crate::deck::{Course, Deck, DeckAsk, EaveDatum, EdgeSupport, LowerStrip};
use crate::measure::quantity::{in_degrees, in_inches};
use crate::measure::{Note, Writing};

/// The result of `sheathing`.
#[derive(Debug, Serialize, JsonSchema)]
pub struct SheathingReport {
    /// `sheathing`.
    pub command: &'static str,
    /// What these figures are and who decides.
    pub caution: &'static str,
    /// Whole sheets that all pieces are cut from.
    pub sheets: usize,
    /// Proven: under the rules no layout takes fewer.
    pub lower_bound_sheets: usize,
    /// True if both are equal.
    pub proven: bool,
    /// True if the planes are laid in more than one group, each from its own sheets, and each group for itself is proven.
    pub proven_by_plane: bool,
    /// Sheets by area alone.
    pub area_sheets: usize,
    /// Proven: with that many sheets no layout has fewer pieces.
    pub lower_bound_pieces: usize,
    /// Along the strength axis.
    pub sheet_length_in: f64,
    /// Up the slope.
    pub sheet_height_in: f64,
    /// Width of a saw cut.
    pub kerf_in: f64,
    /// Space between panels.
    pub gap_in: f64,
    /// Least height of a course.
    pub least_strip_in: f64,
    /// Least length of a piece, joint to joint.
    pub least_piece_in: f64,
    /// Left open at the ridge on each plane, along the slope.
    pub ridge_slot_in: f64,
    /// How far the deck reaches past `eave_datum`, along the slope; negative for short of it.
    pub past_tail_in: f64,
    /// The edge that courses and chalk lines are measured from: `fascia`, its outer face; `tail cut`; or `edge`, the
    /// lower edge of a plane given by its sides.
    pub eave_datum: &'static str,
    /// Up the slope from the fascia's outer face to the tail cut; `null` where the datum is not the fascia.
    pub datum_to_tail_cut_in: Option<f64>,
    /// Courses of the first plane, from the eave up.
    pub courses: Vec<CourseJson>,
    /// Every plane.
    pub planes: Vec<PlaneJson>,
    /// Every piece.
    pub pieces: Vec<PieceJson>,
    /// Pieces that span a single bay: the span table holds for two or more.
    pub single_span_pieces: usize,
    /// Where full courses would leave less than the least strip.
    pub narrow_strip: Option<NarrowStripJson>,
    /// With `--explain`: lower least strips that take fewer sheets, each with fewer than those before it; empty where none does.
    pub lower_strips: Vec<LowerStripJson>,
    /// What panel edges between rafters need, if a rating was given.
    pub edge_support: Option<EdgeSupportJson>,
    /// What was decided where a roof file was laid.
    pub notes: Vec<String>,
}

/// One course.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CourseJson {
    /// Height of its panels.
    pub height_in: f64,
    /// `eave_datum` to its lower edge, along the slope.
    pub lower_edge_in: f64,
    /// `eave_datum` to its upper edge.
    pub chalk_line_in: f64,
    /// The tail cut to its upper edge; `null` where the datum is not the fascia.
    pub chalk_line_from_tail_cut_in: Option<f64>,
}

/// One plane.
#[derive(Debug, Serialize, JsonSchema)]
pub struct PlaneJson {
    /// Its name.
    pub name: String,
    /// Along the eave.
    pub length_in: f64,
    /// Slope width that is covered.
    pub width_in: f64,
    /// Rake from which `x_in` is measured, as seen from the ground: `left` or `right`.
    pub measured_from: &'static str,
    /// Rafter centers that joints may fall on, from the same rake.
    pub centers_in: Vec<f64>,
    /// From the eave up.
    pub courses: Vec<CourseJson>,
}

/// One piece.
#[derive(Debug, Serialize, JsonSchema)]
pub struct PieceJson {
    /// Plane, from 1.
    pub plane: usize,
    /// Course, from 1 at the eave.
    pub course: usize,
    /// The end nearer to the rake that the plane is measured from: its left end from the left edge, unless a
    /// plane of a roof file is measured from the right.
    pub x_in: f64,
    /// Cut length.
    pub width_in: f64,
    /// Cut height.
    pub height_in: f64,
    /// Sheet it is cut from, from 1.
    pub sheet: usize,
    /// Left end on the sheet.
    pub sheet_x_in: f64,
    /// Lower edge on the sheet.
    pub sheet_y_in: f64,
}

/// How the overhang would have to change for no narrow and no ripped course.
#[derive(Debug, Serialize, JsonSchema)]
pub struct NarrowStripJson {
    /// What full courses would leave at the ridge; below zero if not even the gap.
    pub left_over_in: f64,
    /// Longer by this along the slope, for a ridge course of just the least strip.
    pub lengthen_in: f64,
    /// Shorter by this along the slope, for full courses only.
    pub shorten_in: f64,
    /// `lengthen_in` on the level, if the pitch was given.
    pub lengthen_level_in: Option<f64>,
    /// `shorten_in` on the level, if the pitch was given.
    pub shorten_level_in: Option<f64>,
}

/// A lower least strip that takes fewer sheets.
#[derive(Debug, Serialize, JsonSchema)]
pub struct LowerStripJson {
    /// The least strip.
    pub least_strip_in: f64,
    /// Sheets of the deck laid with it.
    pub sheets: usize,
}

/// What panel edges need.
#[derive(Debug, Serialize, JsonSchema)]
pub struct EdgeSupportJson {
    /// Span rating.
    pub rating: String,
    /// Table it is from.
    pub section: &'static str,
    /// `not needed`, `needed` or `fails`.
    pub verdict: &'static str,
    /// Widest bay.
    pub widest_bay_in: f64,
    /// Greatest span with edge support.
    pub supported_span_in: f64,
    /// Greatest span without.
    pub unsupported_span_in: f64,
    /// Clips in a bay.
    pub clips_a_bay: usize,
    /// Clips in all.
    pub clips: usize,
}

fn course(course: &Course, datum: EaveDatum) -> CourseJson {
    CourseJson {
        chalk_line_from_tail_cut_in: datum
            .to_tail_cut()
            .map(|tail| course.chalk_line.in_inches() - in_inches(tail)),
        height_in: course.height.in_inches(),
        lower_edge_in: course.lower_edge.in_inches(),
        chalk_line_in: course.chalk_line.in_inches(),
    }
}

/// The result of `sheathing`.
#[must_use]
pub fn report(
    ask: &DeckAsk,
    deck: &Deck,
    lower: Option<&[LowerStrip]>,
    rated: Option<(&Panel, EdgeSupport)>,
    decided: &[Note],
) -> SheathingReport {
    let course_of = |laid: &Course| course(laid, ask.datum);
    let planes: Vec<PlaneJson> = deck
        .planes
        .iter()
        .zip(&ask.planes)
        .map(|(laid, asked)| PlaneJson {
            name: asked.name.clone(),
            length_in: laid.length.in_inches(),
            width_in: laid.width.in_inches(),
            measured_from: if asked.from_right { "right" } else { "left" },
            centers_in: laid.centers.iter().map(|x| x.in_inches()).collect(),
            courses: laid.courses.iter().map(course_of).collect(),
        })
        .collect();
    let first = deck.planes.first();
    let narrow = deck.planes.iter().find_map(|plane| plane.narrow);
    let level =
        |slope_in: f64| ask.slope.map(|angle| slope_in * in_degrees(angle).to_radians().cos());
    SheathingReport {
        command: "sheathing",
        caution: crate::facts::caution::SHEATHING,
        sheets: deck.sheets(),
        lower_bound_sheets: deck.lower_bound_sheets(),
        proven: deck.proven(),
        proven_by_plane: deck.proven_by_plane(),
        area_sheets: deck.area_sheets(),
        lower_bound_pieces: deck.lower_bound_pieces(),
        sheet_length_in: in_inches(ask.sheet.length),
        sheet_height_in: in_inches(ask.sheet.height),
        kerf_in: in_inches(ask.sheet.kerf),
        gap_in: in_inches(ask.rules.gap),
        least_strip_in: in_inches(ask.rules.least_strip),
        ridge_slot_in: in_inches(ask.ridge_slot),
        past_tail_in: in_inches(ask.past_tail),
        eave_datum: match ask.datum {
            EaveDatum::Fascia { .. } => "fascia",
            EaveDatum::TailCut => "tail cut",
            EaveDatum::Edge => "edge",
        },
        datum_to_tail_cut_in: ask.datum.to_tail_cut().map(in_inches),
        least_piece_in: in_inches(ask.rules.least_piece),
        courses: first.map_or(Vec::new(), |plane| plane.courses.iter().map(course_of).collect()),
        planes,
        pieces: pieces(deck).collect(),
        single_span_pieces: deck.single_span_pieces(),
        narrow_strip: narrow.map(|narrow| NarrowStripJson {
            left_over_in: narrow.left_over.in_inches(),
            lengthen_in: narrow.lengthen.in_inches(),
            shorten_in: narrow.shorten.in_inches(),
            lengthen_level_in: level(narrow.lengthen.in_inches()),
            shorten_level_in: level(narrow.shorten.in_inches()),
        }),
        lower_strips: lower
            .unwrap_or_default()
            .iter()
            .map(|one| LowerStripJson { least_strip_in: in_inches(one.strip), sheets: one.sheets })
            .collect(),
        edge_support: rated.map(|(panel, support)| edges(panel, support)),
        notes: decided.iter().map(|note| note.write(Writing::default())).collect(),
    }
}

fn edges(panel: &Panel, support: EdgeSupport) -> EdgeSupportJson {
    let (verdict, widest_bay_in, clips_a_bay, clips) = match support {
        EdgeSupport::NotNeeded { widest_in } => ("not needed", widest_in, 0, 0),
        EdgeSupport::Needed { widest_in, clips_a_bay, clips } => {
            ("needed", widest_in, clips_a_bay, clips)
        }
        EdgeSupport::Fails { widest_in } => ("fails", widest_in, 0, 0),
    };
    EdgeSupportJson {
        rating: panel.rating.clone(),
        section: panels::SECTION,
        verdict,
        widest_bay_in,
        supported_span_in: panel.supported_span_in,
        unsupported_span_in: panel.unsupported_span_in,
        clips_a_bay,
        clips,
    }
}

/// Every piece; also the rows of the CSV form.
pub fn pieces(deck: &Deck) -> impl Iterator<Item = PieceJson> + '_ {
    deck.pieces.iter().map(|piece| PieceJson {
        plane: piece.plane + 1,
        course: piece.course + 1,
        x_in: piece.x.in_inches(),
        width_in: piece.width.in_inches(),
        height_in: piece.height.in_inches(),
        sheet: piece.sheet + 1,
        sheet_x_in: piece.sheet_x.in_inches(),
        sheet_y_in: piece.sheet_y.in_inches(),
    })
}
