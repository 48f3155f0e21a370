//! `ties` as JSON and CSV.

use schemars::JsonSchema;
use serde::Serialize;

use crate::frame::{TieKind, TieStory};
use crate::measure::Writing;
use crate::measure::quantity::{in_inches, in_plf, in_pounds};
use crate::rules::Tied;
use crate::rules::heel::HeelCase;
use crate::strength::heel_joint;

use super::check::{CheckedJson, checked};
use super::common::Row;
use super::spans::{WorkingJson, working};

/// The result of `ties`.
#[derive(Debug, Serialize, JsonSchema)]
pub struct TiesReport {
    /// `ties`.
    pub command: &'static str,
    /// Year of the model code.
    pub edition: u16,
    /// `ceiling-joists`, `ceiling-joists-lapped`, `rafter-ties` or `none`; null without a roof file.
    pub kind: Option<&'static str>,
    /// Spacing of the ties on center.
    pub spacing_in: f64,
    /// Height of the ties over that of the ridge, both above the plate.
    pub hc_over_hr: f64,
    /// Level length over which rafter and tie lie face to face at the heel; null without a roof file.
    pub lap_length_in: Option<f64>,
    /// Pairs that are tied; null without a roof file.
    pub count: Option<usize>,
    /// 16d common nails at each heel; null where an input is missing or no tie counts.
    pub heel_nails: Option<u32>,
    /// 16d common nails that the plan specifies at each heel; null for as many as are needed.
    pub heel_nails_specified: Option<f64>,
    /// Greatest tension in one tie; null where an input is missing.
    pub thrust_lb: Option<f64>,
    /// What the count rests on: the printed table, the rule behind it, or design.
    pub rests_on: Option<&'static str>,
    /// The next heavier count that is printed, where the roof is no place of the table.
    pub covering_nails: Option<u32>,
    /// Worst verdict of the findings; without a roof file only `needs design` or null.
    pub verdict: Option<&'static str>,
    /// Why design is needed.
    pub needs_design: Vec<String>,
    /// Fields of the roof file that the nails wait for.
    pub missing: Vec<&'static str>,
    /// The joint under each load.
    pub loads: Vec<HeelCaseJson>,
    /// What the frame has; null without a roof file.
    pub story: Option<StoryJson>,
    /// The findings about ties.
    pub findings: Vec<CheckedJson>,
    /// The working, if asked for.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub working: Vec<WorkingJson>,
    /// What these figures are and who decides.
    pub caution: &'static str,
}

/// The joint under one load.
#[derive(Debug, Serialize, JsonSchema)]
pub struct HeelCaseJson {
    /// Roof live load; not there under snow.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub live_psf: Option<f64>,
    /// Ground snow load; not there under live load.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub snow_psf: Option<f64>,
    /// Dead load, of level projection.
    pub dead_psf: f64,
    /// Load on one rafter behind the tie, per foot of projection.
    pub load_plf: f64,
    /// Tension in one tie.
    pub thrust_lb: f64,
    /// 16d common nails.
    pub heel_nails: Option<u32>,
    /// The count for a tie at the plate.
    pub nails_at_plate: u32,
    /// The printed factor for a raised tie.
    pub raised_tie_factor: Option<f64>,
    /// The printed count at this place, if the table has it.
    pub printed_nails: Option<u32>,
}

