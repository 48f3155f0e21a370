//! The eave, cut across the ridge beside a rafter.

use crate::catalog::code_rules::RuleId;
use crate::frame::{EaveSide, Role};
use crate::geom::DVec2;
use crate::measure::quantity::{InInches, in_degrees};
use crate::measure::tolerance::HAIR;
use crate::measure::trim;
use crate::sheet::callout::Detail;
use crate::sheet::drawing::Area;
use crate::sheet::paper::Page;
use crate::sheet::set::Kind;

use super::cornice::{self, fascia_ring, spot};
use super::plate;
use super::scene::{Rim, Scene, Windows};
use super::show::{CAUTION, Show};

pub(super) fn pages(show: &Show<'_>) -> Vec<Page> {
    let scene = scene(show);
    let (whole, tail, heel) = windows(show);
    scene.pages(show.job, Kind::Details.title(), CAUTION, whole, &[("tail", tail), ("heel", heel)])
}

/// Outermost point of boards or roof sheathing, as y, and lowest point of tail, boards and soffit, as z: inches of work.
fn outermost_and_lowest(show: &Show<'_>) -> (f64, f64) {
    let eave = show.matter.eave;
    let deck = show.deck_ring(EaveSide::A);
    let boards: Vec<DVec2> = fascia_ring(show).into_iter().flatten().collect();
    let tail = -show.matter.frame.site.tail;
    let outer = deck.iter().chain(&boards).map(|point| point.x).fold(tail, f64::min);
    let lowest = boards
        .iter()
        .map(|point| point.y)
        .fold(eave.soffit.inches(), f64::min)
        .min(eave.tail_foot.above_plate.inches());
    (outer, lowest)
}

/// How far a window of the detail reaches past its contents, inches of work: at least, and at most if
/// the paper has room.
struct Past {
    least: f64,
    most: f64,
}

/// Outside of the boards, or of the roof sheathing if that reaches farther.
const OUTSIDE: Past = Past { least: 1.2, most: 2.5 };
/// Below the lowest point of the tail and what closes it.
const BELOW_TAIL: Past = Past { least: 1.5, most: 4.0 };
/// Outside of the building line, of the heel.
const OUTSIDE_HEEL: Past = Past { least: 3.0, most: 6.0 };
/// Below the plate's top, of the heel.
const BELOW_HEEL: Past = Past { least: 4.6, most: 8.0 };

/// Of the wall under the plate, at least.
const WALL_SHOWN: f64 = 5.0;
/// Of the wall under the lowest point of the eave.
const UNDER_LOWEST: f64 = 2.0;
/// How much more of the wall to show if the paper has room.
const MORE_WALL: f64 = 5.0;
/// Inside of the plate.
const INSIDE: f64 = 2.0;
/// How much farther inside to show if the paper has room: for the whole eave, and for the heel.
const MORE_INSIDE: [f64; 2] = [14.0, 8.0];
/// Above the roof sheathing.
const ABOVE: f64 = 0.8;
/// Above the tail's top corner and the sheathing over it.
const ABOVE_TAIL: f64 = 2.0;
/// The tail's window ends this far outside the building line, so that the marks of the heel stay out of
/// it.
const SHORT_OF_HEEL: f64 = 0.05;
/// Of a tail that ends inside of the building line.
const PAST_SHORT_TAIL: f64 = 1.0;
/// The heel's window goes at least up to the roof over this distance inside the building line.
const HEEL_SHOWN: f64 = 0.3;

/// The whole eave, its tail and its heel.
fn windows(show: &Show<'_>) -> (Windows, Windows, Windows) {
    let site = &show.matter.frame.site;
    let eave = show.matter.eave;
    let (outer, lowest) = outermost_and_lowest(show);
    let over = show.deck_thickness().inches() * site.secant + ABOVE;
    let roof = |y: f64| DVec2::new(y, site.roof_height(y) + over);
    let inner = eave.rafter.plan.plate.inches() + INSIDE;
    let [more_of_eave, more_of_heel] = MORE_INSIDE;
    let wall = (lowest - UNDER_LOWEST).min(-WALL_SHOWN);
    let whole = Windows {
        least: Area::new(DVec2::new(outer - OUTSIDE.least, wall), roof(inner)),
        most: Area::new(
            DVec2::new(outer - OUTSIDE.most, wall - MORE_WALL),
            roof(inner + more_of_eave),
        ),
    };
    let tail_inner = if site.tail > 0.0 { -SHORT_OF_HEEL } else { -site.tail + PAST_SHORT_TAIL };
    let tail_top = eave.tail_top.above_plate.inches() + over + ABOVE_TAIL;
    let tail = Windows {
        least: Area::new(
            DVec2::new(outer - OUTSIDE.least, lowest - BELOW_TAIL.least),
            DVec2::new(tail_inner, tail_top),
        ),
        most: Area::new(
            DVec2::new(outer - OUTSIDE.most, lowest - BELOW_TAIL.most),
            roof(tail_inner),
        ),
    };
    let heel_low = |past: fn(&Past) -> f64| -DVec2::new(past(&OUTSIDE_HEEL), past(&BELOW_HEEL));
    let heel = Windows {
        least: Area::new(heel_low(|past| past.least), DVec2::new(inner, roof(HEEL_SHOWN).y)),
        most: Area::new(heel_low(|past| past.most), roof(inner + more_of_heel)),
    };
    (whole, tail, heel)
}

