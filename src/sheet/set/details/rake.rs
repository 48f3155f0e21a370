//! The rake, cut square to the slope over eave A at the near end wall.

use crate::catalog::code_rules::RuleId;
use crate::frame::{Member, Role};
use crate::geom::{DVec2, DVec3, Plane, Solid};
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::plan::RakeFraming;
use crate::sheet::callout::Detail;
use crate::sheet::drawing::{Area, Fill, Pen};
use crate::sheet::paper::Page;
use crate::sheet::projection::{Sight, Style, draw_cut};
use crate::sheet::set::Kind;

use super::scene::{Rim, Scene, Windows};
use super::show::{CAUTION, Show};

/// Of the gable wall under the rafter, inches of work.
const WALL_SHOWN: f64 = 5.0;
/// Inside the end rafter's inner face, where the outlooker's thickness is measured, inches of work.
const INSIDE_END_RAFTER: f64 = 0.7;

pub(super) fn pages(show: &Show<'_>) -> Vec<Page> {
    let site = &show.matter.frame.site;
    let scene = scene(show);
    let past = show.matter.plan.deck.past_rake.inches();
    let outer = -site.rake - past.max(0.0) - 1.2;
    let top = plane_height(show) + show.deck_thickness().inches() + 0.6;
    let bottom = plane_height(show) - site.depth - WALL_SHOWN;
    let inner = site.thick.max(show.matter.frame.plan.stud.depth_in()) + 1.5;
    let next = show.matter.frame.pairs.get(1).map_or(inner, |pair| pair.x_a + site.thick + 1.5);
    let windows = Windows {
        least: Area::new(DVec2::new(outer, bottom), DVec2::new(inner, top)),
        most: Area::new(
            DVec2::new(outer - 0.5, bottom - 3.0),
            DVec2::new(next.max(inner), top + 0.5),
        ),
    };
    scene.pages(show.job, Kind::Details.title(), CAUTION, windows, &[])
}

/// The height of the roof plane in the detail, inches.
fn plane_height(show: &Show<'_>) -> f64 {
    let site = &show.matter.frame.site;
    site.heel_stand / site.secant
}

/// Up the slope from outside: x to the right, square off the roof plane up.
fn sight(show: &Show<'_>) -> Sight {
    Sight { right: DVec3::X, up: show.matter.frame.site.off_slope() }
}

/// Solids over eave A that the plane cuts, with their members.
fn cut_by<'a>(show: &'a Show<'_>, plane: &Plane) -> Vec<(&'a Member, Solid)> {
    show.matter
        .frame
        .members
        .iter()
        .flat_map(|member| member.placements.iter().map(move |axis| (member, member.placed(axis))))
        .filter(|(_, solid)| {
            solid
                .extent(plane.normal)
                .is_some_and(|(low, high)| low < plane.offset - HAIR && high > plane.offset + HAIR)
        })
        .collect()
}

/// The plane of the detail: through the middle of a rung or outlooker at the near end, or halfway up
/// the slope if there is none.
fn plane(show: &Show<'_>) -> Plane {
    let site = &show.matter.frame.site;
    let normal = -site.up_slope();
    let mut places: Vec<DVec3> = [Role::LadderRung, Role::Outlooker]
        .into_iter()
        .flat_map(|role| show.members(role))
        .flat_map(|member| member.placements.iter().map(|axis| member.placed(axis)))
        .filter_map(|solid| solid.bounds())
        .map(|(low, high)| (low + high) / 2.0)
        .filter(|middle| middle.x < site.length / 2.0 && middle.y < site.run)
        .collect();
    places.sort_by(|a, b| a.y.total_cmp(&b.y));
    let halfway = DVec3::new(0.0, site.run / 2.0, site.roof_height(site.run / 2.0));
    let at = places.get(places.len() / 2).copied().unwrap_or(halfway);
    Plane::through(at, normal)
}

