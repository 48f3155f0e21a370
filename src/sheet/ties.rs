//! `ties` on one page: what ties each pair, where, and the nails required.

use crate::facts::caution;
use crate::facts::datum::{by_units, tape};
use crate::facts::record::keys;
use crate::facts::ties::HeelCaseJson;
use crate::frame::opening::numbers;
use crate::frame::{Frame, TieKind, TieStory};
use crate::measure::quantity::inches;
use crate::measure::{Units, Writing, trim};
use crate::plan::Key;
use crate::rules::Finding;
use crate::rules::Tied;
use crate::rules::heel::Heel;
use crate::strength::heel_joint::{clinched, substitute};

use super::check;
use super::findings;
use super::page::Page;
use super::table::{KeyNumber, wrapped};
use super::{Depth, Look, Table};

/// The page: what ties each pair, the nails at each heel, and the findings on both.
#[must_use]
pub fn text(tied: &Tied<'_>, look: &Look, depth: Depth) -> String {
    let mut page = Page::new(look, depth);
    if let Some(frame) = tied.frame {
        page.say_all(answer(frame));
    }
    page.open(&tied.findings);
    let (loads, sentences) = heel_nails(tied, look.writing);
    page.say_all(&sentences);
    let of_roof = tied.frame.is_some();
    if let Some(frame) = tied.frame {
        page.list(story(tied, frame, look.writing));
        page.say(&tie_marks(tied, look.writing));
    }
    match loads {
        Some(table) if of_roof => page.more("load and thrust", || table.text(look)),
        Some(table) => page.list(table),
        None => {}
    }
    page.notes(tied.frame.map_or(&[][..], |frame| &frame.notes));
    if let Some(heel) = tied.solved() {
        page.workings(|| {
            let mut text = String::from("How the nails come about\n");
            for step in heel.working() {
                text.push_str(&wrapped(&format!("  {}", step.write(look.writing)), 6, look));
            }
            text + "  [S..] are the sources in docs/sources.md.\n"
        });
    }
    if !tied.findings.is_empty() {
        page.gap();
        page.first(|page| page.say_all(findings::rest(&tied.findings, look.writing)));
        page.more("rules", || {
            let mut of: Vec<&Finding> = tied.findings.iter().collect();
            of.sort_by_key(|finding| finding.verdict);
            let mut text = findings::table("Held against the rules", &of, look.writing).text(look);
            let told = of.iter().filter(|finding| depth.explains() || finding.has_to_be_told());
            text.extend(told.map(|finding| findings::note(finding, look)));
            text
        });
    }
    if depth.explains() && look.writing.units == Units::Millimeters {
        page.say(check::WORKINGS_ARE_IN_INCHES);
    }
    page.caution(caution::CHECK_IN_SHORT, caution::CHECK);
    page.end()
}

/// How many pairs are tied, by what, and which are not.
fn answer(frame: &Frame) -> Vec<String> {
    let ties = &frame.ties;
    let name = frame.plan.rafter.name.as_deref().map_or(String::new(), |name| format!("{name}: "));
    let mut lines = vec![format!(
        "{name}{} of {} pairs tied: {}.",
        ties.count,
        ties.inner_pairs,
        ties.kind.words()
    )];
    if let Some(opening) = ties.opening.as_ref().filter(|of| !of.cut_rows.is_empty()) {
        lines.push(format!(
            "The attic opening cuts the tie of pair {}, numbered from the near end.",
            numbers(&opening.cut_rows)
        ));
    }
    lines
}

/// The places of the ties, and how many of the rafters they hold.
fn story(tied: &Tied<'_>, frame: &Frame, writing: Writing) -> Table {
    let ties = &frame.ties;
    let mut rows = vec![KeyNumber::of(
        "pairs tied",
        format!("{} of {}", ties.count, ties.inner_pairs),
        "of those between the end walls",
    )];
    if let Some(opening) = ties.opening.as_ref().filter(|of| !of.cut_rows.is_empty()) {
        rows.push(KeyNumber::of(
            "pairs that the attic opening unties",
            numbers(&opening.cut_rows),
            "numbered from the near end",
        ));
    }
    rows.extend(at_the_heel(ties));
    rows.extend(tie_on_rafter(tied, frame));
    rows.extend(joist_ends(ties));
    rows.extend(collars(tied, ties));
    Table::of("What ties each pair", rows, writing)
}

/// Where the ties lie, and the contact at the heel.
fn at_the_heel(ties: &TieStory) -> Vec<KeyNumber> {
    if ties.kind == TieKind::None {
        return Vec::new();
    }
    let area = by_units(|units| Writing::of(units).square_inches(ties.heel_area_in2, 1));
    vec![
        KeyNumber::of("spacing of the ties", tape(ties.spacing), "on center"),
        KeyNumber::of("height of the ties", tape(ties.height), "plate to their bottom"),
        KeyNumber::of("H_C / H_R", trim(ties.hc_over_hr, 3), "that height over run times slope"),
        KeyNumber::of("lap at the heel", tape(ties.heel_lap), "level, rafter and tie face to face"),
        KeyNumber::of("contact at the heel", area, ""),
        KeyNumber::of(
            "16d common nails that fit it",
            ties.nails_that_fit.to_string(),
            "2-1/2 diameters from edges, 15 along, 5 between rows",
        ),
    ]
}

/// Where a rafter tie crosses the bottom edge of its rafter.
const ALONG_BOTTOM_EDGE: &str = "along the rafter's bottom edge from the seat's inner end";

