//! What this roof is: key numbers, every value used, what needs a professional, and the sheets of the
//! set.

use crate::facts::datum::tape;
use crate::frame::{Frame, Role};
use crate::geom::{DVec2, DVec3, Solid};
use crate::measure::{Note, Units};

use super::super::drawing::{Anchor, Drawing, Fill, Pen, View};
use super::super::paper::{FINE, Flow, Job, Orientation, Page};
use super::super::projection::{Sight, Style, draw};
use super::super::table::{KeyNumber, Table};
use super::super::{frame, order};
use super::bound::{Entry, beside_contents};
use super::order::sentence;
use super::told::{self, CAUTION};
use super::{Kind, Matter, stamp};

/// Width of the contents, inches.
const LIST: f64 = 2.5;

/// The sheets; `contents` is what the set has, this kind included.
pub(super) fn pages(matter: &Matter<'_>, job: &Job, contents: &[Entry]) -> Vec<Page> {
    let mut flow = Flow::new(job, Kind::Roof.title(), Orientation::Portrait, 1, CAUTION);
    if stamp::is_wanted(matter.findings) {
        flow.keep_stamp();
    }
    flow.words(&format!("{}.", sentence(&frame::heading_words(matter.frame, job.writing))));
    let (wide, tall) = (flow.width(), flow.height() * 0.36);
    flow.drawing(beside_contents(|wide| picture(matter.frame, wide, tall), contents, wide, LIST));
    flow.table(&key_numbers(matter, job));
    let told = matter.told();
    told::verdicts(&told, job, &mut flow);
    told::values(&told, job, &mut flow);
    flow.finish()
}

/// The frame from above eave A's near end.
fn picture(frame: &Frame, wide: f64, tall: f64) -> Drawing {
    /// Below and beside the frame, for the names of its sides.
    const NAMES: f64 = 0.25;
    let style = |role: Role| Style {
        pen: match role {
            Role::RidgeBoard | Role::CommonRafter | Role::EndRafter | Role::BargeRafter => {
                Pen::Context
            }
            _ => Pen::Thin,
        },
        fill: Fill::Paper,
    };
    let solids: Vec<(Solid, Style)> = frame
        .members
        .iter()
        .flat_map(|member| {
            member.placements.iter().map(move |axis| (member.placed(axis), style(member.role)))
        })
        .collect();
    let sight = Sight::ISOMETRIC;
    let corners =
        || solids.iter().flat_map(|(solid, _)| solid.corners()).map(|corner| sight.flat(corner));
    let low = corners().fold(DVec2::INFINITY, DVec2::min);
    let high = corners().fold(DVec2::NEG_INFINITY, DVec2::max);
    let size = high - low;
    let scale = (wide / size.x).min((tall - NAMES) / size.y);
    let mut drawing = Drawing::new(wide, size.y * scale + NAMES);
    let view =
        View { scale, origin: DVec2::new((wide - size.x * scale) / 2.0, NAMES) - low * scale };
    draw(&mut drawing, &view, sight, &solids);
    // the two visible sides, named below the lowest edge there
    let site = &frame.site;
    let foot = |point: DVec3| view.place(sight.flat(point));
    let out = site.tail.max(0.0);
    let drop = 2.0 * site.depth;
    let eave = foot(DVec3::new(site.length * 0.6, -out, -drop));
    drawing.text(eave + DVec2::new(0.12, -0.2), "eave A", FINE, Anchor::Start);
    let end = foot(DVec3::new(-site.rake, site.run, -drop));
    drawing.text(end + DVec2::new(-0.12, -0.2), "near end", FINE, Anchor::End);
    drawing
}

