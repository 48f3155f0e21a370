//! The eave, cut across the ridge beside a rafter.

use crate::catalog::code_rules::RuleId;
use crate::frame::eave::Spot;
use crate::frame::{EaveSide, Role};
use crate::geom::DVec2;
use crate::measure::quantity::{InInches, in_degrees, inches};
use crate::measure::tolerance::{HAIR, LAST_BITS};
use crate::measure::trim;
use crate::plan::{Blocking, Joists, TailCut};
use crate::sheet::drawing::{Area, Fill, Pen};
use crate::sheet::paper::Page;
use crate::sheet::set::Kind;

use super::scene::{Rim, Scene, Windows};
use super::show::{CAUTION, Show};

/// Thickness of each of the two plates, inches.
const PLATE_IN: f64 = 1.5;

pub(super) fn pages(show: &Show<'_>) -> Vec<Page> {
    let scene = scene(show);
    let (whole, tail, heel) = windows(show);
    scene.pages(show.job, Kind::Details.title(), CAUTION, whole, &[("tail", tail), ("heel", heel)])
}

/// The numbers that the picture is drawn by, inches of work.
struct Spots {
    /// Outermost point of boards or sheathing, as y.
    outer: f64,
    /// Lowest point of tail, boards and soffit, as z.
    lowest: f64,
    plate: f64,
    finish: f64,
}

fn spots(show: &Show<'_>) -> Spots {
    let eave = show.matter.eave;
    let plan = &eave.rafter.plan;
    let site = &show.matter.frame.site;
    let deck = show.deck_ring(EaveSide::A);
    let boards: Vec<DVec2> = fascia_ring(show).into_iter().flatten().collect();
    let outer = deck.iter().chain(&boards).map(|point| point.x).fold(-site.tail, f64::min);
    let lowest = boards
        .iter()
        .map(|point| point.y)
        .fold(eave.soffit.inches(), f64::min)
        .min(eave.tail_foot.above_plate.inches());
    Spots { outer, lowest, plate: plan.plate.inches(), finish: plan.finish.inches() }
}

/// Top and bottom of the fascia's outer face; `None` without a fascia.
fn fascia_ring(show: &Show<'_>) -> Option<[DVec2; 2]> {
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

fn spot(spot: &Spot) -> DVec2 {
    DVec2::new(-spot.out.inches(), spot.above_plate.inches())
}

/// The whole eave, its tail and its heel.
fn windows(show: &Show<'_>) -> (Windows, Windows, Windows) {
    let site = &show.matter.frame.site;
    let eave = show.matter.eave;
    let Spots { outer, lowest, plate, .. } = spots(show);
    let over = show.deck_thickness().inches() * site.secant + 0.8;
    let roof = |y: f64| site.roof_height(y) + over;
    let wall = (lowest - 2.0).min(-5.0);
    let inner = plate + 2.0;
    let whole = Windows {
        least: Area::new(DVec2::new(outer - 1.2, wall), DVec2::new(inner, roof(inner))),
        most: Area::new(
            DVec2::new(outer - 2.5, wall - 5.0),
            DVec2::new(inner + 14.0, roof(inner + 14.0)),
        ),
    };
    let tail_top = eave.tail_top.above_plate.inches() + over;
    let edge = -site.tail.min(0.0);
    let tail_inner = if site.tail > 0.0 { -0.05 } else { edge + 1.0 };
    let tail = Windows {
        least: Area::new(
            DVec2::new(outer - 1.2, lowest - 1.5),
            DVec2::new(tail_inner, tail_top + 2.0),
        ),
        most: Area::new(
            DVec2::new(outer - 2.5, lowest - 4.0),
            DVec2::new(tail_inner, roof(tail_inner)),
        ),
    };
    let heel = Windows {
        least: Area::new(DVec2::new(-3.0, -4.6), DVec2::new(inner, roof(0.3))),
        most: Area::new(DVec2::new(-6.0, -8.0), DVec2::new(inner + 8.0, roof(inner + 8.0))),
    };
    (whole, tail, heel)
}

fn scene(show: &Show<'_>) -> Scene {
    let frame = show.matter.frame;
    let (pair, x) = show.shown_pair();
    let title = format!(
        "Eave, cut square to the wall beside rafter {}",
        show.marks(Role::CommonRafter).or_else(|| show.marks(Role::EndRafter)).unwrap_or_default()
    );
    let mut scene = Scene::new(title);
    wall(show, &mut scene);
    show.slice_across(&pair, x, &mut scene.work);
    insulation(show, &mut scene);
    soffit(show, &mut scene);
    deck(show, &mut scene);
    rafter(show, &mut scene);
    heel(show, &mut scene);
    boards(show, &mut scene);
    if frame.plan.blocking != Blocking::None {
        blocking(show, &mut scene);
    }
    joist(show, &mut scene);
    scene
}

/// The wall under the top plate: the second plate, studs, sheathing and finish.
fn wall(show: &Show<'_>, scene: &mut Scene) {
    let Spots { plate, finish, .. } = spots(show);
    let sheathing = show.matter.frame.plan.sheathing.inches();
    let bottom = -200.0;
    scene.rectangle(
        DVec2::new(0.0, -2.0 * PLATE_IN),
        DVec2::new(plate, -PLATE_IN),
        Pen::Outline,
        Fill::Hatch,
    );
    scene.rectangle(
        DVec2::new(0.0, bottom),
        DVec2::new(plate, -2.0 * PLATE_IN),
        Pen::Context,
        Fill::None,
    );
    // outside of the wall ends under the rafter's bottom edge, or at the soffit cut
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
                    DVec2::new(-far, bottom),
                    DVec2::new(-near, bottom),
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
        scene.note(DVec2::new(-finish.max(sheathing) / 2.0, -4.2), words.join("; "));
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
            show.length(show.matter.frame.plan.wall_height)
        ),
    );
}

