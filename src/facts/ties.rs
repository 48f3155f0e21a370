//! `ties` as JSON and CSV.

use crate::frame::{TieKind, TieStory};
use crate::measure::quantity::{in_plf, in_pounds};
use crate::measure::{Length, Note, Writing};
use crate::rules::Tied;
use crate::rules::heel::{Heel, HeelCase};
use crate::strength::heel_joint;
use crate::strength::loads::psf_figure;

use super::check::CheckedJson;
use super::common::Row;
use super::datum::{Inches, Plf, Pounds, by_units};
use super::record::record;
use super::spans::WorkingJson;

record! {
    /// The result of `ties`.
    TiesReport from (tied: &Tied<'_>, explain: bool) with {
        let ties = tied.frame.map(|frame| &frame.ties);
        let heel = tied.solved();
        let outside = |heel: &Heel| heel.outside().iter().map(|why| why.reason().write(Writing::default())).collect::<Vec<_>>();
        let waits_for = match &tied.heel { Some(Err(missing)) => missing.as_slice(), _ => &[] };
    } {
        /// `ties`.
        command: &'static str = "ties";
        /// Year of the model code.
        edition: u16 = tied.edition.year();
        /// `ceiling-joists`, `ceiling-joists-lapped`, `rafter-ties` or `none`; null without a roof file.
        kind: Option<&'static str> = ties.map(|ties| kind_name(ties.kind));
        /// Spacing of the ties on center.
        spacing_in: Inches = tied.spacing;
        /// Height of the ties over that of the ridge, both above the plate.
        hc_over_hr: f64 = tied.hc_over_hr;
        /// Level length over which rafter and tie lie face to face at the heel; null without a roof file.
        lap_length_in: Option<Inches> = ties.map(|ties| ties.heel_lap);
        /// Pairs that are tied; null without a roof file.
        count: Option<usize> = ties.map(|ties| ties.count);
        /// 16d common nails at each heel; null where an input is missing or no tie counts.
        heel_nails: Option<u32> = heel.and_then(|heel| heel.nails());
        /// 16d common nails that the plan specifies at each heel; null for as many as are needed.
        heel_nails_specified: Option<f64> = tied.specified;
        /// Greatest tension in one tie; null where an input is missing.
        thrust_lb: Option<f64> = heel.map(|heel| in_pounds(heel.thrust()));
        /// What the count rests on: the printed table, the rule behind it, or design.
        rests_on: Option<&'static str> = heel.map(|heel| heel.rests_on());
        /// The next heavier count that is printed, where the roof is no place of the table.
        covering_nails: Option<u32> = heel.and_then(|heel| heel.covering());
        /// Worst verdict of the findings; without a roof file only `needs design` or null.
        verdict: Option<&'static str> = tied.verdict().map(|verdict| verdict.words());
        /// Why design is needed.
        needs_design: Vec<String> = heel.map(outside).unwrap_or_default();
        /// Fields of the roof file that the nails wait for.
        missing: Vec<&'static str> = waits_for.iter().map(|key| key.name());
        /// The joint under each load.
        loads: Vec<HeelCaseJson> = heel.map(|heel| &heel.cases).into_iter().flatten();
        /// What the frame has; null without a roof file.
        story: Option<StoryJson> = ties.map(|ties| (tied, ties));
        /// The findings about ties.
        findings: Vec<CheckedJson> = tied.findings.iter().map(|finding| (finding, explain));
        /// The working, if asked for.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        working: Vec<WorkingJson> = heel.filter(|_| explain).map(|heel| heel.working()).into_iter().flatten();
        /// What these figures are and who decides.
        caution: &'static str = super::caution::CHECK;
    }
}

