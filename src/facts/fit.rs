//! `fit` as JSON.

use crate::fit::search::{Jump, Stretch};
use crate::fit::sides::{SidesAnswer, SidesBuildable};
use crate::fit::{
    Aim, Answer, Buildable, CapHeld, Fit, Instead, Mismatch, PlateDrop, Proof, Removal, Side,
    TwoSides,
};
use crate::measure::Note;
use crate::measure::quantity::inches;
use crate::plan::{Find, FitPlan, Unknown};

use super::common::{self, FindingJson, UsedJson};
use super::datum::{Figure, Inches, tape};
use super::rafter::{MarkJson, PatternRafter};
use super::record::record;

record! {
    /// The result of `fit`.
    FitReport from (plan: &FitPlan, fits: &[Fit], plate_drop: Option<&PlateDrop>, two_sides: Option<&TwoSides>, notes: &[Note]) {
        /// `fit`.
        command: &'static str = "fit";
        /// What these figures are and who decides.
        caution: &'static str = super::caution::RAFTER;
        /// Every value used.
        used: Vec<UsedJson> = &plan.eave.rafter.used;
        /// What was to be found, as `find` names it.
        find: &'static str = plan.find.name();
        /// What heights are measured above: `the plate`, `the floor`, `the ground` or `the mark`.
        heights_above: &'static str = plan.datum.words();
        /// One entry for each measurement met, or one for caps or rows; empty for the other two kinds.
        fits: Vec<FitJson> = fits;
        /// A plate drop, if one was asked for.
        plate_drop: Option<PlateDropJson> = plate_drop;
        /// Two unequal sides, if they were asked for.
        two_sides: Option<TwoSidesJson> = two_sides;
        /// What was used without being asked for and may surprise.
        notes: Vec<String> = common::notes(notes);
    }
}

record! {
    /// Everything found for one aim. Values are inches, or rise in 12 where `unit` says so.
    FitJson from (fit: &Fit) with {
        let (aim, met) = match fit.aim {
        Aim::Meet(measured) => ("meet", Some(measured.quantity.name())),
        Aim::Largest => ("largest", None),
        Aim::NoNarrowRow => ("no narrow row", None),
        };
    } {
        /// `meet`, `largest` or `no narrow row`.
        aim: &'static str = aim;
        /// The measurement that is met; null for caps and rows.
        met: Option<&'static str> = met;
        /// Unit of every value: `in` or `rise_in_12`.
        unit: &'static str = unit(fit.unknown == Unknown::Pitch);
        /// Where the search starts.
        looked_from: f64 = fit.looked_through.0;
        /// Where it ends.
        looked_to: f64 = fit.looked_through.1;
        /// How often the roof was built.
        roofs_built: u32 = fit.built;
        /// What the file has for the unknown; null if nothing.
        present: Option<f64> = fit.present;
        /// The measurements as the file stands.
        as_it_stands: Vec<MismatchJson> = &fit.as_it_stands;
        /// Each value that answers, in order; empty if there is none.
        solutions: Vec<SolutionJson> = &fit.answers;
        /// Stretches all along which the measurement is met.
        stretches: Vec<StretchJson> = &fit.stretches;
        /// Places where the measurement leaps over what is asked.
        jumps: Vec<JumpJson> = &fit.jumps;
        /// Least of the measurement over all that can be built; null for caps and rows.
        reach_least_in: Option<Inches> = fit.reach.map(|((_, least), _)| least);
        /// The unknown there.
        reach_least_at: Option<f64> = fit.reach.map(|((at, _), _)| at);
        /// Greatest of the measurement.
        reach_most_in: Option<Inches> = fit.reach.map(|(_, (_, most))| most);
        /// The unknown there.
        reach_most_at: Option<f64> = fit.reach.map(|(_, (at, _))| at);
        /// Other numbers that would meet it alone, where this one can't.
        instead: Vec<InsteadJson> = &fit.instead;
    }
}

