//! The check sheet of a pattern rafter and its building, to be measured before the stack is cut.
//!
//! Six tape readings prove a pattern that ends at a ridge, nine one that lies on two plates: three from the ridge's long point (straight across the face to
//! the heel and to the seat's inner end, and along the top edge to the tail), two for the lean of the
//! ridge cut and the depth of the stock, and the wood over the heel. Patterns cut wrong in the model
//! ([`PatternCuts`]) show what each slip does to them. [`diagnose`] says what a set of readings means
//! (`docs/derivations/fit.md`).

use crate::frame::miscut::{HIGH_READINGS, READINGS};
use crate::frame::{CannotBuild, CommonRafter, Further, PatternCuts, Slip};
use crate::measure::quantity::{InInches, feet, inches, millimeters};
use crate::measure::tolerance::{HAIR, LAST_BITS};
use crate::measure::{Length, Step, Tape, Units, Writing};
use crate::plan::{GablePlan, OverhangFrom, OverhangTo, RafterPlan};

use super::diagnose::{self, Cause};
use super::pattern_rows::{CUT_IN, HIGH_ROWS, SET_IN, low_rows, ridge_rows};

/// Tolerance of measurements across the whole building, inches (common practice).
const ACROSS_IN: f64 = 1.0 / 4.0;

/// What a measurement is taken on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum On {
    /// The pattern rafter.
    Pattern,
    /// The building.
    Building,
}

impl On {
    /// In a word.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            On::Pattern => "pattern",
            On::Building => "building",
        }
    }
}

/// A reading that shows what went wrong.
#[derive(Debug, Clone, PartialEq)]
pub struct Telltale {
    /// The reading.
    pub reads: Length,
    /// What it means; several if they read alike here.
    pub means: String,
}

/// A slip of a usual amount, and what the pattern then reads.
#[derive(Debug, Clone, PartialEq)]
pub struct Miscut {
    /// The slip.
    pub slip: Slip,
    /// Its inches or radians.
    pub of: f64,
    /// How it happens, if it is a common slip.
    pub named: Option<&'static str>,
    /// The upper end of the rafter: the ridge or the high tail.
    pub end: &'static str,
    /// The pattern's readings by number.
    pub reads: Vec<Length>,
    /// True if a reading is then outside its tolerance.
    pub is_seen: bool,
    /// Other slips with the same readings on a tape to 1/16 in.
    pub alike: Vec<Cause>,
    /// The measurement that distinguishes them, with its reading for this slip; `None` if the patterns
    /// are the same.
    pub told_apart_by: Option<(Further, Length)>,
}

/// What readings of a pattern mean.
#[derive(Debug, Clone, PartialEq)]
pub struct Diagnosis {
    /// The readings, by number; `None` if one was not taken.
    pub read: Vec<Option<Length>>,
    /// Readings outside their tolerance, by number from 1.
    pub off: Vec<u32>,
    /// What may have gone wrong, the nearest first; empty if nothing is off, or if no slip and no pair
    /// of slips explains it.
    pub causes: Vec<Cause>,
    /// The measurement that distinguishes the causes, if they are not the same pattern.
    pub told_apart_by: Option<Further>,
}

impl Diagnosis {
    /// True if every reading that was taken is within its tolerance.
    #[must_use]
    pub fn is_right(&self) -> bool {
        self.off.is_empty()
    }
}

/// One dimension to measure.
#[derive(Debug, Clone, PartialEq)]
pub struct Dimension {
    /// Its number on the sheet.
    pub number: u32,
    /// What it is measured on.
    pub on: On,
    /// From where to where.
    pub what: &'static str,
    /// What it has to read.
    pub length: Length,
    /// How far it may be off either way.
    pub tolerance: Length,
    /// What a wrong reading means.
    pub wrong: &'static str,
    /// Readings that show which slip was made.
    pub telltales: Vec<Telltale>,
}

/// A right triangle of sides 3, 4 and 5 times a unit that fits within the plan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Triangle {
    /// The unit.
    pub unit: Length,
    /// Along the eave wall.
    pub along_length: Length,
    /// Along the end wall.
    pub along_span: Length,
    /// Between the two marks.
    pub diagonal: Length,
}

