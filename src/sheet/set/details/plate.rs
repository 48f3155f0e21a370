//! The wall at the eave, and everything between the rafters over its plate.

use crate::catalog::code_rules::RuleId;
use crate::frame::Role;
use crate::geom::DVec2;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::{HAIR, LAST_BITS};
use crate::plan::{Blocking, Joists};
use crate::sheet::drawing::{Fill, Pen};

use super::scene::Scene;
use super::show::{PLATE_IN, Show};

/// Height of the wall below the plate's top, inches of work: farther down than any window shows.
const WALL_IN: f64 = 200.0;
/// Below the plate's top, where the words on sheathing and finish point: between studs and windows'
/// lower edges.
const LAYERS_IN: f64 = 4.2;

/// The wall under the top plate: the second plate, studs, sheathing and finish.
pub(super) fn wall(show: &Show<'_>, scene: &mut Scene) {
    let plan = &show.matter.frame.plan;
    let (plate, finish) = (plan.rafter.plate.inches(), plan.rafter.finish.inches());
    let sheathing = plan.sheathing.inches();
    scene.rectangle(
        DVec2::new(0.0, -2.0 * PLATE_IN),
        DVec2::new(plate, -PLATE_IN),
        Pen::Outline,
        Fill::Hatch,
    );
    scene.rectangle(
        DVec2::new(0.0, -WALL_IN),
        DVec2::new(plate, -2.0 * PLATE_IN),
        Pen::Context,
        Fill::None,
    );
    // the outside of the wall ends under the rafter's bottom edge, or at the soffit cut
    let site = &show.matter.frame.site;
    let under = |y: f64| ((y - site.seat) * site.tangent).min(0.0);
    let mut layers = vec![(0.0, sheathing)];
    if finish > sheathing + LAST_BITS {
        layers.push((sheathing, finish));
    }
    for (near, far) in layers {
        if far > near {
            scene.work.outline(
                vec![
                    DVec2::new(-far, -WALL_IN),
                    DVec2::new(-near, -WALL_IN),
                    DVec2::new(-near, under(-near)),
                    DVec2::new(-far, under(-far)),
                ],
                Pen::Context,
                Fill::None,
            );
        }
    }
    let mut words = Vec::new();
    if sheathing > 0.0 {
        words.push(format!("wall sheathing {}", show.inches(sheathing)));
    }
    if finish > 0.0 {
        words.push(format!("{} in all from framing to finished face", show.inches(finish)));
    }
    if !words.is_empty() {
        scene.note(DVec2::new(-finish.max(sheathing) / 2.0, -LAYERS_IN), words.join("; "));
    }
    let plate_mark = show
        .marks(Role::Plate)
        .map_or(String::new(), |marks| format!(", the top one {marks}: its top is height 0"));
    let nails = show
        .nails("rafters to plates")
        .map_or(String::new(), |nails| format!("; rafter to plate {nails}"));
    scene.note(
        DVec2::new(plate * 0.75, -PLATE_IN),
        format!(
            "double plate {} wide{plate_mark}, {} above the floor{nails}",
            show.inches(plate),
            show.length(plan.wall_height)
        ),
    );
}

pub(super) fn insulation(show: &Show<'_>, scene: &mut Scene) {
    let checks = &show.matter.plan.checks;
    let frame = show.matter.frame;
    let site = &frame.site;
    // without ceiling joists there is no attic floor for it
    let (Some(depth), false) = (checks.insulation, frame.plan.joists == Joists::None) else {
        return;
    };
    let air = show.finding(RuleId::VentAirGap).and_then(|found| found.limit).unwrap_or(0.0);
    let ceiling =
        if frame.plan.joists == Joists::Beside { frame.ties.height.inches() } else { 0.0 };
    let top = ceiling + depth.inches();
    let under = |y: f64| site.roof_height(y) - air * site.secant;
    let outer = site.start + if frame.plan.blocking == Blocking::None { 0.0 } else { site.thick };
    let meets = ((top - under(0.0)) / site.tangent).max(outer);
    let far = site.run;
    let mut ring = vec![DVec2::new(outer, ceiling), DVec2::new(far, ceiling), DVec2::new(far, top)];
    if under(outer) < top {
        ring.push(DVec2::new(meets.min(far), top.min(under(far))));
    }
    ring.push(DVec2::new(outer, under(outer).min(top).max(ceiling)));
    // it is in the bay in front of the joist, which must remain visible
    scene.work.outline(ring, Pen::Dashed, Fill::None);
    let at = DVec2::new(outer + 4.0, (ceiling + under(outer + 4.0).min(top)) / 2.0);
    let baffle = if checks.baffles && air > 0.0 && under(outer) < top {
        format!(
            "; baffles keep {} of air under the roof sheathing{}",
            show.inches(air),
            show.finding(RuleId::VentAirGap).map_or(String::new(), |found| show.section(found))
        )
    } else if air > 0.0 && under(outer) < top {
        format!(
            "; drawn thinner where {} of air under the sheathing leave no more room{}",
            show.inches(air),
            show.limit(RuleId::VentAirGap)
        )
    } else {
        show.limit(RuleId::VentAirGap)
    };
    scene.note(at, format!("insulation {}{baffle}", show.length(depth)));
}

pub(super) fn blocking(show: &Show<'_>, scene: &mut Scene) {
    let frame = show.matter.frame;
    let site = &frame.site;
    if frame.plan.blocking == Blocking::None {
        return;
    }
    let Some(name) = show.named(Role::Blocking) else {
        return;
    };
    let (top, words) = match frame.plan.blocking {
        Blocking::Held => (
            site.heel_stand - frame.plan.air_gap.inches(),
            format!(
                "held down for air: {} plumb over its outer edge",
                show.length(frame.plan.air_gap)
            ),
        ),
        _ => (
            site.heel_stand.min(site.depth),
            "up to the roof plane, as far as its stock reaches".to_owned(),
        ),
    };
    let nails =
        show.nails("blocking to plates").map_or(String::new(), |nails| format!("; nails {nails}"));
    scene.note(
        DVec2::new(site.start + site.thick * 0.7, top * 0.6),
        format!("{name} between the rafters, {words}{nails}"),
    );
}

pub(super) fn joist(show: &Show<'_>, scene: &mut Scene) {
    let frame = show.matter.frame;
    let ties = &frame.ties;
    let Some(name) = show.named(Role::CeilingJoist) else {
        return;
    };
    let clip = if ties.clip_height > inches(HAIR) {
        format!(
            ", clipped to the roof plane: {} plumb at its end, over {}{}",
            show.length(ties.clip_height),
            show.length(ties.clip_length),
            show.limit(RuleId::CjTaperCut)
        )
    } else {
        String::new()
    };
    let nails = show.limit(RuleId::NailCjHeel);
    let nails = if nails.is_empty() {
        nails
    } else {
        format!("; 16d common nails at the heel{}", nails.replace(';', ""))
    };
    let bottom = ties.height.inches();
    let depth = frame.plan.joist.depth_in();
    scene.note(
        DVec2::new(frame.site.plate + 1.0, bottom + depth * 0.25),
        format!("{name} beside the rafter{clip}{nails}"),
    );
}