fn scene(show: &Show<'_>) -> Scene {
    let frame = show.matter.frame;
    let site = &frame.site;
    let top = plane_height(show);
    let mut scene = Scene::new(Detail::Rake.head("Rake, cut square to the slope at the end wall"));
    wall(show, &mut scene);
    let plane = plane(show);
    let cut = cut_by(show, &plane);
    let solids: Vec<(Solid, Style)> = cut
        .iter()
        .filter(|(member, _)| member.role != Role::GableStud)
        .map(|(_, solid)| {
            let style = Style { pen: Pen::Outline, fill: Fill::Hatch };
            (solid.clone(), style)
        })
        .collect();
    draw_cut(&mut scene.work, &Scene::view(), sight(show), &plane, &solids);
    sheathing(show, &mut scene);
    let bottom = top - site.depth;
    let end_role = if show.members(Role::EndRafter).next().is_some() {
        Role::EndRafter
    } else {
        Role::CommonRafter
    };
    if let Some(name) = show.named(end_role) {
        let words = match end_role {
            Role::EndRafter => name,
            _ => format!("{name} flush with the end wall"),
        };
        scene.note(DVec2::new(site.thick / 2.0, bottom + 1.0), words);
    }
    if site.rake > 0.0 {
        overhang(show, &mut scene);
    } else {
        scene.note(
            DVec2::new(0.0, top - 0.6),
            "no rake overhang: the end rafter carries the edge of the sheathing",
        );
    }
    scene
}

/// The gable wall below the end rafter, broken off.
fn wall(show: &Show<'_>, scene: &mut Scene) {
    let frame = show.matter.frame;
    let site = &frame.site;
    let (sheathing, finish) = (frame.plan.sheathing.inches(), frame.plan.rafter.finish.inches());
    let top = plane_height(show);
    let end_bottom = top - site.depth;
    // the wall's sheathing reaches up to the framing that carries the overhang, otherwise to the roof
    // sheathing
    let up_to = if site.rake <= 0.0 {
        top
    } else {
        match frame.plan.rake_framing {
            RakeFraming::Ladder => end_bottom,
            RakeFraming::Over | RakeFraming::Notched => top - frame.plan.outlooker.thickness_in(),
        }
    };
    let low = end_bottom - 60.0;
    if show.members(Role::GableStud).next().is_some() {
        scene.rectangle(
            DVec2::new(0.0, low),
            DVec2::new(frame.plan.stud.depth_in(), end_bottom),
            Pen::Context,
            Fill::None,
        );
        scene.note(
            DVec2::new(frame.plan.stud.depth_in() * 0.6, end_bottom - 2.5),
            format!(
                "{}, beveled to the end rafter's bottom edge",
                show.named(Role::GableStud).unwrap_or_default()
            ),
        );
    }
    if sheathing > 0.0 {
        scene.rectangle(
            DVec2::new(-sheathing, low),
            DVec2::new(0.0, up_to),
            Pen::Context,
            Fill::Paper,
        );
        scene.rectangle(
            DVec2::new(-sheathing, low),
            DVec2::new(0.0, up_to),
            Pen::Context,
            Fill::None,
        );
    }
    if finish > sheathing {
        scene.rectangle(
            DVec2::new(-finish, low),
            DVec2::new(-sheathing, up_to),
            Pen::Context,
            Fill::None,
        );
    }
    if finish > 0.0 || sheathing > 0.0 {
        scene.note(
            DVec2::new(-sheathing.max(finish) / 2.0, end_bottom - 1.4),
            format!(
                "gable wall: sheathing {}, {} from framing to finished face",
                show.inches(sheathing),
                show.inches(finish)
            ),
        );
    }
}

fn sheathing(show: &Show<'_>, scene: &mut Scene) {
    let site = &show.matter.frame.site;
    let top = plane_height(show);
    let thick = show.deck_thickness().inches();
    let past = show.matter.plan.deck.past_rake;
    let edge = -site.rake - past.inches();
    scene.rectangle(
        DVec2::new(edge, top),
        DVec2::new(site.length / 2.0, top + thick),
        Pen::Outline,
        Fill::Paper,
    );
    scene.rectangle(
        DVec2::new(edge, top),
        DVec2::new(site.length / 2.0, top + thick),
        Pen::Outline,
        Fill::None,
    );
    let face = if site.rake > 0.0 {
        "the barge rafter's outer face"
    } else {
        "the end rafter's outer face"
    };
    let words = show.deck_edge(past, face);
    scene
        .note(DVec2::new(edge + 1.6, top + thick / 2.0), format!("{}, {words}", show.deck_words()));
    if show.matter.plan.checks.drip_edge == Some(true) {
        scene.work.line(
            vec![
                DVec2::new(edge + 2.0, top + thick + 0.1),
                DVec2::new(edge - 0.1, top + thick + 0.1),
                DVec2::new(edge - 0.1, top - 0.25),
            ],
            Pen::Accent,
        );
        let told = show.finding(RuleId::DripEdgeLap).map_or(String::new(), |found| {
            format!(", over the underlayment at the rake{}", show.section(found))
        });
        scene.note(DVec2::new(edge + 0.5, top + thick + 0.1), format!("drip edge{told}"));
    }
}

