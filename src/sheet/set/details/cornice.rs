//! The boards that close the eave: fascia, sub-fascia, soffit, and the edge of the roof sheathing.

use crate::catalog::code_rules::RuleId;
use crate::frame::eave::Spot;
use crate::frame::{EaveSide, Role};
use crate::geom::DVec2;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::{HAIR, LAST_BITS};
use crate::plan::TailCut;
use crate::sheet::drawing::{Fill, Pen};
use crate::sheet::set::Kind;

use super::scene::{Rim, Scene};
use super::show::Show;

/// Top and bottom of the fascia's outer face; `None` without a fascia.
pub(super) fn fascia_ring(show: &Show<'_>) -> Option<[DVec2; 2]> {
    let eave = show.matter.eave;
    let plan = &eave.rafter.plan;
    if plan.fascia <= inches(0.0) {
        return None;
    }
    let site = &show.matter.frame.site;
    let depth = eave.rafter.fascia_depth(eave.plan.soffit).inches();
    let down = if plan.tail == TailCut::Square {
        DVec2::new(site.tangent, -1.0) / site.secant
    } else {
        -DVec2::Y
    };
    let top = spot(&eave.fascia_top);
    Some([top, top + down * depth])
}

pub(super) fn spot(spot: &Spot) -> DVec2 {
    DVec2::new(-spot.out.inches(), spot.above_plate.inches())
}

pub(super) fn soffit(show: &Show<'_>, scene: &mut Scene) {
    let eave = show.matter.eave;
    let soffit = eave.plan.soffit.inches();
    let width = eave.soffit_width.inches();
    let under = eave.soffit.inches();
    let finish = eave.rafter.plan.finish.inches();
    let framed = [Role::SoffitLookout, Role::SoffitLedger]
        .into_iter()
        .filter_map(|role| show.named(role))
        .collect::<Vec<_>>();
    if soffit <= 0.0 || width <= 0.0 {
        return;
    }
    scene.rectangle(
        DVec2::new(-finish - width, under),
        DVec2::new(-finish, under + soffit),
        Pen::Outline,
        Fill::Paper,
    );
    scene.rectangle(
        DVec2::new(-finish - width, under),
        DVec2::new(-finish, under + soffit),
        Pen::Context,
        Fill::Tint,
    );
    let head = eave.over_window_head.map_or(String::new(), |over| {
        if over < inches(0.0) {
            format!("; it hangs {} BELOW the window head", show.length(-over))
        } else {
            format!("; {} over the window head", show.length(over))
        }
    });
    let plate = if eave.soffit < inches(0.0) {
        format!("{} below the plate", show.length(-eave.soffit))
    } else {
        format!("{} above the plate", show.length(eave.soffit))
    };
    scene.note(
        DVec2::new(-finish - width * 0.45, under + soffit / 2.0),
        format!(
            "soffit {}, {} wide; underside {plate}, {} above the floor{head}",
            show.inches(soffit),
            show.inches(width),
            show.length(eave.above_floor(eave.soffit))
        ),
    );
    if !framed.is_empty() {
        let lift = if show.members(Role::SoffitLedger).next().is_some() { 1.0 } else { 1.75 };
        scene.note(DVec2::new(-finish - 1.0, under + soffit + lift), framed.join("; "));
    }
}

pub(super) fn deck(show: &Show<'_>, scene: &mut Scene) {
    let ring = show.deck_ring(EaveSide::A);
    let [low, _, _, top] = ring[..] else { return };
    let up = (ring[1] - low).normalize_or_zero();
    show.deck(EaveSide::A, &mut scene.work);
    let past = show.matter.laid.0.ask.past_tail;
    let ends = if show.matter.eave.rafter.plan.fascia > inches(0.0) {
        "the fascia's outer face"
    } else {
        "the tail cut"
    };
    let along = if past.inches().abs() < LAST_BITS { "" } else { ", along the slope" };
    let edge = format!("{}{along}", show.deck_edge(past, ends));
    scene.note((low + top) / 2.0 + up * 3.2, format!("{}, {edge}", show.deck_words()));
    if show.matter.plan.checks.drip_edge == Some(true) {
        // only its place, as a line; its sizes are the rule's
        let over = (top - low).normalize_or_zero() * 0.12;
        let out = -up * 0.12;
        scene.work.line(
            vec![top + over + up * 2.0, top + over + out, low + out - DVec2::Y * 0.25],
            Pen::Accent,
        );
        let told = show.finding(RuleId::DripEdgeLap).map_or(String::new(), |found| {
            format!(": {}{}", found.noted(show.job.writing), show.section(found))
        });
        scene.note(top + over + up * 0.8, format!("drip edge{told}"));
    }
}

pub(super) fn boards(show: &Show<'_>, scene: &mut Scene) {
    let eave = show.matter.eave;
    let plan = &eave.rafter.plan;
    if plan.subfascia > inches(0.0) {
        let top = spot(&eave.tail_top);
        let depth = eave.rafter.subfascia_depth().inches();
        let down = (spot(&eave.tail_foot) - top).normalize_or_zero();
        let middle = top + DVec2::new(-plan.subfascia.inches() / 2.0, 0.0) + down * depth * 0.7;
        scene.note(
            middle,
            format!(
                "{}{}{}",
                show.named(Role::Subfascia).unwrap_or_default(),
                dropped(show, eave.subfascia_drop.inches()),
                show.nails("sub-fascia").map_or(String::new(), |nails| format!("; nails {nails}"))
            ),
        );
    }
    let Some([top, foot]) = fascia_ring(show) else {
        return;
    };
    let down = (foot - top).normalize_or_zero();
    let inner = DVec2::new(-down.y, down.x).normalize_or_zero() * plan.fascia.inches() / 2.0;
    let nails =
        show.nails("fascia, galvanized").map_or(String::new(), |nails| format!("; nails {nails}"));
    scene.note(
        (top + foot) / 2.0 + inner,
        format!(
            "{}{}{nails}",
            show.named(Role::Fascia).unwrap_or_default(),
            dropped(show, eave.fascia_drop.inches())
        ),
    );
    let aside = -inner.normalize_or_zero() * 0.7;
    let least = format!("at least {} covers tail and soffit", show.length(eave.least_fascia_depth));
    let least = match (eave.fascia_falls_short(), show.with.contains(&Kind::Walk)) {
        (true, _) => format!(", FALLS SHORT; {least}"),
        (false, true) => String::new(),
        (false, false) => format!("; {least}"),
    };
    let deep = show.length(eave.rafter.fascia_depth(eave.plan.soffit));
    scene.measure(top + aside, foot + aside, format!("fascia {deep} deep{least}"));
    if eave.fascia_drop > inches(HAIR) {
        scene.span(
            Rim::Left,
            spot(&eave.tail_top),
            top,
            format!("drop {}", show.length(eave.fascia_drop)),
        );
    }
    scene.span(
        Rim::Bottom,
        top,
        DVec2::ZERO,
        format!("{} fascia to framing", show.length(eave.fascia_top.out)),
    );
    if plan.finish > inches(0.0) && eave.fascia_from_finish > inches(0.0) {
        scene.span(
            Rim::Bottom,
            top,
            DVec2::new(-plan.finish.inches(), -4.0),
            format!("{} to finish", show.length(eave.fascia_from_finish)),
        );
    }
}

/// How far a board's top is below the tail's top corner, in words.
fn dropped(show: &Show<'_>, drop: f64) -> String {
    if drop > HAIR {
        format!(", square top edge {} below the tail's top corner", show.inches(drop))
    } else {
        ", top edge in the roof plane".to_owned()
    }
}