record! {
    /// The joint under one load.
    HeelCaseJson from (case: &HeelCase) with {
        let (joint, answer) = (&case.joint, &case.answer);
        let is_snow = joint.load.is_snow();
        let psf = |units| {
            let [load, dead] = [joint.load.psf(), psf_figure(joint.dead)].map(|psf| Writing::of(units).psf(psf, 2));
            format!("{} {load}, dead {dead}", joint.load.name())
        };
    } {
        /// Both loads in words.
        load "load" on page: Note = by_units(psf);
        /// Roof live load; not there under snow.
        #[serde(skip_serializing_if = "Option::is_none")]
        live_psf: Option<f64> = (!is_snow).then(|| joint.load.psf());
        /// Ground snow load; not there under live load.
        #[serde(skip_serializing_if = "Option::is_none")]
        snow_psf: Option<f64> = is_snow.then(|| joint.load.psf());
        /// Dead load, of level projection.
        dead_psf: f64 = psf_figure(joint.dead);
        /// Load on one rafter behind the tie, per foot of projection.
        load_plf "on a rafter": Plf = in_plf(answer.load_per_rafter);
        /// Tension in one tie.
        thrust_lb "thrust": Pounds = in_pounds(answer.thrust);
        /// 16d common nails.
        heel_nails "16d common": Option<u32> = answer.nails;
        /// The count for a tie at the plate.
        nails_at_plate "tie at the plate": u32 = answer.nails_at_plate;
        /// The printed factor for a raised tie.
        raised_tie_factor "factor": Option<f64> = answer.factor_hundredths.map(|hundredths| f64::from(hundredths) / 100.0);
        /// The printed count at this place, if the table has it.
        printed_nails: Option<u32> = answer.printed.map(|cell| cell.nails);
    }
}

record! {
    /// What the frame has.
    StoryJson from (tied: &Tied<'_>, ties: &TieStory) with {
        let along = |height: Length| tied.along_bottom_edge(height);
        let opening = ties.opening.as_ref();
    } {
        /// The kind in words.
        kind_in_words: &'static str = ties.kind.words();
        /// Pairs between the end walls.
        inner_pairs: usize = ties.inner_pairs;
        /// Bottom of the ties above the plate.
        height_in: Inches = ties.height;
        /// Area of the contact at the heel.
        heel_area_in2: f64 = ties.heel_area_in2;
        /// 16d common nails that fit the contact.
        nails_that_fit: usize = ties.nails_that_fit;
        /// Lap of two lengths of joist over the bearing.
        joist_lap_in: Option<Inches> = ties.joist_lap;
        /// 16d common nails that fit that lap.
        lap_nails_that_fit: Option<usize> = ties.lap_nails_that_fit;
        /// Height of the clip at the joist's end, plumb.
        clip_height_in: Inches = ties.clip_height;
        /// Level length of the clip.
        clip_length_in: Inches = ties.clip_length;
        /// Along the rafter's bottom edge, seat's inner end to the tie's bottom edge.
        tie_on_rafter_in: Option<Inches> = (ties.kind != TieKind::None).then(|| along(ties.height)).flatten();
        /// Near faces of the rafter ties from the near end wall's framing face.
        tie_marks_in: Vec<Inches> = tied.tie_marks();
        /// Numbers, from 1 at the near end, of the pairs whose joist or tie the attic opening cuts.
        cut_pairs: Vec<usize> = opening.map(|opening| opening.cut_rows.clone()).unwrap_or_default();
        /// Number of collar ties.
        collar_ties: usize = ties.collars;
        /// Bottom of the collar ties above the plate.
        collar_height_in: Inches = ties.collar_height;
        /// Along the rafter's bottom edge, seat's inner end to the collar tie's bottom edge.
        collar_on_rafter_in: Option<Inches> = (ties.collars > 0).then(|| along(ties.collar_height)).flatten();
        /// Top of the lower third, below which ties of the walls belong: above the plate.
        lower_third_ends_in: Option<Inches> = tied.zone.map(|zone| zone.lower);
        /// Where the attic's upper third begins, above which collar ties belong: above the plate.
        upper_third_begins_in: Option<Inches> = tied.zone.map(|zone| zone.upper);
    }
}

/// The kind of tie as other programs read it.
#[must_use]
fn kind_name(kind: TieKind) -> &'static str {
    match kind {
        TieKind::JoistsContinuous => "ceiling-joists",
        TieKind::JoistsLapped => "ceiling-joists-lapped",
        TieKind::RafterTies => "rafter-ties",
        TieKind::None => "none",
    }
}

