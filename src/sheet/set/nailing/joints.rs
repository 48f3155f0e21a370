//! The joints drawn from the model, with the nails at each.

use crate::deck::Piece;
use crate::frame::{Frame, Role, TieKind};
use crate::geom::{DVec2, DVec3, Solid};
use crate::measure::Length;
use crate::measure::quantity::{InInches, inches};
use crate::order::fasteners::{self, EDGE_DISTANCE_IN, PanelNailing, row_places};

use super::super::super::clash::add_mark;
use super::super::super::clip::clipped;
use super::super::super::dimensions::Dimensions;
use super::super::super::drawing::{Area, Drawing, Fill, Item, Pen, View};
use super::super::super::paper::{Flow, Job, Orientation, Page};
use super::super::super::projection::{Sight, Style, draw};
use super::super::{Kind, Matter};

/// A spot of a joint with a note, inches in from building line A and up from the plate.
struct Spot {
    at: DVec2,
    away: DVec2,
    words: String,
}

/// The drawings.
pub(super) fn pages(matter: &Matter<'_>, job: &Job, caution: &str) -> Vec<Page> {
    let title = format!("{}, joints", Kind::Nailing.title());
    let mut flow = Flow::new(job, &title, Orientation::Portrait, 1, caution);
    for joint in [ridge, collar, heel, panel] {
        flow.block(2, |flow| joint(matter, job, flow));
    }
    flow.finish()
}

/// Where the nails of a heel joint go.
pub(super) fn heel_in_words(matter: &Matter<'_>, job: &Job) -> String {
    let ties = &matter.frame.ties;
    let place = nails(matter, job, "heel joints").map(|_| {
        format!(
            "Heel joints: all through the contact of rafter and joist, {} long, where {} fit.",
            job.writing.length(ties.heel_lap),
            ties.nails_that_fit
        )
    });
    let tied_down = tied_down(matter, job).map(|words| format!("Not drawn, a {words}."));
    let tied_down = tied_down.unwrap_or_else(|| NO_TIE_DOWN.to_owned());
    place.into_iter().chain([tied_down]).collect::<Vec<_>>().join(" ")
}

/// `3 a rafter, toenailed, 10d common (Table ...)`, if the roof has nails of this joint.
fn nails(matter: &Matter<'_>, job: &Job, joint: &str) -> Option<String> {
    let list: Vec<String> = matter
        .nail_uses()
        .filter(|one| one.joint == joint)
        .map(|one| {
            let how = one.how.write(job.writing);
            format!("{} {how}, {}", fasteners::called(one.nail).write(job.writing), one.by)
        })
        .collect();
    (!list.is_empty()).then(|| format!("{joint}: {}", list.join("; ")))
}

/// The rafters' middle at a pair that has a stick of one of the roles beside it, otherwise at a pair
/// between the end walls.
fn station(frame: &Frame, roles: &[Role]) -> f64 {
    let with = frame
        .members
        .iter()
        .filter(|member| roles.contains(&member.role))
        .flat_map(|member| &member.placements)
        .map(|axis| axis.origin.x)
        .next();
    let inner = frame.pairs.iter().find(|pair| !pair.at_end);
    let pair = inner.or(frame.pairs.first());
    with.or_else(|| pair.map(|pair| pair.x_a)).unwrap_or(0.0)
}

/// The sticks at a station along the ridge: those no farther from it than `reach`, and all that run
/// along the ridge.
fn around(frame: &Frame, x: f64, reach: f64, roles: &[Role]) -> Vec<(Solid, Style)> {
    let mut list = Vec::new();
    for member in frame.members.iter().filter(|one| roles.contains(&one.role)) {
        for axis in &member.placements {
            let solid = member.placed(axis);
            let near = solid
                .extent(DVec3::X)
                .is_some_and(|(low, high)| low < x + reach && high > x - reach);
            if near {
                let pen = match member.role {
                    Role::CommonRafter
                    | Role::CeilingJoist
                    | Role::RafterTie
                    | Role::CollarTie
                    | Role::RidgeBoard => Pen::Outline,
                    _ => Pen::Context,
                };
                let fill = Fill::Paper;
                list.push((solid, Style { pen, fill }));
            }
        }
    }
    list
}

