//! `ties` on one page: what ties each pair, where, and the nails it takes.

use crate::facts::caution;
use crate::frame::opening::numbers;
use crate::frame::{Frame, TieKind};
use crate::measure::quantity::{InInches, in_plf, in_pounds, inches};
use crate::measure::{Length, Units, Writing, trim};
use crate::plan::Key;
use crate::rules::Finding;
use crate::rules::Tied;
use crate::strength::heel_joint::{clinched, substitute};

use super::check;
use super::findings;
use super::page::Page;
use super::table::wrapped;
use super::{Align, Depth, Look, Table};

/// The page: what ties each pair, the nails at each heel, and how both stand against the rules.
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
    if let Some(opening) = ties.opening.as_ref().filter(|of| !of.cut_pairs.is_empty()) {
        lines.push(format!(
            "The attic opening cuts the tie of pair {}, numbered from the near end.",
            numbers(&opening.cut_pairs)
        ));
    }
    lines
}

/// Where the ties are, and how much of the rafters they hold.
fn story(tied: &Tied<'_>, frame: &Frame, writing: Writing) -> Table {
    let ties = &frame.ties;
    let write = |length: Length| writing.length(length);
    let mut table = Table::new(
        "What ties each pair",
        &[("what", Align::Left), ("here", Align::Right), ("datum", Align::Left)],
    );
    let mut row = |what: &str, here: String, datum: &str| {
        table.row([what.to_owned(), here, datum.to_owned()]);
    };
    row(
        "pairs tied",
        format!("{} of {}", ties.count, ties.inner_pairs),
        "of those between the end walls",
    );
    if let Some(opening) = ties.opening.as_ref().filter(|of| !of.cut_pairs.is_empty()) {
        row(
            "pairs that the attic opening unties",
            numbers(&opening.cut_pairs),
            "numbered from the near end",
        );
    }
    if ties.kind != TieKind::None {
        row("spacing of the ties", write(ties.spacing), "on center");
        row("height of the ties", write(ties.height), "plate to their bottom");
        row("H_C / H_R", trim(ties.hc_over_hr, 3), "that height over run times slope");
        row("lap at the heel", write(ties.heel_lap), "level, rafter and tie face to face");
        row("contact at the heel", writing.square_inches(ties.heel_area_in2, 1), "");
        row(
            "16d common nails that fit it",
            ties.nails_that_fit.to_string(),
            "2-1/2 diameters from edges, 15 along, 5 between rows",
        );
    }
    if ties.kind == TieKind::RafterTies {
        let at =
            |above: f64| tied.along_bottom_edge(above).map_or("-".into(), |at| write(inches(at)));
        let bottom = ties.height.inches();
        row(
            "tie's bottom edge on every tied rafter",
            at(bottom),
            "along the rafter's bottom edge from the seat's inner end",
        );
        row(
            "tie's top edge there",
            at(bottom + frame.plan.tie.depth_in()),
            "along the rafter's bottom edge from the seat's inner end",
        );
    }
    if matches!(ties.kind, TieKind::JoistsContinuous | TieKind::JoistsLapped) {
        if ties.clip_height.inches() > 0.0 {
            row(
                "joist ends clipped",
                write(ties.clip_height),
                "plumb height of the clip at the joist's end",
            );
            row("length of the clip", write(ties.clip_length), "level");
        } else {
            row("joist ends clipped", "none".into(), "they stay under the roof plane");
        }
    }
    if let (Some(lap), Some(nails)) = (ties.joist_lap, ties.lap_nails_that_fit) {
        row("lap over the bearing", write(lap), "of the two lengths");
        row("16d common nails that fit it", nails.to_string(), "");
    }
    row(
        "collar ties",
        check::count(ties.collars, "tie", "ties"),
        "in the upper third; they hold the ridge, not the walls",
    );
    if ties.collars > 0 {
        row("height of the collar ties", write(ties.collar_height), "plate to their bottom");
        if let Some(at) = tied.along_bottom_edge(ties.collar_height.inches()) {
            row(
                "collar tie's bottom edge on the rafter",
                write(inches(at)),
                "along the rafter's bottom edge from the seat's inner end",
            );
        }
    }
    table
}

/// Where the ties are marked on the plates, if they have marks of their own.
fn tie_marks(tied: &Tied<'_>, writing: Writing) -> String {
    let marks: Vec<String> =
        tied.tie_marks().into_iter().map(|mark| writing.length(inches(mark))).collect();
    if marks.is_empty() {
        return String::new();
    }
    format!(
        "Near faces of the ties, tape hooked on the near end wall's framing face: {}.",
        marks.join(", ")
    )
}

/// The nails at each heel: load by load as a table where the joint has an answer, and what to say of it.
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
    let mut table = Table::new(
        format!(
            "Nails at each heel, {}: spacing {}, tie height by ridge height (H_C/H_R) {}",
            tied.edition,
            writing.length(tied.spacing),
            trim(tied.hc_over_hr, 3)
        ),
        &[
            ("load", Align::Left),
            ("on a rafter", Align::Right),
            ("thrust", Align::Right),
            ("tie at the plate", Align::Right),
            ("factor", Align::Right),
            ("16d common", Align::Right),
        ],
    );
    for case in &heel.cases {
        let answer = &case.answer;
        table.row([
            format!(
                "{} {}, dead {}",
                case.joint.load.name(),
                writing.psf(case.joint.load.psf(), 2),
                writing.psf(crate::strength::loads::psf_figure(case.joint.dead), 2)
            ),
            writing.plf(in_plf(answer.load_per_rafter), 1),
            writing.pounds(in_pounds(answer.thrust), 1),
            answer.nails_at_plate.to_string(),
            answer
                .factor_hundredths
                .map_or("-".into(), |factor| trim(f64::from(factor) / 100.0, 2)),
            answer.nails.map_or("-".into(), |nails| nails.to_string()),
        ]);
    }
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
    (Some(table), sentences)
}