fn key_numbers(matter: &Matter<'_>, job: &Job) -> Table {
    let (frame, order) = (matter.frame, matter.order);
    let (plan, rafter) = (&frame.plan, &frame.rafter);
    let metric = job.writing.units == Units::Millimeters;
    let row = |what: &str, here: Note, datum: &str| KeyNumber::of(what, here, datum);
    let count = |count: usize| Note::new(count.to_string());
    let (_, lumber, weight) = order::amounts(order, metric);
    let all = order::for_buildings(&order.tags());
    let rows = [
        row("pitch", job.writing.pitch(plan.rafter.pitch).into(), "slope of both roof planes"),
        row(
            "rafter, line length",
            tape(rafter.line_length),
            "along the slope, building line to the center of the ridge",
        ),
        row(
            "rafter, blank",
            job.writing.blank(rafter.blank_length).into(),
            "shortest board that a common rafter can be cut from",
        ),
        row(
            "pairs of rafters",
            count(frame.pairs.len()),
            &format!("{} of them between the end walls", frame.ties.inner_pairs),
        ),
        row(
            "eave overhang",
            tape(matter.eave.fascia_top.out),
            "level, building line to the fascia's outer face, or to the tail cut where there is none",
        ),
        row(
            "rake overhang",
            tape(plan.rake),
            "level, end wall's framing face to the barge rafter's outer face",
        ),
        row("what ties the walls", count(frame.ties.count), frame.ties.kind.words()),
        row("sticks", count(frame.stick_count()), "of the roof"),
        row(
            "sheets",
            count(order.first().sheets.count()),
            &format!("roof panels rated {}", order.first().panel.rating),
        ),
        row("roof", order::area(order.first().roof_ft2, metric).into(), "both planes as covered"),
        row("lumber", lumber.into(), &format!("as bought{all}")),
        row("delivery", weight.into(), &format!("about{all}; the order says what is left out")),
    ];
    Table::of("Key numbers", rows, job.writing)
}

#[cfg(test)]
mod tests {
    use super::super::super::paper::Paper;
    use super::super::tests::{KESTREL, METRIC, SHALLOW, job, texts, with_matter};
    use super::super::{Kind, pages};
    use super::*;
    use crate::rules::Verdict;

    #[test]
    fn kestrel_yard_by_hand() {
        with_matter(KESTREL, Units::Feet, |matter| {
            let pages =
                pages(matter, &job(Paper::Letter, Units::Feet), &[Kind::Roof, Kind::Section]);
            let texts = texts(&pages);
            let has = |wanted: &str| texts.iter().any(|text| text == wanted);
            // line length: 7 ft of run at 6 in 12 is 84 x sqrt 1.25 = 93.915 in
            assert!(has("7' 9-15/16\""), "{texts:#?}");
            // peak: heel stand 4-5/8 (6.149 plumb less 1.539) and 42 of rise; the floor 8 ft 1-1/8 below
            // the plate and 18 in above the ground
            let peak = 84.0 * 0.5 + (5.5 * 1.25_f64.sqrt() - 3.0772 * 0.5);
            let write = |inches_: f64| {
                job(Paper::Letter, Units::Feet)
                    .writing
                    .length(crate::measure::quantity::inches(inches_))
            };
            assert!(has(&write(peak)) && has(&write(peak + 97.125 + 18.0)), "{peak}");
            assert!(texts.iter().any(|text| text.contains("Nothing fails or needs design.")));
        });
    }

    #[test]
    fn every_default_and_every_reason_is_told() {
        for (text, units) in [(SHALLOW, Units::Feet), (METRIC, Units::Millimeters)] {
            with_matter(text, units, |matter| {
                let job = job(Paper::A4, units);
                let all = texts(&pages(matter, &job, &[Kind::Roof])).join(" ");
                let told = |words: &str| words.split_whitespace().all(|word| all.contains(word));
                for used in matter.used.iter().chain(&matter.plan.gable.rafter.used) {
                    let of_the_code = used.field.table() == "limits" && !used.given;
                    let name = used.field.name().replace('_', " ");
                    assert!(of_the_code || told(&name) || all.contains(used.field.key), "{name}");
                }
                let waiting =
                    matter.findings.iter().filter(|finding| finding.verdict != Verdict::Meets);
                for finding in waiting {
                    assert!(told(finding.title), "{}", finding.title);
                    let note = finding.noted(job.writing);
                    assert!(told(&note), "{note}");
                }
            });
        }
    }

    #[test]
    fn the_first_sheet_says_where_the_others_begin() {
        with_matter(KESTREL, Units::Feet, |matter| {
            let set = pages(matter, &job(Paper::Letter, Units::Feet), &Kind::ALL);
            let first = texts(&set[..1]);
            for (kind, wanted) in [(Kind::Order, "Order"), (Kind::Walk, "Inspection walk")] {
                let shows = |page: &Page| page.title.split("; ").any(|own| own == kind.title());
                let page = 1 + set.iter().position(shows).unwrap();
                let at = first.iter().position(|text| text == wanted).unwrap();
                let place = &first[at + 1];
                assert!(
                    place == &page.to_string() || place.starts_with(&format!("{page} to ")),
                    "{wanted}: {place}, {page}"
                );
            }
        });
    }
}