/// Draws a window of the frame, seen along the ridge, with its spots numbered and explained below.
fn joint(
    flow: &mut Flow<'_>,
    title: &str,
    solids: &[(Solid, Style)],
    window: Area,
    hatched: &[DVec2],
    spots: Vec<Spot>,
) {
    const AROUND: f64 = 0.3;
    let wide = flow.width();
    let room = Area::new(DVec2::ZERO, DVec2::new(wide, wide)).inside(AROUND);
    let fitted = View::fitting(window.low, window.high, room, flow.units());
    let tall = window.size().y * fitted.scale + 2.0 * AROUND;
    let view = View { origin: fitted.origin - DVec2::Y * (wide - tall) / 2.0, ..fitted };
    let mut whole = Drawing::new(wide, tall);
    draw(&mut whole, &view, Sight::ACROSS, solids);
    let rim = (view.place(window.low), view.place(window.high));
    let mut drawing = Drawing::new(wide, tall);
    for item in whole.items {
        drawing.items.extend(clipped(item, rim));
    }
    if hatched.len() > 2 {
        let ring = hatched.iter().map(|at| view.place(*at)).collect();
        let ring = Item::Line { points: ring, closed: true, pen: Pen::Accent, fill: Fill::Hatch };
        drawing.items.extend(clipped(ring, rim));
    }
    for (index, spot) in spots.iter().enumerate() {
        let number = u32::try_from(index + 1).unwrap_or(0);
        add_mark(&mut drawing, view.place(spot.at), spot.away, number);
    }
    flow.need(tall + 1.0);
    flow.head(title);
    flow.drawing(drawing);
    let scale = view.words(flow.units());
    flow.words(&format!("Scale {scale}, seen along the ridge."));
    for (index, spot) in spots.iter().enumerate() {
        flow.indented(&format!("({}) {}.", index + 1, spot.words), 0.22);
    }
}

fn heel(matter: &Matter<'_>, job: &Job, flow: &mut Flow<'_>) {
    let (frame, ties) = (matter.frame, &matter.frame.ties);
    let site = &frame.site;
    let x = station(
        frame,
        if ties.kind == TieKind::RafterTies { &[Role::RafterTie] } else { &[Role::CommonRafter] },
    );
    let reach = 2.5 * site.thick + 0.5;
    let solids = around(
        frame,
        x,
        reach,
        &[
            Role::CommonRafter,
            Role::CeilingJoist,
            Role::RafterTie,
            Role::Plate,
            Role::Subfascia,
            Role::Fascia,
        ],
    );
    let contact = &ties.heel_contact;
    let inner = contact.iter().map(|at| at.x).fold(site.plate, f64::max);
    let top = contact.iter().map(|at| at.y).fold(site.heel_stand, f64::max);
    let window = Area::new(
        DVec2::new(-(site.tail.max(2.0) + 3.0), -5.0),
        DVec2::new(inner + 5.0, (top + 2.5).max(site.roof_height(inner) + 1.0)),
    );
    let mut spots = Vec::new();
    let mut add = |at: DVec2, away: DVec2, words: Option<String>| {
        if let Some(words) = words {
            spots.push(Spot { at, away, words });
        }
    };
    let middle = contact.iter().copied().sum::<DVec2>() / contact.len().max(1) as f64;
    let lap = job.writing.length(ties.heel_lap);
    add(
        middle,
        DVec2::Y,
        nails(matter, job, "heel joints").map(|words| {
            format!(
                "{words}: all through the hatched contact, {lap} long, where {} fit",
                ties.nails_that_fit
            )
        }),
    );
    add(DVec2::new(site.seat * 0.25, 0.0), DVec2::NEG_X, nails(matter, job, "rafters to plates"));
    add(
        DVec2::new(site.plate, 0.0),
        DVec2::new(1.0, -0.4).normalize(),
        nails(matter, job, "ceiling joists to plates and bearing"),
    );
    add(
        DVec2::new(site.plate * 0.5, -0.75),
        DVec2::NEG_Y,
        nails(matter, job, "blocking to plates"),
    );
    add(DVec2::new(0.0, -1.5), DVec2::NEG_X, tied_down(matter, job));
    joint(flow, "Heel joint", &solids, window, contact, spots);
    if tied_down(matter, job).is_none() {
        flow.words(NO_TIE_DOWN);
    }
    for words in not_drawn(matter, job) {
        flow.words(&format!("Not drawn, {words}."));
    }
}