/// The sheet.
#[derive(Debug, Clone)]
pub struct ProvingSheet {
    /// The pattern rafter.
    pub rafter: CommonRafter,
    /// Where the pattern is cut.
    pub cuts: PatternCuts,
    /// The dimensions, by number.
    pub dimensions: Vec<Dimension>,
    /// The largest triangles in whole feet (inches on a small plan), the largest first.
    pub triangles: Vec<Triangle>,
    /// The largest in whole tenths of a meter (centimeters on a small plan).
    pub metric_triangles: Vec<Triangle>,
}

/// The slip of a length that the table of wrong patterns shows: 1/8 in, or 3 mm.
#[must_use]
pub fn usual_slip(writing: Writing) -> Length {
    match writing.units {
        Units::Millimeters => millimeters(3.0),
        _ => inches(0.125),
    }
}

impl Miscut {
    /// The wrong pattern in words.
    #[must_use]
    pub fn words(&self, writing: Writing) -> String {
        self.named.map_or_else(|| self.slip.words(self.of, self.end, writing), str::to_owned)
    }
}

impl ProvingSheet {
    /// Builds the pattern of one slope of a roof and measures the sheet.
    ///
    /// # Errors
    /// [`CannotBuild`] as the rafter's.
    pub fn build(plan: &GablePlan, rafter: &RafterPlan) -> Result<ProvingSheet, CannotBuild> {
        let rafter = CommonRafter::build(rafter)?;
        let cuts = PatternCuts::of(&rafter);
        let mut dimensions = on_the_pattern(&rafter, &cuts);
        dimensions.extend(on_the_building(plan, &rafter));
        for (index, dimension) in dimensions.iter_mut().enumerate() {
            dimension.number = index as u32 + 1;
        }
        let (length, span) = (plan.length, plan.rafter.span);
        Ok(ProvingSheet {
            rafter,
            cuts,
            dimensions,
            triangles: triangles(length, span, [feet(1.0), inches(1.0)]),
            metric_triangles: triangles(length, span, [millimeters(100.0), millimeters(10.0)]),
        })
    }
}

impl ProvingSheet {
    /// The patterns cut wrong on purpose: every slip by `by` or by one degree, and the common ones.
    #[must_use]
    pub fn miscuts(&self, by: Length) -> Vec<Miscut> {
        let usual = self.cuts.slips().map(|slip| {
            let of = if slip.is_angle() { 1_f64.to_radians() } else { by.inches() };
            (slip, of, None)
        });
        usual
            .chain(named(&self.rafter).into_iter().map(|(slip, of, means)| (slip, of, Some(means))))
            .map(|(slip, of, named)| self.miscut(slip, of, named))
            .collect()
    }

    fn miscut(&self, slip: Slip, of: f64, named: Option<&'static str>) -> Miscut {
        let wrong = self.cuts.with(&[(slip, of)]);
        let reads = wrong.readings();
        let right = self.cuts.readings();
        let seen = |reads: &[f64]| {
            (0..reads.len()).any(|at| {
                let off = (reads[at] - right[at]).abs();
                off > self.dimensions[at].tolerance.inches() + HAIR
            })
        };
        let is_seen = seen(&reads);
        // a slip too small to see reads like a right pattern, and so do others
        let taken: Vec<Option<f64>> = reads.iter().copied().map(Some).collect();
        let alike: Vec<Cause> = diagnose::causes(&self.cuts, &taken, 0.0)
            .into_iter()
            .filter(|cause| is_seen && cause.slips.iter().all(|(other, _)| *other != slip))
            .filter(|cause| seen(&self.cuts.with(&cause.slips).readings()))
            .collect();
        let told_apart_by = diagnose::told_apart_by(&wrong.further(), &alike);
        Miscut {
            slip,
            of,
            named,
            end: self.rafter.upper().end,
            reads: reads.into_iter().map(inches).collect(),
            is_seen,
            told_apart_by: told_apart_by
                .map(|further| (further, inches(wrong.further()[further.place()]))),
            alike,
        }
    }