record! {
    /// One value that answers.
    SolutionJson from (answer: &Answer) with {
        let (bracket, halvings, residual, touches) = match answer.proof {
        Proof::Met(root) => (root.bracket, root.halvings, Some(root.residual), root.touches),
        Proof::Edge(end) => {
        let outside = end.outside.unwrap_or(end.inside);
        let bracket = (end.inside.min(outside), end.inside.max(outside));
        (bracket, end.halvings, None, false)
        }
        };
    } {
        /// The value, not rounded.
        value: f64 = answer.value;
        /// Lower end of the bracket.
        bracket_from: f64 = bracket.0;
        /// Upper end.
        bracket_to: f64 = bracket.1;
        /// Halvings that closed it.
        halvings: u32 = halvings;
        /// What is left of the measurement; null for caps and rows.
        residual_in: Option<Inches> = residual;
        /// True if the measurement touches what is asked and turns back.
        touches: bool = touches;
        /// What stops it just beyond, for caps and rows.
        stopped_by: Vec<String> = &answer.stopped_by;
        /// Every measurement, the one that is met too.
        measurements: Vec<MismatchJson> = &answer.mismatches;
        /// Second numbers that remove what is left of the others.
        removals: Vec<RemovalJson> = &answer.removals;
        /// Every cap.
        caps: Vec<CapJson> = &answer.caps;
        /// The value as it is cut and written, finest step first.
        buildable: Vec<BuildableJson> = &answer.buildable;
        /// The pattern rafter with the exact value.
        pattern_rafter: PatternRafter = &answer.eave.rafter;
        /// Rules and own limits.
        findings: Vec<FindingJson> = &answer.findings;
    }
}

record! {
    /// A measurement beside what the roof comes to.
    MismatchJson from (mismatch: &Mismatch) {
        /// The measurement, as `meet` names it.
        measurement: &'static str = mismatch.measured.quantity.name();
        /// As asked.
        asked_in: Inches = mismatch.measured.asked;
        /// What the roof has.
        found_in: Inches = mismatch.found;
        /// Found less asked.
        over_in: Inches = mismatch.over();
    }
}

record! {
    /// A cap beside what the roof comes to.
    CapJson from (cap: &CapHeld) {
        /// What is capped.
        cap "cap": &'static str = cap.what;
        /// What the roof has.
        found_in "comes to": Inches = cap.found;
        /// The most.
        most_in "at most": Inches = cap.most;
        /// True if it is kept.
        kept: bool = cap.is_kept();
        /// What is left of it, or by how much it is over.
        to_spare "to spare" on page: Figure = to_spare(cap);
    }
}

fn to_spare(cap: &CapHeld) -> Note {
    let spare = cap.most - cap.found;
    if cap.is_kept() { tape(spare.max(inches(0.0))) } else { Note::with("over by {}", [-spare]) }
}

record! {
    /// A value as a tape or a square shows it.
    BuildableJson from (buildable: &Buildable) {
        /// The value.
        value: f64 = buildable.value;
        /// As it is written.
        written: String = &buildable.written;
        /// The table of the roof file.
        table: &'static str = buildable.table;
        /// The line under it.
        line: String = &buildable.line;
        /// True if it keeps caps and rows.
        keeps: bool = buildable.keeps;
        /// Every measurement with it.
        measurements: Vec<MismatchJson> = &buildable.mismatches;
    }
}

record! {
    /// A second number that removes what is left of a measurement.
    RemovalJson from (removal: &Removal) {
        /// The measurement that is met besides.
        measurement: &'static str = removal.measured.quantity.name();
        /// The field of the second number.
        second: &'static str = removal.second.key().name();
        /// What it is in the plan, inches or rise in 12.
        second_present: f64 = removal.second_present;
        /// What it becomes.
        second_value: f64 = removal.second_value;
        /// What the first number becomes with it.
        first_value: f64 = removal.first_value;
        /// What is left of both.
        residual_in: Inches = removal.residual_in;
        /// Rules that the roof then fails.
        fails: Vec<&'static str> = removal.fails.iter().copied();
    }
}

record! {
    /// Another number that would meet a measurement alone.
    InsteadJson from (instead: &Instead) {
        /// Its field.
        unknown: &'static str = instead.unknown.key().name();
        /// Its values, inches or rise in 12.
        values: Vec<f64> = instead.values.iter().copied();
        /// Rules that the roof then fails.
        fails: Vec<&'static str> = instead.fails.iter().copied();
    }
}

record! {
    /// A stretch of values.
    StretchJson from (stretch: &Stretch) {
        /// Its start.
        from: f64 = stretch.from;
        /// Its end.
        to: f64 = stretch.to;
    }
}

record! {
    /// A leap of a measurement over what is asked.
    JumpJson from (jump: &Jump) {
        /// The value just before it.
        before: f64 = jump.below.0;
        /// Found less asked there.
        before_over_in: Inches = jump.below.1;
        /// The value just after it.
        after: f64 = jump.above.0;
        /// Found less asked there.
        after_over_in: Inches = jump.above.1;
    }
}