/// Every number as CSV rows.
#[must_use]
pub fn rows(tied: &Tied<'_>, writing: Writing) -> Vec<Row> {
    let report = TiesReport::of(tied, false);
    let length = |name: &str, value: Inches| Row::length("ties", name, value.0, writing);
    let figure = |name: &str, value: f64, unit: &str| Row::figure("ties", name, value, unit);
    let count = |name: &str, value: usize| figure(name, value as f64, "count");
    let mut rows = vec![
        length("spacing", report.spacing_in),
        figure("hc_over_hr", report.hc_over_hr, "fraction"),
    ];
    if let Some(kind) = report.kind {
        rows.insert(0, Row::words("ties", "kind", kind));
    }
    rows.extend(report.lap_length_in.map(|lap| length("lap_length", lap)));
    rows.extend(report.count.map(|tied| count("count", tied)));
    if let Some(nails) = report.heel_nails {
        rows.push(count("heel_nails", nails as usize));
        let substitute = heel_joint::substitute(tied.edition, nails);
        rows.push(count(
            &format!("heel_nails instead, {}", substitute.nail),
            substitute.nails as usize,
        ));
    }
    rows.extend(
        report.heel_nails_specified.map(|nails| figure("heel_nails_specified", nails, "count")),
    );
    rows.extend(report.thrust_lb.map(|thrust| figure("thrust", thrust, "lb")));
    rows.extend(report.covering_nails.map(|nails| count("covering_nails", nails as usize)));
    rows.extend(report.verdict.map(|verdict| Row::words("ties", "verdict", verdict)));
    for load in &report.loads {
        let table = match (load.live_psf, load.snow_psf) {
            (Some(live), _) => format!("live {live} psf"),
            (_, Some(snow)) => format!("ground snow {snow} psf"),
            _ => continue,
        };
        rows.push(Row::figure(&table, "dead", load.dead_psf, "psf"));
        rows.push(Row::figure(&table, "load", load.load_plf.0, "plf"));
        rows.push(Row::figure(&table, "thrust", load.thrust_lb.0, "lb"));
        rows.push(Row::figure(&table, "nails_at_plate", f64::from(load.nails_at_plate), "count"));
        if let Some(factor) = load.raised_tie_factor {
            rows.push(Row::figure(&table, "raised_tie_factor", factor, "fraction"));
        }
        if let Some(nails) = load.heel_nails {
            rows.push(Row::figure(&table, "heel_nails", f64::from(nails), "count"));
        }
    }
    if let Some(story) = &report.story {
        rows.push(count("inner_pairs", story.inner_pairs));
        rows.push(length("height", story.height_in));
        rows.push(figure("heel_area", story.heel_area_in2, "in2"));
        rows.push(count("nails_that_fit", story.nails_that_fit));
        rows.extend(story.joist_lap_in.map(|lap| length("joist_lap", lap)));
        rows.extend(story.lap_nails_that_fit.map(|nails| count("lap_nails_that_fit", nails)));
        rows.push(length("clip_height", story.clip_height_in));
        rows.push(length("clip_length", story.clip_length_in));
        rows.extend(story.tie_on_rafter_in.map(|at| length("tie_on_rafter", at)));
        rows.extend(story.tie_marks_in.iter().map(|mark| length("tie_mark", *mark)));
        rows.push(count("collar_ties", story.collar_ties));
        if story.collar_ties > 0 {
            rows.push(length("collar_height", story.collar_height_in));
        }
        let thirds = [
            ("lower_third_ends", story.lower_third_ends_in),
            ("upper_third_begins", story.upper_third_begins_in),
        ];
        rows.extend(thirds.iter().filter_map(|(name, at)| Some(length(name, (*at)?))));
        rows.extend(story.collar_on_rafter_in.map(|at| length("collar_on_rafter", at)));
    }
    rows.extend(super::common::finding_rows(&tied.findings, writing));
    rows.push(Row::words("caution", "caution", super::common::CAUTION_IN_CSV));
    rows
}