    /// What is wrong with a pattern that has these readings on a tape of this step.
    #[must_use]
    pub fn diagnose(&self, read: Vec<Option<Length>>, step: Step) -> Diagnosis {
        let off: Vec<u32> = self
            .dimensions
            .iter()
            .zip(&read)
            .filter(|(dimension, read)| {
                // compared with what the sheet shows
                let shown = Tape::nearest(dimension.length, step).length();
                read.is_some_and(|read| (read - shown).abs() > dimension.tolerance + inches(HAIR))
            })
            .map(|(dimension, _)| dimension.number)
            .collect();
        let half_step = (match step {
            Step::Millimeter => millimeters(0.5),
            _ => inches(1.0 / 32.0),
        })
        .inches();
        let causes = if off.is_empty() {
            Vec::new()
        } else {
            let taken: Vec<Option<f64>> =
                read.iter().map(|read| read.map(InInches::inches)).collect();
            diagnose::causes(&self.cuts, &taken, half_step)
        };
        let told_apart_by = causes
            .split_first()
            .and_then(|(first, others)| diagnose::told_apart_by(&first.further, others));
        Diagnosis { read, off, causes, told_apart_by }
    }

    /// How many readings the pattern has.
    #[must_use]
    pub fn readings(&self) -> usize {
        READINGS + if self.rafter.high.is_some() { HIGH_READINGS } else { 0 }
    }

    /// A cause in words, with how its slips often happen.
    #[must_use]
    pub fn cause_words(&self, cause: &Cause, writing: Writing) -> String {
        let slips: Vec<String> = cause
            .slips
            .iter()
            .map(|(slip, of)| {
                let often = self
                    .often(*slip, *of)
                    .map_or(String::new(), |means| format!(" (as if {means})"));
                slip.words(*of, self.rafter.upper().end, writing) + &often
            })
            .collect();
        slips.join(", and ")
    }

    /// How a slip of this amount often happens, if it is a common one.
    #[must_use]
    pub fn often(&self, slip: Slip, of: f64) -> Option<&'static str> {
        named(&self.rafter)
            .into_iter()
            .filter(|(own, amount, _)| *own == slip && (amount - of).abs() <= CUT_IN)
            .min_by(|a, b| (a.1 - of).abs().total_cmp(&(b.1 - of).abs()))
            .map(|(_, _, means)| means)
    }
}

fn on_the_pattern(rafter: &CommonRafter, cuts: &PatternCuts) -> Vec<Dimension> {
    let reads = cuts.readings();
    let telltales = telltales(rafter, cuts);
    // with an overhang this short the tail cut is inside the building line: there is no heel
    let has_heel = rafter.seat_ends()[0].y <= HAIR;
    let rows = match &rafter.high {
        None => ridge_rows(has_heel).to_vec(),
        Some(_) => [low_rows(has_heel).as_slice(), &HIGH_ROWS].concat(),
    };
    rows.into_iter()
        .zip(reads)
        .zip(telltales)
        .map(|(((what, tolerance, wrong), reads), telltales)| Dimension {
            number: 0,
            on: On::Pattern,
            what,
            length: inches(reads),
            tolerance: inches(tolerance),
            wrong,
            telltales,
        })
        .collect()
}

/// Common slips, each with its inches and how it happens.
fn named(rafter: &CommonRafter) -> Vec<(Slip, f64, &'static str)> {
    let plan = &rafter.plan;
    let nothing = inches(0.0);
    let mut list = Vec::new();
    if plan.ridge > nothing {
        let half = rafter.ridge_shortening.inches();
        list.push((Slip::RidgePlace, half, "half the ridge board was not taken off"));
        list.push((Slip::RidgePlace, -half, "the whole ridge board was taken off instead of half"));
    }
    if rafter.seat.length < plan.plate {
        let deeper = (plan.plate - rafter.seat.length) * plan.pitch.tangent();
        list.push((Slip::SeatDepth, deeper.inches(), "the seat was cut as wide as the plate"));
    }
    // the tail from other datums, as cut by such a plan
    let tail = |change: &dyn Fn(&mut RafterPlan)| {
        let mut plan = plan.clone();
        plan.seat = Some(rafter.seat.length);
        change(&mut plan);
        let other = CommonRafter::build(&plan).ok()?;
        let longer = (other.tail_length - rafter.tail_length).inches();
        (longer.abs() > CUT_IN).then_some(longer)
    };
    if rafter.high.is_some() && plan.overhang_to == OverhangTo::Fascia && plan.boards() > nothing {
        let longer = plan.boards().inches() * plan.pitch.slope_factor();
        let means = "the boards at the high tail were not taken off the overhang";
        list.push((Slip::RidgePlace, longer, means));
    }
    if plan.overhang_to == OverhangTo::Fascia
        && plan.boards() > nothing
        && let Some(longer) = tail(&|plan| plan.overhang_to = OverhangTo::Tail)
    {
        list.push((Slip::Tail, longer, "the boards at the tail were not taken off the overhang"));
    }
    if plan.finish > nothing {
        let (other, means) = match plan.overhang_from {
            OverhangFrom::Framing => (
                OverhangFrom::Finish,
                "the overhang was measured from the finished wall instead of the framing",
            ),
            OverhangFrom::Finish => (
                OverhangFrom::Framing,
                "the overhang was measured from the framing instead of the finished wall",
            ),
        };
        if let Some(longer) = tail(&|plan| plan.overhang_from = other) {
            list.push((Slip::Tail, longer, means));
        }
    }
    list
}