/// What is said where no tie-down is given.
const NO_TIE_DOWN: &str = "No tie-down is given: only the toenails hold the rafter against uplift. The finding about uplift says whether they do.";

/// The tie-downs, if they are given.
fn tied_down(matter: &Matter<'_>, job: &Job) -> Option<String> {
    let rated = matter.book.checks.tie_down_lb.filter(|rated| *rated > 0.0)?;
    Some(format!(
        "tie-down rated for {} uplift, one at each rafter, nailed as its maker asks",
        job.writing.pounds(rated, 0)
    ))
}

/// Nails of the heel that no drawing shows.
fn not_drawn(matter: &Matter<'_>, job: &Job) -> Vec<String> {
    let joints = ["joists over the bearing", "splice pieces, second side"];
    joints.into_iter().filter_map(|joint| nails(matter, job, joint)).collect()
}

fn ridge(matter: &Matter<'_>, job: &Job, flow: &mut Flow<'_>) {
    let frame = matter.frame;
    let site = &frame.site;
    let x = station(frame, &[Role::CommonRafter]);
    let solids = around(frame, x, 2.5 * site.thick + 0.5, &[Role::CommonRafter, Role::RidgeBoard]);
    let bottom = frame.ridge_bottom().inches();
    let apex = site.roof_height(site.run);
    let half = ((apex - bottom) * 1.3).max(10.0);
    let window = Area::new(
        DVec2::new(site.run - half, bottom - 2.0),
        DVec2::new(site.run + half, apex + 1.5),
    );
    let mut spots = Vec::new();
    let mut add = |at: DVec2, away: DVec2, words: Option<String>| {
        if let Some(words) = words {
            spots.push(Spot { at, away, words });
        }
    };
    let face = site.run - site.half_ridge;
    let on_top = site.roof_height(face);
    add(
        DVec2::new(face, on_top - site.depth * site.secant * 0.6),
        DVec2::new(-1.0, -0.5).normalize(),
        nails(matter, job, "rafters to ridge board"),
    );
    add(
        DVec2::new(site.run, apex),
        DVec2::new(1.0, 0.4).normalize(),
        nails(matter, job, "ridge straps"),
    );
    if site.half_ridge <= 0.0 {
        add(
            DVec2::new(site.run, apex - site.depth * site.secant * 0.5),
            DVec2::NEG_X,
            Some(
                "rafters butt: a gusset plate joins each pair; its plate and nails are designed, not counted here"
                    .into(),
            ),
        );
    }
    joint(flow, "Ridge joint", &solids, window, &[], spots);
}

fn collar(matter: &Matter<'_>, job: &Job, flow: &mut Flow<'_>) {
    let frame = matter.frame;
    let (site, ties) = (&frame.site, &frame.ties);
    let Some(words) = nails(matter, job, "collar ties to rafters").filter(|_| ties.collars > 0)
    else {
        return;
    };
    let x = station(frame, &[Role::CollarTie]);
    let solids = around(frame, x, 2.5 * site.thick + 0.5, &[Role::CommonRafter, Role::CollarTie]);
    let depth = frame.plan.collar.depth_in();
    let bottom = ties.collar_height.inches();
    // where the collar tie's middle line meets the rafter's middle line
    let level = bottom + depth / 2.0;
    let y = (level - site.heel_stand + site.depth * site.secant / 2.0) / site.tangent;
    let half = (site.depth * site.secant).max(depth) + 3.0;
    let center = DVec2::new(y, level);
    let window =
        Area::new(center - DVec2::new(half * 1.3, half), center + DVec2::new(half * 1.7, half));
    let spots = vec![
        Spot { at: center, away: DVec2::new(-0.3, 1.0).normalize(), words },
        Spot {
            at: DVec2::new(y + half, bottom),
            away: DVec2::NEG_Y,
            words: format!(
                "bottom of the collar tie {} above the plate; {} in all",
                job.writing.length(ties.collar_height),
                ties.collars
            ),
        },
    ];
    joint(flow, "Collar tie", &solids, window, &[], spots);
}