fn overhang(show: &Show<'_>, scene: &mut Scene) {
    let frame = show.matter.frame;
    let site = &frame.site;
    let top = plane_height(show);
    let bottom = top - site.depth;
    let finish = frame.plan.rafter.finish.inches();
    let outer = DVec2::new(-site.rake, bottom);
    scene.span(
        Rim::Bottom,
        outer,
        DVec2::new(0.0, bottom),
        format!("{} rake overhang", show.length(frame.plan.rake)),
    );
    if finish > 0.0 && site.rake > finish {
        scene.span(
            Rim::Bottom,
            outer,
            DVec2::new(-finish, bottom - 2.0),
            format!("{} to finish", show.inches(site.rake - finish)),
        );
    }
    scene.note(
        DVec2::new(-site.rake + site.thick * 0.4, bottom + site.depth * 0.35),
        format!(
            "{}, top edge in the roof plane",
            show.named(Role::BargeRafter).unwrap_or_default(),
        ),
    );
    scene.span(
        Rim::Left,
        DVec2::new(-site.rake, bottom),
        DVec2::new(-site.rake, top),
        format!("{} deep", show.inches(site.depth)),
    );
    match frame.plan.rake_framing {
        RakeFraming::Ladder => ladder(show, scene),
        RakeFraming::Over | RakeFraming::Notched => outlookers(show, scene),
    }
    let rule = show.limit(RuleId::SheathRakeCantilever);
    if !rule.is_empty() {
        scene.note(
            DVec2::new(-site.rake * 0.75, top + show.deck_thickness().inches()),
            format!("overhang of the panels alone{}", rule.replacen(';', "", 1)),
        );
    }
}

/// What carries the overhang: name, `how` it lies, length of its blank, spacing and nails.
fn carrier(show: &Show<'_>, role: Role, how: &str, to: &str, joint: &str) -> String {
    let blank = show.members(role).next().map(|member| member.blank());
    format!(
        "{} {how}, {} long{to}, at most {} apart along the slope{}",
        show.named(role).unwrap_or_default(),
        blank.map_or(String::new(), |blank| show.job.writing.blank(blank)),
        show.length(show.matter.frame.plan.rake_spacing),
        show.nails(joint).map_or(String::new(), |nails| format!("; nails {nails}"))
    )
}

/// The rungs between barge rafter and end rafter.
fn ladder(show: &Show<'_>, scene: &mut Scene) {
    let site = &show.matter.frame.site;
    let at = DVec2::new(-site.rake * 0.5, plane_height(show) - site.depth * 0.6);
    let joint = "ladder rungs and vent frames";
    scene.note(at, carrier(show, Role::LadderRung, "of the ladder", "", joint));
}

/// The outlookers, and what the end rafter loses for them.
fn outlookers(show: &Show<'_>, scene: &mut Scene) {
    let frame = show.matter.frame;
    let site = &frame.site;
    let top = plane_height(show);
    let flat = frame.plan.outlooker.thickness_in();
    let how = if frame.plan.rake_framing == RakeFraming::Over {
        "laid flat over the ripped end rafter"
    } else {
        "laid flat let into the end rafter"
    };
    let to = " to the first rafter inside";
    scene.note(
        DVec2::new(-site.rake * 0.5, top - flat * 0.5),
        carrier(show, Role::Outlooker, how, to, "outlookers"),
    );
    let words = match frame.end_rip() {
        Some(rip) => format!(
            "end rafter {} below the roof plane: ripped to {}",
            show.length(rip),
            show.length(inches(site.depth) - rip)
        ),
        None => format!(
            "housing {} deep, {} along the edge",
            show.inches(flat),
            show.length(frame.plan.outlooker.depth)
        ),
    };
    let x = site.thick + INSIDE_END_RAFTER;
    scene.measure(DVec2::new(x, top - flat), DVec2::new(x, top), words);
}