/// For each reading, its value after each common slip, as far as the tape shows a difference. One value
/// has one entry, with all slips that it may mean.
fn telltales(rafter: &CommonRafter, cuts: &PatternCuts) -> Vec<Vec<Telltale>> {
    let right = cuts.readings();
    let mut all: Vec<Vec<Telltale>> = vec![Vec::new(); right.len()];
    for (slip, of, means) in named(rafter) {
        let reads = cuts.with(&[(slip, of)]).readings();
        for (at, list) in all.iter_mut().enumerate() {
            if (reads[at] - right[at]).abs() <= CUT_IN {
                continue;
            }
            let same = |other: &&mut Telltale| (other.reads.inches() - reads[at]).abs() <= CUT_IN;
            match list.iter_mut().find(same) {
                Some(known) => known.means = format!("{} or {means}", known.means),
                None => list.push(Telltale { reads: inches(reads[at]), means: means.to_owned() }),
            }
        }
    }
    all
}

fn on_the_building(plan: &GablePlan, rafter: &CommonRafter) -> Vec<Dimension> {
    let row = |what, length, tolerance_in: f64, wrong| Dimension {
        number: 0,
        on: On::Building,
        what,
        length,
        tolerance: inches(tolerance_in),
        wrong,
        telltales: Vec::new(),
    };
    let top = match &rafter.high {
        Some(high) => (
            "top of the low plate plumb up to the height of the high plate",
            high.plate,
            "too high or too low with the span right: the seats do not lie flat on both plates",
        ),
        None => (
            if rafter.plan.ridge > inches(0.0) {
                "top of the plates up to the top of the ridge board"
            } else {
                "top of the plates up to where the rafters' top edges meet"
            },
            rafter.ridge_top,
            "too high with the span right: the rafters are too long or the seats too shallow; too low: the other way round",
        ),
    };
    let diagonal = inches(plan.length.inches().hypot(plan.rafter.span.inches()));
    vec![
        row(
            "plate to plate, outside to outside, at both ends and the middle",
            plan.rafter.span,
            SET_IN,
            "the walls lean or are not parallel: brace them before the pattern is tried, or the run changes with every pair",
        ),
        row(top.0, top.1, SET_IN, top.2),
        row(
            "corner to corner over the plates, both ways",
            diagonal,
            ACROSS_IN,
            "one longer, one shorter: the plan is racked; both alike but off: a side is wrong. Equal diagonals alone prove no parallel walls",
        ),
    ]
}

