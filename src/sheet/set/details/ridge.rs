//! The ridge, cut across beside a pair of rafters.

use crate::catalog::code_rules::RuleId;
use crate::frame::{EaveSide, Role};
use crate::geom::DVec2;
use crate::measure::quantity::{InInches, in_degrees, inches};
use crate::measure::tolerance::{HAIR, LAST_BITS};
use crate::measure::trim;
use crate::sheet::callout::Detail;
use crate::sheet::drawing::{Area, Pen};
use crate::sheet::paper::Page;
use crate::sheet::set::Kind;

use super::scene::{Rim, Scene, Windows};
use super::show::{CAUTION, Show};

pub(super) fn pages(show: &Show<'_>) -> Vec<Page> {
    let frame = show.matter.frame;
    let site = &frame.site;
    let thick = show.deck_thickness().inches() * site.secant;
    let apex = frame.rafter.apex.inches();
    let plumb_foot = (frame.rafter.ridge_top - frame.rafter.plumb_height).inches();
    let low = frame.ridge_bottom().inches().min(plumb_foot);
    let window = |aside: f64, below: f64| {
        Area::new(
            DVec2::new(site.run - aside, low - below),
            DVec2::new(site.run + aside, apex + thick + 0.8),
        )
    };
    let reach = site.half_ridge + show.matter.laid.0.ask.ridge_slot.inches() + 2.2;
    let windows =
        Windows { least: window(reach, 0.8), most: window((reach + 9.0).min(site.run), 5.0) };
    scene(show).pages(show.job, Kind::Details.title(), CAUTION, windows, &[])
}

fn scene(show: &Show<'_>) -> Scene {
    let frame = show.matter.frame;
    let site = &frame.site;
    let rafter = &frame.rafter;
    let (pair, x) = show.shown_pair();
    let mut scene =
        Scene::new(Detail::Ridge.head("Ridge, cut square to the ridge beside a pair of rafters"));
    show.slice_across(&pair, x, &mut scene.work);
    for eave in EaveSide::BOTH {
        show.deck(eave, &mut scene.work);
    }
    let (top, apex) = (rafter.ridge_top.inches(), rafter.apex.inches());
    let half = site.half_ridge;
    let name =
        show.named(Role::CommonRafter).or_else(|| show.named(Role::EndRafter)).unwrap_or_default();
    let miter =
        rafter.cuts.iter().find(|cut| cut.name == "ridge plumb cut").map_or(String::new(), |cut| {
            format!(
                ", ridge plumb cut {} deg off square, bevel {} deg",
                trim(in_degrees(cut.saw.miter), 2),
                trim(in_degrees(cut.saw.bevel), 2)
            )
        });
    let out = half + 2.2;
    scene.note(
        DVec2::new(
            site.run - out,
            site.roof_height(site.run - out) - site.depth * site.secant * 0.4,
        ),
        format!("{name}{miter}"),
    );
    let plumb = rafter.plumb_height.inches();
    let face = site.run - half;
    scene.measure(
        DVec2::new(face - 0.5, top - 0.5 * site.tangent - plumb),
        DVec2::new(face - 0.5, top - 0.5 * site.tangent),
        format!("plumb cut {} long", show.length(rafter.plumb_height)),
    );
    if half > 0.0 {
        board(show, &mut scene);
    } else {
        scene.note(
            DVec2::new(site.run, apex - plumb * 0.5),
            format!(
                "no ridge board: the rafters butt and need gusset plates{}; peak {} above the plate, {} above the floor",
                show.finding(RuleId::RafterGussetOption)
                    .map_or(String::new(), |found| show.section(found)),
                show.length(rafter.apex),
                show.length(frame.plan.wall_height + rafter.apex)
            ),
        );
    }
    slot(show, &mut scene);
    held(show, &mut scene);
    scene
}

/// Words that say a height above the plate; the section has it too, if the set has that.
fn at_height(show: &Show<'_>, words: impl Fn(&str) -> String) -> String {
    if show.with.contains(&Kind::Section) { String::new() } else { words("above the plate") }
}