fn insulation(show: &Show<'_>, scene: &mut Scene) {
    let checks = &show.matter.plan.checks;
    let frame = show.matter.frame;
    let site = &frame.site;
    // without ceiling joists there is no attic floor to lay it on
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
    // it lies in the bay before the joist, which still has to be seen
    scene.work.outline(ring, Pen::Dashed, Fill::None);
    let at = DVec2::new(outer + 4.0, (ceiling + under(outer + 4.0).min(top)) / 2.0);
    let baffle = if checks.baffles && air > 0.0 && under(outer) < top {
        format!(
            "; baffles keep {} of air under the roof sheathing{}",
            show.inches(air),
            show.finding(RuleId::VentAirGap)
                .map_or(String::new(), |found| format!(" ({})", found.section))
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

fn soffit(show: &Show<'_>, scene: &mut Scene) {
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

fn deck(show: &Show<'_>, scene: &mut Scene) {
    let ring = show.deck_ring(EaveSide::A);
    let [low, _, _, top] = ring[..] else { return };
    let up = (ring[1] - low).normalize_or_zero();
    show.deck(EaveSide::A, &mut scene.work);
    let past = show.matter.order.first().roof_deck.ask.past_tail;
    let ends = if show.matter.eave.rafter.plan.fascia > inches(0.0) {
        "the fascia's outer face"
    } else {
        "the tail cut"
    };
    let edge = if past.inches().abs() < LAST_BITS {
        format!("its edge at {ends}")
    } else if past > inches(0.0) {
        format!("its edge {} past {ends}, along the slope", show.length(past))
    } else {
        format!("its edge {} short of {ends}, along the slope", show.length(-past))
    };
    scene.note((low + top) / 2.0 + up * 3.2, format!("{}, {edge}", show.deck_words()));
    if show.matter.plan.checks.drip_edge == Some(true) {
        // only where it lies, as a line; its sizes are the rule's
        let over = (top - low).normalize_or_zero() * 0.12;
        let out = -up * 0.12;
        scene.work.line(
            vec![top + over + up * 2.0, top + over + out, low + out - DVec2::Y * 0.25],
            Pen::Accent,
        );
        let told = show.finding(RuleId::DripEdgeLap).map_or(String::new(), |found| {
            format!(": {} ({})", found.noted(show.job.writing), found.section)
        });
        scene.note(top + over + up * 0.8, format!("drip edge{told}"));
    }
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
    let Spots { plate, .. } = spots(show);
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

fn boards(show: &Show<'_>, scene: &mut Scene) {
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
    scene.measure(
        top + aside,
        foot + aside,
        format!(
            "fascia {} deep{}; at least {} covers tail and soffit",
            show.length(eave.rafter.fascia_depth(eave.plan.soffit)),
            if eave.fascia_falls_short() { ", FALLS SHORT" } else { "" },
            show.length(eave.least_fascia_depth)
        ),
    );
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

/// How far a board's top stands below the tail's top corner, in words.
fn dropped(show: &Show<'_>, drop: f64) -> String {
    if drop > HAIR {
        format!(", square top edge {} below the tail's top corner", show.inches(drop))
    } else {
        ", top edge in the roof plane".to_owned()
    }
}

fn blocking(show: &Show<'_>, scene: &mut Scene) {
    let frame = show.matter.frame;
    let site = &frame.site;
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

fn joist(show: &Show<'_>, scene: &mut Scene) {
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