fn tie_on_rafter(tied: &Tied<'_>, frame: &Frame) -> Vec<KeyNumber> {
    let ties = &frame.ties;
    if ties.kind != TieKind::RafterTies {
        return Vec::new();
    }
    let row = |what, above| {
        let at = tied.along_bottom_edge(above).map_or("-".into(), tape);
        KeyNumber::of(what, at, ALONG_BOTTOM_EDGE)
    };
    vec![
        row("tie's bottom edge on every tied rafter", ties.height),
        row("tie's top edge there", ties.height + frame.plan.tie.depth),
    ]
}

/// How joists that tie the walls end, and how they lap.
fn joist_ends(ties: &TieStory) -> Vec<KeyNumber> {
    let mut rows = Vec::new();
    if matches!(ties.kind, TieKind::JoistsContinuous | TieKind::JoistsLapped) {
        if ties.clip_height > inches(0.0) {
            let height = "plumb height of the clip at the joist's end";
            rows.push(KeyNumber::of("joist ends clipped", tape(ties.clip_height), height));
            rows.push(KeyNumber::of("length of the clip", tape(ties.clip_length), "level"));
        } else {
            let why = "they stay under the roof plane";
            rows.push(KeyNumber::of("joist ends clipped", "none", why));
        }
    }
    if let (Some(lap), Some(nails)) = (ties.joist_lap, ties.lap_nails_that_fit) {
        rows.push(KeyNumber::of("lap over the bearing", tape(lap), "of the two lengths"));
        rows.push(KeyNumber::of("16d common nails that fit it", nails.to_string(), ""));
    }
    rows
}

fn collars(tied: &Tied<'_>, ties: &TieStory) -> Vec<KeyNumber> {
    let count = check::count(ties.collars, "tie", "ties");
    let holds = "in the upper third; they hold the ridge, not the walls";
    let mut rows = vec![KeyNumber::of("collar ties", count, holds)];
    if ties.collars > 0 {
        let height = tape(ties.collar_height);
        rows.push(KeyNumber::of("height of the collar ties", height, "plate to their bottom"));
        let at = tied.along_bottom_edge(ties.collar_height);
        rows.extend(at.map(|at| {
            let what = "collar tie's bottom edge on the rafter";
            KeyNumber::of(what, tape(at), ALONG_BOTTOM_EDGE)
        }));
    }
    rows
}

/// The marks of the ties on the plates, if they have their own.
fn tie_marks(tied: &Tied<'_>, writing: Writing) -> String {
    let marks: Vec<String> =
        tied.tie_marks().into_iter().map(|mark| writing.length(mark)).collect();
    if marks.is_empty() {
        return String::new();
    }
    format!(
        "Near faces of the ties, tape hooked on the near end wall's framing face: {}.",
        marks.join(", ")
    )
}

/// The nails at each heel: load by load as a table if the joint has an answer, and the notes on it.
pub(super) fn heel_nails(tied: &Tied<'_>, writing: Writing) -> (Option<Table>, Vec<String>) {
    let only = |words: String| (None, vec![words]);
    let heel = match &tied.heel {
        None => {
            let untied = tied.frame.is_some_and(|frame| frame.ties.kind == TieKind::None);
            return only(
                if untied {
                    "Nothing ties the walls: a wall or an engineered ridge beam must carry the ridge."
                } else {
                    "No pair between the end walls is tied."
                }
                .into(),
            );
        }
        Some(Err(missing)) => {
            return only(format!(
                "Nails at the heel and thrust: not checked; set {}.",
                Key::list(missing)
            ));
        }
        Some(Ok(heel)) => heel,
    };
    (Some(loads(tied, heel, writing)), heel_sentences(tied, heel, writing))
}

/// The joint load by load.
fn loads(tied: &Tied<'_>, heel: &Heel, writing: Writing) -> Table {
    let title = format!(
        "Nails at each heel, {}: spacing {}, tie height by ridge height (H_C/H_R) {}",
        tied.edition,
        writing.length(tied.spacing),
        trim(tied.hc_over_hr, 3)
    );
    Table::of(title, heel.cases.iter().map(HeelCaseJson::of), writing)
        .picked(keys!(HeelCaseJson: load, load_plf, thrust_lb, nails_at_plate, raised_tie_factor, heel_nails))
        .dashed()
}

/// How many nails it takes, and what stands beside the table.
fn heel_sentences(tied: &Tied<'_>, heel: &Heel, writing: Writing) -> Vec<String> {
    let mut sentences = vec![match heel.nails() {
        Some(nails) => {
            let instead = substitute(tied.edition, nails);
            let clinched = clinched(tied.edition, nails)
                .filter(|fewer| *fewer < nails)
                .map_or(String::new(), |fewer| format!(", or {fewer} clinched"));
            format!(
                "{nails} nails of 16d common ({}) at each heel, or {} of {}{clinched}; {}.",
                if writing.units == Units::Millimeters {
                    "4.1 x 89 mm"
                } else {
                    "0.162 x 3-1/2 in"
                },
                instead.nails,
                instead.nail,
                heel.rests_on_in_words()
            )
        }
        None => "No count of nails: the code knows no tie here.".to_owned(),
    }];
    if let Some(covering) = heel.covering() {
        sentences.push(format!("The next heavier row of the table has {covering} nails."));
    }
    for why in heel.outside() {
        sentences.push(format!("Needs design: {}.", why.reason().write(writing)));
    }
    sentences
}
