//! What this roof is: a picture, the sheets of the set, key numbers, what needs a professional, every value used.

use crate::facts::datum::Inches;
use crate::facts::datum::tape;
use crate::facts::record::row;
use crate::frame::Role;
use crate::geom::{DVec2, Solid};
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::measure::{Note, Units};
use crate::roof::{EdgeKind, Roof};

use super::super::super::drawing::{Anchor, Drawing, Fill, Pen, View};
use super::super::super::faces::{framed, heading};
use super::super::super::order;
use super::super::super::paper::{Flow, Job, Orientation, Page, SMALL};
use super::super::super::projection::{Sight, Style, draw};
use super::super::super::table::{KeyNumber, Table};
use super::super::bound::{Entry, beside_contents};
use super::super::told::{self, CAUTION};
use super::super::{Kind, stamp};
use super::matter::HungMatter;

/// Width of the contents, inches.
const LIST: f64 = 2.6;

/// The sheets; `contents` is what the set has, these included.
pub(super) fn pages(matter: &HungMatter<'_>, job: &Job, contents: &[Entry]) -> Vec<Page> {
    let mut flow = Flow::new(job, Kind::Roof.title(), Orientation::Portrait, 1, CAUTION);
    if stamp::is_wanted(matter.findings) {
        flow.keep_stamp();
    }
    let [faces, planes] =
        heading(matter.sticks().roof, matter.frame.rafter.heel_stand, job.writing);
    flow.words(&faces);
    flow.words(&planes);
    flow.words(&framed(matter.sticks()));
    let (wide, tall) = (flow.width(), flow.height() * 0.36);
    flow.drawing(beside_contents(|wide| picture(matter, wide, tall), contents, wide, LIST));
    flow.table(&key_numbers(matter, job));
    flow.table(&heights(matter, job));
    if !matter.frame.notes.is_empty() {
        flow.head("To be known of this roof");
        for note in &matter.frame.notes {
            let words = super::super::order::sentence(&note.write(job.writing));
            flow.words(&format!("{}.", words.trim_end_matches('.')));
        }
    }
    told::verdicts(&matter.told(), job, &mut flow);
    told::values(&matter.told(), job, &mut flow);
    flow.finish()
}

/// The frame from above eave A's near end.
fn picture(matter: &HungMatter<'_>, wide: f64, tall: f64) -> Drawing {
    let style = |role: Role| Style {
        pen: match role {
            Role::RidgeBoard | Role::CommonRafter | Role::Hip | Role::Valley => Pen::Context,
            _ => Pen::Thin,
        },
        fill: Fill::Paper,
    };
    let members = matter.frame.members.iter();
    let solids: Vec<(Solid, Style)> = members
        .flat_map(|member| {
            let placed = member.placements.iter();
            placed.map(move |axis| (member.placed(axis), style(member.role)))
        })
        .collect();
    let sight = Sight::ISOMETRIC;
    let corners = solids.iter().flat_map(|(solid, _)| solid.corners()).map(|at| sight.flat(at));
    let (low, high) = corners.fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(low, high), at| {
        (low.min(at), high.max(at))
    });
    let size = high - low;
    let scale = (wide / size.x).min((tall - 0.2) / size.y);
    let mut drawing = Drawing::new(wide, size.y * scale + 0.2);
    let origin = DVec2::new((wide - size.x * scale) / 2.0, 0.2) - low * scale;
    draw(&mut drawing, &View { scale, origin }, sight, &solids);
    drawing.text(
        DVec2::new(wide / 2.0, 0.04),
        "from above wall A's near end",
        SMALL * 0.9,
        Anchor::Middle,
    );
    drawing
}

fn key_numbers(matter: &HungMatter<'_>, job: &Job) -> Table {
    let order = matter.order;
    let plan = &matter.frame.plan;
    let metric = job.writing.units == Units::Millimeters;
    let row = |what: &str, here: Note, datum: &str| KeyNumber::of(what, here, datum);
    let count = |count: usize| Note::new(count.to_string());
    let (_, lumber, weight) = order::amounts(order, metric);
    let all = order::for_buildings(&order.tags());
    let stock = plan.rafter.stock.write(job.writing.units);
    let spacing = format!("{stock}, center to center");
    let rows = [
        row(
            "pitch",
            job.writing.pitch(plan.rafter.pitch).into(),
            "of slope A; the roof plan has every face's",
        ),
        row(
            "heel stand",
            tape(matter.frame.rafter.heel_stand),
            "plumb, plate to the rafters' top edges at every building line",
        ),
        row("rafters at", tape(plan.spacing), &spacing),
        row("eave overhang", tape(plan.rafter.overhang), "level, of the main roof, as given"),
        row("sticks", count(matter.sticks().count()), "of the roof, as framed here"),
        row(
            "sheets",
            count(order.first().sheets.count()),
            &format!("roof panels rated {}", order.first().panel.rating),
        ),
        row("roof", order::area(order.first().roof_ft2, metric).into(), "all faces, in the slopes"),
        row("lumber", lumber.into(), &format!("as bought{all}")),
        row("delivery", weight.into(), &format!("about{all}; the order says what is left out")),
    ];
    Table::of("Key numbers", rows, job.writing)
}

row! {
    /// A height of the roof.
    Height from (what: String, above: f64) {
        what "of what": String = what;
        above "height": Inches = inches(above);
    }
}

/// The heights of ridges and eaves, the highest first.
fn heights(matter: &HungMatter<'_>, job: &Job) -> Table {
    let roof: &Roof = matter.sticks().roof;
    let mut all: Vec<(f64, String)> = Vec::new();
    for edge in &roof.edges {
        if !edge.is_level() {
            continue;
        }
        // over another face a slope ends in an eave too
        let is_step = edge.kind == EdgeKind::Step;
        let own = if is_step { &edge.faces[..1] } else { &edge.faces[..] };
        let names: Vec<&str> = own.iter().map(|face| roof.faces[*face].name.as_str()).collect();
        let is_high = edge.kind == EdgeKind::Eave && edge.rises_out;
        let kind = match edge.kind {
            _ if is_high => "high eave",
            EdgeKind::Step => "eave",
            EdgeKind::Valley => "level valley",
            kind => kind.words(),
        };
        let what = format!("{kind} of {}", names.join(" and "));
        let known =
            |(height, other): &(f64, String)| (height - edge.from.z).abs() < HAIR && *other == what;
        if !all.iter().any(known) {
            all.push((edge.from.z, what));
        }
    }
    all.push((0.0, "top of the plate of wall A".to_owned()));
    all.push((-matter.frame.plan.wall_height.inches(), "floor".to_owned()));
    all.sort_by(|one, other| other.0.total_cmp(&one.0));
    let rows = all.into_iter().map(|(above, what)| Height::of(what, above));
    Table::of(
        "Heights above the plate of wall A, on the planes of the rafters' top edges",
        rows,
        job.writing,
    )
}