fn board(show: &Show<'_>, scene: &mut Scene) {
    let frame = show.matter.frame;
    let site = &frame.site;
    let rafter = &frame.rafter;
    let (top, bottom) = (rafter.ridge_top.inches(), frame.ridge_bottom().inches());
    let half = site.half_ridge;
    let apex = rafter.apex.inches();
    scene.span(
        Rim::Bottom,
        DVec2::new(site.run - half, bottom),
        DVec2::new(site.run + half, bottom),
        format!("{} thick", show.inches(2.0 * half)),
    );
    scene.span(
        Rim::Right,
        DVec2::new(site.run + half, bottom),
        DVec2::new(site.run + half, top),
        format!("{} deep", show.inches(site.ridge_depth)),
    );
    scene.note(
        DVec2::new(site.run + half * 0.3, bottom + site.ridge_depth * 0.3),
        format!(
            "{}{}; bottom {} above the plate, {} above the floor{}",
            show.named(Role::RidgeBoard).unwrap_or_default(),
            show.limit(RuleId::RidgeBoardDepth),
            show.length(frame.ridge_bottom()),
            show.length(frame.ridge_post()),
            show.nails("rafters to ridge board")
                .map_or(String::new(), |nails| format!("; rafter to ridge {nails}"))
        ),
    );
    scene.note(
        DVec2::new(site.run - half, top),
        format!(
            "top edge square, flush with the rafters' top edges at its faces{}; no bevel",
            at_height(show, |above| {
                let over_floor = show.length(frame.plan.wall_height + rafter.ridge_top);
                format!(": {} {above}, {over_floor} above the floor", show.length(rafter.ridge_top))
            })
        ),
    );
    scene.measure(
        DVec2::new(site.run, top),
        DVec2::new(site.run, apex),
        format!(
            "the roof planes meet {} over the board{}",
            show.length(rafter.apex - rafter.ridge_top),
            at_height(show, |above| format!(", {} {above}", show.length(rafter.apex)))
        ),
    );
    let spare = rafter.ridge_depth() - rafter.plumb_height;
    if spare.inches().abs() > HAIR {
        let x = site.run + half + 0.5;
        let words = if spare > inches(0.0) {
            format!("the board reaches {} below the plumb cut", show.length(spare))
        } else {
            format!("the plumb cut reaches {} BELOW the board", show.length(-spare))
        };
        scene.measure(
            DVec2::new(x, bottom),
            DVec2::new(x, top - rafter.plumb_height.inches()),
            words,
        );
    }
}

fn slot(show: &Show<'_>, scene: &mut Scene) {
    let site = &show.matter.frame.site;
    let ring = show.deck_ring(EaveSide::B);
    let slot = show.matter.laid.0.ask.ridge_slot;
    let up = DVec2::new(-1.0, site.tangent) / site.secant;
    let apex = DVec2::new(site.run, site.roof_height(site.run));
    let thick = show.deck_thickness().inches();
    let aside = DVec2::new(site.tangent, 1.0) / site.secant * thick / 2.0;
    let out = slot.inches() + 1.5;
    scene.note(apex - up * out + aside, show.deck_words());
    if ring.is_empty() || slot <= inches(LAST_BITS) {
        scene.note(
            apex + DVec2::Y * thick * site.secant * 0.5,
            "the sheets of both planes meet over the ridge: no vent slot",
        );
        return;
    }
    let edge = apex - up * slot.inches();
    scene.measure(
        edge,
        apex,
        format!(
            "vent slot: sheathing stops {} short of the ridge's center, along the slope, on each plane",
            show.length(slot)
        ),
    );
}

/// What holds the rafters together over the ridge: collar ties or straps.
fn held(show: &Show<'_>, scene: &mut Scene) {
    let frame = show.matter.frame;
    let site = &frame.site;
    let rafter = &frame.rafter;
    let mut words = Vec::new();
    if let Some(name) = show.named(Role::CollarTie) {
        words.push(format!(
            "farther down, {name}, {} of them, bottom {} above the plate{}{}",
            frame.ties.collars,
            show.length(frame.ties.collar_height),
            show.limit(RuleId::CollarTieLocation),
            show.nails("collar ties to rafters")
                .map_or(String::new(), |nails| format!("; nails {nails}"))
        ));
    }
    if show.matter.plan.checks.straps == Some(true) {
        let note = show
            .matter
            .findings
            .iter()
            .find(|found| found.title == "collar ties or ridge straps")
            .map_or(String::new(), |found| {
                format!(": {}{}", found.noted(show.job.writing), show.section(found))
            });
        scene.note(
            DVec2::new(site.run + 2.5, site.roof_height(site.run - 2.5) + 0.05),
            format!("straps over the ridge at every pair{note}"),
        );
        let reach = 4.0;
        let strap: Vec<DVec2> = [-reach, 0.0, reach]
            .into_iter()
            .map(|y| DVec2::new(site.run + y, site.roof_height(site.run - f64::abs(y)) + 0.05))
            .collect();
        scene.work.line(strap, Pen::Accent);
    }
    if words.is_empty() && show.matter.plan.checks.straps != Some(true) {
        words.push(
            "neither collar ties nor straps are framed: the inspection walk says what the ridge needs"
                .to_owned(),
        );
    }
    if words.is_empty() {
        return;
    }
    let y = site.half_ridge + 1.2;
    scene.note(
        DVec2::new(
            site.run + y,
            site.roof_height(site.run - y) - rafter.plumb_height.inches() * 0.8,
        ),
        words.join("; "),
    );
}