/// What the frame has.
#[derive(Debug, Serialize, JsonSchema)]
pub struct StoryJson {
    /// The kind in words.
    pub kind_in_words: &'static str,
    /// Pairs between the end walls.
    pub inner_pairs: usize,
    /// Bottom of the ties above the plate.
    pub height_in: f64,
    /// Area of the contact at the heel.
    pub heel_area_in2: f64,
    /// 16d common nails that fit the contact.
    pub nails_that_fit: usize,
    /// Lap of two lengths of joist over the bearing.
    pub joist_lap_in: Option<f64>,
    /// 16d common nails that fit that lap.
    pub lap_nails_that_fit: Option<usize>,
    /// Height of the clip at the joist's end, plumb.
    pub clip_height_in: f64,
    /// Level length of the clip.
    pub clip_length_in: f64,
    /// Along the rafter's bottom edge, seat's inner end to the tie's bottom edge.
    pub tie_on_rafter_in: Option<f64>,
    /// Near faces of the rafter ties from the near end wall's framing face.
    pub tie_marks_in: Vec<f64>,
    /// Numbers, from 1 at the near end, of the pairs whose joist or tie the attic opening cuts.
    pub cut_pairs: Vec<usize>,
    /// Number of collar ties.
    pub collar_ties: usize,
    /// Bottom of the collar ties above the plate.
    pub collar_height_in: f64,
    /// Along the rafter's bottom edge, seat's inner end to the collar tie's bottom edge.
    pub collar_on_rafter_in: Option<f64>,
    /// Top of the lower third, below which ties of the walls belong: above the plate.
    pub lower_third_ends_in: Option<f64>,
    /// Where the attic's upper third begins, above which collar ties belong: above the plate.
    pub upper_third_begins_in: Option<f64>,
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

/// The whole result.
#[must_use]
pub fn report(tied: &Tied<'_>, explain: bool) -> TiesReport {
    let ties = tied.frame.map(|frame| &frame.ties);
    let heel = tied.solved();
    TiesReport {
        command: "ties",
        edition: tied.edition.year(),
        kind: ties.map(|ties| kind_name(ties.kind)),
        spacing_in: in_inches(tied.spacing),
        hc_over_hr: tied.hc_over_hr,
        lap_length_in: ties.map(|ties| in_inches(ties.heel_lap)),
        count: ties.map(|ties| ties.count),
        heel_nails: heel.and_then(|heel| heel.nails()),
        heel_nails_specified: tied.specified,
        thrust_lb: heel.map(|heel| in_pounds(heel.thrust())),
        rests_on: heel.map(|heel| heel.rests_on()),
        covering_nails: heel.and_then(|heel| heel.covering()),
        verdict: tied.verdict().map(|verdict| verdict.words()),
        needs_design: heel.map_or_else(Vec::new, |heel| {
            heel.outside().iter().map(|why| why.reason().write(Writing::default())).collect()
        }),
        missing: match &tied.heel {
            Some(Err(missing)) => missing.iter().map(|key| key.name()).collect(),
            _ => Vec::new(),
        },
        loads: heel.map_or_else(Vec::new, |heel| heel.cases.iter().map(case).collect()),
        story: ties.map(|ties| story(tied, ties)),
        findings: tied.findings.iter().map(|finding| checked(finding, explain)).collect(),
        working: match heel {
            Some(heel) if explain => working(heel.working()),
            _ => Vec::new(),
        },
        caution: crate::facts::caution::CHECK,
    }
}

fn case(case: &HeelCase) -> HeelCaseJson {
    let (joint, answer) = (&case.joint, &case.answer);
    let is_snow = joint.load.is_snow();
    HeelCaseJson {
        live_psf: (!is_snow).then(|| joint.load.psf()),
        snow_psf: is_snow.then(|| joint.load.psf()),
        dead_psf: crate::strength::loads::psf_figure(joint.dead),
        load_plf: in_plf(answer.load_per_rafter),
        thrust_lb: in_pounds(answer.thrust),
        heel_nails: answer.nails,
        nails_at_plate: answer.nails_at_plate,
        raised_tie_factor: answer.factor_hundredths.map(|hundredths| f64::from(hundredths) / 100.0),
        printed_nails: answer.printed.map(|cell| cell.nails),
    }
}

fn story(tied: &Tied<'_>, ties: &TieStory) -> StoryJson {
    StoryJson {
        kind_in_words: ties.kind.words(),
        inner_pairs: ties.inner_pairs,
        height_in: in_inches(ties.height),
        heel_area_in2: ties.heel_area_in2,
        nails_that_fit: ties.nails_that_fit,
        joist_lap_in: ties.joist_lap.map(in_inches),
        lap_nails_that_fit: ties.lap_nails_that_fit,
        clip_height_in: in_inches(ties.clip_height),
        clip_length_in: in_inches(ties.clip_length),
        tie_on_rafter_in: (ties.kind != TieKind::None)
            .then(|| tied.along_bottom_edge(in_inches(ties.height)))
            .flatten(),
        tie_marks_in: tied.tie_marks(),
        cut_pairs: ties.opening.as_ref().map_or_else(Vec::new, |opening| opening.cut_pairs.clone()),
        collar_ties: ties.collars,
        collar_height_in: in_inches(ties.collar_height),
        collar_on_rafter_in: (ties.collars > 0)
            .then(|| tied.along_bottom_edge(in_inches(ties.collar_height)))
            .flatten(),
        lower_third_ends_in: tied.zone.map(|zone| in_inches(zone.lower)),
        upper_third_begins_in: tied.zone.map(|zone| in_inches(zone.upper)),
    }
}

/// Every number as CSV rows.
#[must_use]
pub fn rows(tied: &Tied<'_>, writing: Writing) -> Vec<Row> {
    let report = report(tied, false);
    let length = |name: &str, value: f64| Row::length("ties", name, value, writing);
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
        rows.push(Row::figure(&table, "load", load.load_plf, "plf"));
        rows.push(Row::figure(&table, "thrust", load.thrust_lb, "lb"));
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