/// The nails of one piece of panel: a row along each end and one over each rafter between.
fn panel_nails(centers: &[f64], piece: &Piece, nailing: &PanelNailing) -> Vec<DVec2> {
    let long = piece.width.in_inches();
    let row = |x: f64, spacing: Length| {
        let places = row_places(piece.height.length(), spacing);
        places.into_iter().map(move |y| DVec2::new(x, y.inches()))
    };
    let ends = [EDGE_DISTANCE_IN, long - EDGE_DISTANCE_IN];
    ends.into_iter()
        .flat_map(|x| row(x, nailing.edge))
        .chain(centers.iter().flat_map(|x| row(*x, nailing.field)))
        .collect()
}

pub(super) fn panel(matter: &Matter<'_>, job: &Job, flow: &mut Flow<'_>) {
    let building = matter.order.first();
    let nailing = &building.panel_nailing;
    // the largest piece shows most
    let Some(piece) = matter
        .laid
        .1
        .pieces
        .iter()
        .max_by_key(|piece| (piece.spans, piece.width.count() * piece.height.count()))
    else {
        return;
    };
    let left = piece.x.in_inches();
    let long = piece.width.in_inches();
    let centers: Vec<f64> = matter.laid.1.planes[piece.plane]
        .centers
        .iter()
        .map(|center| center.in_inches() - left)
        .filter(|x| *x > 1.5 && *x < long - 1.5)
        .collect();
    let tall = piece.height.in_inches();
    let wide = flow.width();
    let area = Area::new(DVec2::new(0.1, 0.0), DVec2::new(wide - 0.75, wide));
    let fitted = View::fitting(DVec2::ZERO, DVec2::new(long, tall), area, flow.units());
    let view = View { origin: DVec2::new(0.1, 0.5), ..fitted };
    let mut drawing = Drawing::new(wide, tall * view.scale + 0.55);
    let at = |x: f64, y: f64| view.place(DVec2::new(x, y));
    drawing.outline(
        vec![at(0.0, 0.0), at(long, 0.0), at(long, tall), at(0.0, tall)],
        Pen::Outline,
        Fill::None,
    );
    for x in &centers {
        drawing.line(vec![at(*x, 0.0), at(*x, tall)], Pen::Dashed);
    }
    for nail in panel_nails(&centers, piece, nailing) {
        drawing.items.push(Item::Arc {
            center: view.place(nail),
            radius: 0.016,
            from: 0.0,
            to: 360.0,
            pen: Pen::Context,
        });
    }
    let length = |value: f64| job.writing.length(inches(value));
    if let (Some(first), Some(next)) = (centers.first(), centers.get(1)) {
        let mut row = Dimensions::new(-DVec2::Y, -(at(0.0, 0.0).y - 0.25));
        row.add(at(*first, 0.0), at(*next, 0.0), length(next - first));
        row.draw(&mut drawing);
    }
    flow.need(drawing.height + 1.2);
    flow.head("Panels");
    flow.drawing(drawing);
    flow.words(&format!(
        "Scale {}: a piece of {} x {}; rings are nails, dashed lines rafter centers.",
        view.words(job.writing.units),
        job.writing.length(piece.height.length()),
        job.writing.length(piece.width.length())
    ));
    flow.words(&format!(
        "{} nails at most {} apart along panel ends and edges that bear, at most {} over the rafters between, {} from the edges \
         (common practice); {}.",
        nailing.nail,
        job.writing.length(nailing.edge),
        job.writing.length(nailing.field),
        length(EDGE_DISTANCE_IN),
        nailing.basis
    ));
    if let Some(zone) = matter.book.checks.nail_zone {
        flow.words(&format!(
            "Near eaves, ridge and rakes: at most {} apart; the spacing between is counted like this all over.",
            job.writing.length(zone)
        ));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::deck::{DeckAsk, Watch, lay};
    use crate::order::fasteners::of_deck;

    #[test]
    fn as_many_nails_are_drawn_as_are_counted() {
        let ask = DeckAsk::rectangles(1, inches(96.0), inches(48.0), inches(24.0));
        let deck = lay(&ask, &Watch::none()).unwrap();
        let nailing = PanelNailing {
            edge: inches(6.0),
            field: inches(12.0),
            nail: "8d common",
            basis: String::new(),
        };
        let drawn = panel_nails(&[24.0, 48.0, 72.0], &deck.pieces[0], &nailing);
        // two ends with 9 nails, three rafters between with 5
        assert_eq!(drawn.len(), 2 * 9 + 3 * 5);
        assert_eq!(drawn.len() as u64, of_deck(&deck, &nailing).count);
    }
}