/// Up to three of the largest triangles in whole `units`, with the first unit that fits at all.
fn triangles(length: Length, span: Length, units: [Length; 2]) -> Vec<Triangle> {
    for unit in units {
        // 3 along one side and 4 along the other, whichever way fits larger
        let most = |three: Length, four: Length| {
            let whole = |side: Length, parts: f64| {
                (side.inches() / unit.inches() / parts + LAST_BITS).floor()
            };
            whole(three, 3.0).min(whole(four, 4.0))
        };
        let (upright, lying) = (most(length, span), most(span, length));
        let count = upright.max(lying);
        if count < 1.0 {
            continue;
        }
        return [0.0, 1.0, 2.0]
            .into_iter()
            .map(|less| count - less)
            .filter(|count| *count >= 1.0)
            .map(|count| {
                let unit = unit * count;
                let (along_length, along_span) = if lying >= upright {
                    (unit * 4.0, unit * 3.0)
                } else {
                    (unit * 3.0, unit * 4.0)
                };
                Triangle { unit, along_length, along_span, diagonal: unit * 5.0 }
            })
            .collect();
    }
    Vec::new()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::Entries;

    fn sheet(fields: &[(&'static str, &str)]) -> ProvingSheet {
        let mut entries = Entries::default();
        for (key, text) in
            [("building.span", "14'"), ("building.length", "22'")].iter().chain(fields)
        {
            entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
        }
        let plan = GablePlan::read(&entries).unwrap();
        ProvingSheet::build(&plan, &plan.rafter).unwrap()
    }

    fn pattern(pitch: u8, stock: &str) -> ProvingSheet {
        sheet(&[
            ("roof.pitch", &format!("{pitch}/12")),
            ("rafter.stock", stock),
            ("eave.fascia", "1x8"),
        ])
    }

    /// What the tape reads of a pattern with these slips.
    fn read(sheet: &ProvingSheet, slips: &[(Slip, f64)]) -> Diagnosis {
        let read = sheet.cuts.with(slips).readings();
        let tape = |read: f64| Some(Tape::nearest(inches(read), Step::Sixteenth).length());
        sheet.diagnose(read.into_iter().map(tape).collect(), Step::Sixteenth)
    }

    #[track_caller]
    fn names(found: &Diagnosis, slip: Slip) {
        let named =
            found.causes.iter().any(|cause| cause.slips.iter().map(|(own, _)| *own).eq([slip]));
        assert!(!found.is_right() && named, "{slip:?}: {found:?}");
    }

    #[test]
    fn a_right_pattern_fails_no_reading() {
        for pitch in 3..=12 {
            for stock in ["2x4", "2x6", "2x8", "2x10", "2x12"] {
                let found = read(&pattern(pitch, stock), &[]);
                assert!(found.is_right() && found.causes.is_empty(), "{found:?}");
            }
        }
    }

    #[test]
    fn a_square_one_degree_off_is_seen_from_3_in_12_up() {
        for pitch in 3..=12 {
            for stock in ["2x6", "2x8", "2x10", "2x12"] {
                for of in [1_f64, -1.0] {
                    let sheet = pattern(pitch, stock);
                    names(&read(&sheet, &[(Slip::Square, of.to_radians())]), Slip::Square);
                }
            }
        }
    }

    #[test]
    fn a_seat_an_eighth_too_deep_is_named_at_every_pitch() {
        for pitch in 3..=12 {
            let sheet = pattern(pitch, "2x8");
            names(&read(&sheet, &[(Slip::SeatDepth, 0.125)]), Slip::SeatDepth);
        }
    }

    #[test]
    fn one_figure_of_a_reading_has_one_entry() {
        // without half of a 1-1/2 in ridge and without a 3/4 in fascia: the third reading is the same
        let sheet = pattern(6, "2x6");
        for dimension in &sheet.dimensions {
            for (at, one) in dimension.telltales.iter().enumerate() {
                for other in &dimension.telltales[at + 1..] {
                    assert!(((one.reads - other.reads).inches()).abs() > 1.0 / 16.0);
                }
            }
        }
        let tail = &sheet.dimensions[2].telltales[0].means;
        assert!(tail.contains("half the ridge board") && tail.contains("boards at the tail"));
        // all six readings together distinguish them
        let half = sheet.rafter.ridge_shortening.inches();
        names(&read(&sheet, &[(Slip::RidgePlace, half)]), Slip::RidgePlace);
        names(&read(&sheet, &[(Slip::Tail, half)]), Slip::Tail);
        assert_eq!(
            sheet.often(Slip::RidgePlace, half),
            Some("half the ridge board was not taken off")
        );
    }

    /// Any slip of the birdsmouth on the high plate is named, on a shed of any pitch.
    #[test]
    fn slips_of_the_high_birdsmouth_are_named() {
        for pitch in 2..=8 {
            let mut entries = Entries::default();
            let pitch = format!("{pitch}/12");
            for (key, text) in [
                ("building.span", "12'"),
                ("building.length", "20'"),
                ("roof.pitch", &*pitch),
                ("roof.shape", "shed"),
                ("rafter.stock", "2x8"),
            ] {
                entries.add_flag(crate::plan::Key::of(key).unwrap(), Some(text));
            }
            let plan = GablePlan::read(&entries).unwrap();
            let sheet = ProvingSheet::build(&plan, &plan.rafter.of_shed()).unwrap();
            assert_eq!(sheet.readings(), 9);
            assert!(read(&sheet, &[]).is_right());
            for (slip, of) in [
                (Slip::HighBirdsmouth, 0.5),
                (Slip::HighSeatDepth, -0.25),
                (Slip::HighHeel, 0.25),
                (Slip::HighSeatLean, 4_f64.to_radians()),
                (Slip::Birdsmouth, -0.5),
                (Slip::Square, 1_f64.to_radians()),
            ] {
                names(&read(&sheet, &[(slip, of)]), slip);
            }
        }
    }

    #[test]
    fn slips_add_up_and_change_sign_to_a_step_of_the_tape() {
        for pitch in [3, 6, 8, 12] {
            let sheet = pattern(pitch, "2x6");
            let right = sheet.cuts.readings();
            let off = |slips: &[(Slip, f64)]| -> Vec<f64> {
                let reads = sheet.cuts.with(slips).readings();
                reads.iter().zip(&right).map(|(reads, right)| reads - right).collect()
            };
            let usual: Vec<(Slip, f64)> = sheet
                .miscuts(inches(0.125))
                .iter()
                .take(sheet.cuts.slips().count())
                .map(|miscut| (miscut.slip, miscut.of))
                .collect();
            for one in &usual {
                let (own, opposite) = (off(&[*one]), off(&[(one.0, -one.1)]));
                for at in 0..READINGS {
                    assert!((own[at] + opposite[at]).abs() < 1.0 / 16.0, "{one:?}");
                }
                for other in usual.iter().filter(|other| other.0 != one.0) {
                    let (second, both) = (off(&[*other]), off(&[*one, *other]));
                    for at in 0..READINGS {
                        let left = (own[at] + second[at] - both[at]).abs();
                        assert!(left < 1.0 / 16.0, "{pitch} {one:?} {other:?}: {left}");
                    }
                }
            }
        }
    }

    /// At 9 in 12 (3-4-5) the top edge of a 2x6 is 5.15625 in over the plate at the building line: 3/4 of 5-1/2 in is left
    /// square to it, and 5/4 of that plumb. 84 in of run, less 3/4 in for half of the ridge board, rise by 3/4. The corners
    /// of 22 ft by 14 ft are 24 in x sqrt(11^2 + 7^2) apart.
    #[test]
    fn what_is_measured_on_the_building_by_hand() {
        let pitch = ("roof.pitch", "9/12");
        for (fields, top, what) in [
            (vec![pitch], 5.15625 + 83.25 * 0.75, "top of the ridge board"),
            (vec![pitch, ("ridge.board", "none")], 5.15625 + 84.0 * 0.75, "top edges meet"),
        ] {
            let sheet = sheet(&fields);
            let building: Vec<_> =
                sheet.dimensions.iter().filter(|one| one.on == On::Building).collect();
            let lengths = [168.0, top, 24.0 * 170.0_f64.sqrt()];
            assert_eq!(building.len(), lengths.len());
            for (dimension, by_hand) in building.iter().zip(lengths) {
                let found = dimension.length.inches();
                assert!((found - by_hand).abs() < 1e-9, "{}: {found}", dimension.what);
            }
            assert!(building[1].what.contains(what), "{}", building[1].what);
        }
    }

    #[track_caller]
    fn largest(length: f64, span: f64, expected: Option<(f64, f64, f64)>) {
        let list = triangles(feet(length), feet(span), [feet(1.0), inches(1.0)]);
        let found = list.first().map(|it| {
            [it.along_length, it.along_span, it.diagonal].map(|side| side.inches() / 12.0)
        });
        assert_eq!(found, expected.map(|(a, b, c)| [a, b, c]));
        for triangle in &list {
            assert!(triangle.along_length <= feet(length) && triangle.along_span <= feet(span));
            assert_eq!(triangle.along_length.hypot(triangle.along_span), triangle.diagonal);
        }
    }

    #[test]
    fn the_largest_triangle_fits_whichever_way_it_lies() {
        largest(22.0, 14.0, Some((16.0, 12.0, 20.0)));
        largest(14.0, 22.0, Some((12.0, 16.0, 20.0)));
        // 4 x 6 = 24 fits exactly, and so does 3 x 6 = 18
        largest(24.0, 18.0, Some((24.0, 18.0, 30.0)));
        // a shed of 3 by 2 ft in inches: 4 x 8 and 3 x 8
        largest(3.0, 2.0, Some((32.0 / 12.0, 2.0, 40.0 / 12.0)));
        largest(0.2, 0.2, None);
    }
}