record! {
    /// A plate drop.
    PlateDropJson from (drop: &PlateDrop) {
        /// How much lower the deeper rafter's plate lies.
        drop_in: Inches = drop.drop;
        /// How much lower its plumb tail reaches.
        tail_hangs_lower_in: Inches = drop.hangs_lower;
        /// The plan's own rafter.
        pattern_rafter: PatternRafter = &drop.rafter.rafter;
        /// The deeper rafter.
        deeper_rafter: PatternRafter = &drop.deeper.rafter;
        /// Seats that keep one plate for both instead.
        seats_on_one_plate: Vec<SeatJson> = drop.seats.iter().map(|(root, fails)| (root.value, fails.as_slice()));
        /// Rules that the deeper rafter can be held against.
        findings: Vec<FindingJson> = &drop.findings;
    }
}

record! {
    /// A seat of the deeper rafter.
    SeatJson from (seat_in: f64, fails: &[&'static str]) {
        /// Level length.
        seat_in: Inches = seat_in;
        /// Rules that it fails.
        fails: Vec<&'static str> = fails.iter().copied();
    }
}

record! {
    /// Two unequal sides.
    TwoSidesJson from (found: &TwoSides) {
        /// Unit of every value: `in` or `rise_in_12`.
        unit: &'static str = unit(found.find == Find::PitchB);
        /// Where the search starts.
        looked_from: f64 = found.looked_through.0;
        /// Where it ends.
        looked_to: f64 = found.looked_through.1;
        /// How often both sides were built.
        roofs_built: u32 = found.built;
        /// Least that the peak of A stands above that of B.
        reach_least_in: Option<Inches> = found.reach.map(|(least, _)| least);
        /// Most.
        reach_most_in: Option<Inches> = found.reach.map(|(_, most)| most);
        /// Each way they meet; empty if there is none.
        solutions: Vec<SidesJson> = &found.answers;
    }
}

record! {
    /// One way two sides meet.
    SidesJson from (answer: &SidesAnswer) {
        /// Run of A, plate of B above that of A, or rise in 12 of plane B.
        value: f64 = answer.value;
        /// Lower end of the bracket.
        bracket_from: f64 = answer.root.bracket.0;
        /// Upper end.
        bracket_to: f64 = answer.root.bracket.1;
        /// Halvings that closed it.
        halvings: u32 = answer.root.halvings;
        /// How far the peaks stand apart.
        residual_in: Inches = answer.root.residual;
        /// The rafters' tops at the ridge's faces, A above B.
        ridge_tops_apart_in: Inches = answer.ridge_tops_apart();
        /// Fascia of B above that of A.
        fascia_b_above_a_in: Inches = answer.fascia.b_above_a;
        /// Overhangs of eave B that bring both fascias level; empty if none does.
        level_overhangs_b_in: Vec<Inches> = answer.fascia.overhangs.iter().map(|root| root.value);
        /// The value as it is built, finest step first.
        buildable: Vec<SidesBuildableJson> = &answer.buildable;
        /// Both sides, A first.
        sides: Vec<SideJson> = &answer.sides;
    }
}

record! {
    /// A value between two sides as a tape or a square shows it.
    SidesBuildableJson from (buildable: &SidesBuildable) {
        /// The value.
        value: f64 = buildable.value;
        /// As it is written.
        written: String = &buildable.written;
        /// How far the peaks then stand apart, A above B.
        peaks_apart_in: Inches = buildable.peaks_apart;
    }
}

record! {
    /// One side.
    SideJson from (side: &Side) with {
        let rafter = &side.eave.rafter;
    } {
        /// `A` or `B`.
        side: &'static str = side.name;
        /// Its plate above that of A.
        plate_above_plate_a_in: Inches = side.plate;
        /// Level overhang asked of it.
        overhang_in: Inches = rafter.plan.overhang;
        /// Fascia's top above plate A.
        fascia_top_above_plate_a_in: Inches = side.above_plate_a(side.eave.fascia_top.above_plate);
        /// Peak above plate A.
        apex_above_plate_a_in: Inches = side.above_plate_a(rafter.apex);
        /// Its pattern rafter; heights there are above its own plate.
        pattern_rafter: PatternRafter = rafter;
        /// Its marks.
        marks: Vec<MarkJson> = &rafter.marks;
        /// Rules and own limits.
        findings: Vec<FindingJson> = &side.findings;
    }
}

fn unit(is_pitch: bool) -> &'static str {
    if is_pitch { "rise_in_12" } else { "in" }
}