fn scene(show: &Show<'_>) -> Scene {
    let (pair, x) = show.shown_pair();
    let title = format!(
        "Eave, cut square to the wall beside rafter {}",
        show.marks(Role::CommonRafter).or_else(|| show.marks(Role::EndRafter)).unwrap_or_default()
    );
    let mut scene = Scene::new(Detail::Eave.head(&title));
    plate::wall(show, &mut scene);
    show.slice_across(&pair, x, &mut scene.work);
    plate::insulation(show, &mut scene);
    cornice::soffit(show, &mut scene);
    cornice::deck(show, &mut scene);
    rafter(show, &mut scene);
    heel(show, &mut scene);
    cornice::boards(show, &mut scene);
    plate::blocking(show, &mut scene);
    plate::joist(show, &mut scene);
    scene
}

fn rafter(show: &Show<'_>, scene: &mut Scene) {
    let frame = show.matter.frame;
    let site = &frame.site;
    let eave = show.matter.eave;
    let rafter = &eave.rafter;
    let middle = |y: f64| DVec2::new(y, site.roof_height(y) - site.depth * site.secant / 2.0);
    scene.note(
        middle(site.plate + 1.0),
        format!(
            "{}, {}",
            show.named(Role::CommonRafter)
                .or_else(|| show.named(Role::EndRafter))
                .unwrap_or_default(),
            show.job.writing.rise_in_12(rafter.plan.pitch.unit_rise(), 4)
        ),
    );
    let reach = eave.tail_top.out.inches();
    if reach <= 0.0 {
        return;
    }
    let cuts: Vec<String> = rafter
        .cuts
        .iter()
        .filter(|cut| cut.name.starts_with("tail") || cut.name.starts_with("soffit"))
        .map(|cut| {
            format!(
                "{} {} long, miter {} deg",
                cut.name,
                show.length(cut.length),
                trim(in_degrees(cut.saw.miter), 2)
            )
        })
        .collect();
    let (top, foot) = (spot(&eave.tail_top), spot(&eave.tail_foot));
    scene.note(top + (foot - top) * 0.62, cuts.join("; "));
    scene.span(
        Rim::Bottom,
        DVec2::new(-reach, foot.y),
        DVec2::new(0.0, 0.0),
        format!("{} framing to tail cut", show.length(eave.tail_top.out)),
    );
}

fn heel(show: &Show<'_>, scene: &mut Scene) {
    let frame = show.matter.frame;
    let site = &frame.site;
    let rafter = &show.matter.eave.rafter;
    let plate = rafter.plan.plate.inches();
    let off = DVec2::new(-site.tangent, 1.0) / site.secant;
    let stand = rafter.heel_stand.inches();
    scene.measure(
        DVec2::ZERO,
        DVec2::new(0.0, stand),
        format!("heel stand {}, plumb over the building line", show.length(rafter.heel_stand)),
    );
    let heel = rafter.heel_plumb.inches();
    if heel > HAIR {
        scene.measure(
            DVec2::ZERO,
            DVec2::new(0.0, -heel),
            format!("heel cut {}", show.length(rafter.heel_plumb)),
        );
    }
    let notch = rafter.notch_depth.inches();
    scene.measure(
        DVec2::ZERO,
        -off * notch,
        format!(
            "birdsmouth {} deep, square to the edge{}",
            show.length(rafter.notch_depth),
            show.limit(RuleId::NotchEnd)
        ),
    );
    if (rafter.remaining.inches() + notch - site.depth).abs() < HAIR {
        scene.measure(
            DVec2::ZERO,
            off * (site.depth - notch),
            format!(
                "{} of wood left over it{}",
                show.length(rafter.remaining),
                show.limit(RuleId::TailNotchRemaining)
            ),
        );
    }
    scene.span(
        Rim::Bottom,
        DVec2::ZERO,
        DVec2::new(site.seat, 0.0),
        format!("{} seat", show.inches(site.seat)),
    );
    scene.note(
        DVec2::new(site.seat.min(plate) * 0.6, 0.0),
        format!("bearing {}{}", show.length(rafter.bearing), show.limit(RuleId::BearingWood)),
    );
}
