//! Two lengths of ceiling joist over the inside bearing.

use crate::catalog::code_rules::RuleId;
use crate::frame::Role;
use crate::frame::stick::Side;
use crate::geom::{DVec2, DVec3};
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::plan::Meeting;
use crate::sheet::drawing::{Area, Fill, Pen};
use crate::sheet::paper::Page;
use crate::sheet::projection::Sight;
use crate::sheet::set::Kind;

use super::scene::{Rim, Scene, Windows};
use super::show::{CAUTION, Show};

/// The page; none where joists run through or there are none.
pub(super) fn pages(show: &Show<'_>) -> Vec<Page> {
    let frame = show.matter.frame;
    let Some(bearing) = frame.plan.bearing.map(InInches::inches) else {
        return Vec::new();
    };
    let Some((scene, reach)) = scene(show, bearing) else {
        return Vec::new();
    };
    let bottom = frame.ties.height.inches();
    let top = bottom + frame.plan.joist.depth_in();
    let window = |aside: f64, below: f64, above: f64| {
        Area::new(
            DVec2::new(bearing - aside, bottom - below),
            DVec2::new(bearing + aside, top + above),
        )
    };
    let windows =
        Windows { least: window(reach + 3.0, 4.0, 0.8), most: window(reach + 14.0, 7.0, 1.5) };
    scene.pages(show.job, Kind::Details.title(), CAUTION, windows, &[])
}

/// The joint, and how far from the bearing's middle it reaches; `None` without joists there.
fn scene(show: &Show<'_>, bearing: f64) -> Option<(Scene, f64)> {
    let frame = show.matter.frame;
    let (pair, _) = show.shown_pair();
    let mut scene = Scene::new("Joists over the inside bearing, seen along the ridge");
    let bottom = frame.ties.height.inches();
    // all that stands beside this pair, the nearest to the viewer last
    let near = pair.x_a.min(pair.x_b) - 4.0 * frame.plan.joist.thickness_in();
    let far = pair.x_a.max(pair.x_b) + frame.site.thick + 4.0 * frame.plan.joist.thickness_in();
    let mut sticks: Vec<(f64, Role, Vec<DVec2>)> = Vec::new();
    for role in [Role::CeilingJoist, Role::SplicePiece] {
        for member in show.members(role) {
            for axis in &member.placements {
                if axis.origin.x < near || axis.origin.x > far {
                    continue;
                }
                let ring: Vec<DVec2> = member
                    .stick
                    .profile(Side::Near)
                    .iter()
                    .map(|corner| Sight::ACROSS.flat(axis.to_roof(corner.extend(0.0))))
                    .collect();
                sticks.push((axis.origin.dot(DVec3::X), role, ring));
            }
        }
    }
    sticks.sort_by(|a, b| a.0.total_cmp(&b.0));
    let width = frame.plan.bearing_width.inches();
    scene.rectangle(
        DVec2::new(bearing - width / 2.0, bottom - 1.5),
        DVec2::new(bearing + width / 2.0, bottom),
        Pen::Outline,
        Fill::Hatch,
    );
    scene.rectangle(
        DVec2::new(bearing - width / 2.0, bottom - 90.0),
        DVec2::new(bearing + width / 2.0, bottom - 1.5),
        Pen::Context,
        Fill::None,
    );
    for (_, _, ring) in &sticks {
        scene.work.outline(ring.clone(), Pen::Outline, Fill::Paper);
        scene.work.outline(ring.clone(), Pen::Outline, Fill::None);
    }
    // ends that the nearer ones hide
    for (_, _, ring) in &sticks {
        for (at, from) in ring.iter().enumerate() {
            let to = ring[(at + 1) % ring.len()];
            if (to.x - from.x).abs() < HAIR {
                scene.work.line(vec![*from, to], Pen::Hidden);
            }
        }
    }
    let reach_of = |ring: &[DVec2]| {
        ring.iter()
            .map(|point| point.x)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| (low.min(x), high.max(x)))
    };
    let depth = frame.plan.joist.depth_in();
    let joists: Vec<(f64, f64)> = sticks
        .iter()
        .filter(|(_, role, _)| *role == Role::CeilingJoist)
        .map(|(_, _, ring)| reach_of(ring))
        .collect();
    let inner = joists
        .iter()
        .filter(|(_, to)| *to < frame.site.run + bearing)
        .flat_map(|(from, to)| [*from, *to])
        .filter(|y| (y - bearing).abs() < frame.site.run / 2.0)
        .map(|y| (y - bearing).abs())
        .fold(0.0, f64::max);
    let reach = inner.max(width / 2.0);
    if joists.is_empty() {
        return None;
    }
    scene.note(
        DVec2::new(bearing - reach - 1.5, bottom + depth * 0.7),
        format!(
            "{}, bottom {} above the plate",
            show.named(Role::CeilingJoist)?,
            show.length(frame.ties.height)
        ),
    );
    scene.note(
        DVec2::new(bearing, bottom - 0.75),
        format!(
            "inside bearing {} wide, its middle {} from eave A's building line{}",
            show.length(frame.plan.bearing_width),
            show.inches(bearing),
            show.marks(Role::BearingPlate)
                .map_or(String::new(), |marks| format!(", plate {marks}"))
        ),
    );
    let lapped = frame.plan.meeting != Meeting::Splice;
    let lap = frame.ties.joist_lap.filter(|lap| *lap > inches(HAIR));
    if let Some(lap) = lap.filter(|_| lapped) {
        let half = lap.inches() / 2.0;
        scene.span(
            Rim::Bottom,
            DVec2::new(bearing - half, bottom),
            DVec2::new(bearing + half, bottom),
            format!("{} lap", show.length(lap)),
        );
        let nails = show
            .nails("joists over the bearing")
            .map_or(String::new(), |nails| format!("; nails {nails}"));
        scene.note(
            DVec2::new(bearing, bottom + depth * 0.45),
            format!("lap{}{nails}", show.limit(RuleId::CjLap)),
        );
    }
    if let Some(splice) = show.members(Role::SplicePiece).next() {
        scene.note(
            DVec2::new(bearing, bottom + depth * 0.5),
            format!(
                "{}, {} long, its middle beside the joint of the two lengths",
                show.named(Role::SplicePiece)?,
                show.job.writing.blank(splice.blank())
            ),
        );
    }
    Some((scene, reach))
}
