//! Two lengths of ceiling joist over the inside bearing.

use crate::catalog::code_rules::RuleId;
use crate::frame::Role;
use crate::frame::stick::Side;
use crate::geom::DVec2;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::HAIR;
use crate::plan::Meeting;
use crate::sheet::callout::Detail;
use crate::sheet::drawing::{Area, Fill, Pen};
use crate::sheet::paper::Page;
use crate::sheet::projection::Sight;
use crate::sheet::set::Kind;

use super::scene::{Rim, Scene, Windows};
use super::show::{CAUTION, PLATE_IN, Show};

/// Of the wall below the joists, inches of work: farther down than the window shows.
const WALL_IN: f64 = 90.0;

/// The page; `None` if joists run through or there are none.
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

/// The joint, and how far it reaches from the bearing's middle; `None` without joists there.
fn scene(show: &Show<'_>, bearing: f64) -> Option<(Scene, f64)> {
    let sticks = beside_the_pair(show);
    let reach = reach(show, bearing, &sticks)?;
    let mut scene =
        Scene::new(Detail::Lap.head("Joists over the inside bearing, seen along the ridge"));
    wall(show, bearing, &mut scene);
    for stick in &sticks {
        scene.work.outline(stick.ring.clone(), Pen::Outline, Fill::Paper);
        scene.work.outline(stick.ring.clone(), Pen::Outline, Fill::None);
    }
    // ends that the nearer ones hide
    for stick in &sticks {
        for (at, from) in stick.ring.iter().enumerate() {
            let to = stick.ring[(at + 1) % stick.ring.len()];
            if (to.x - from.x).abs() < HAIR {
                scene.work.line(vec![*from, to], Pen::Hidden);
            }
        }
    }
    tell(show, bearing, reach, &mut scene)?;
    Some((scene, reach))
}

/// A stick beside the pair of rafters that is shown.
struct Beside {
    /// Its place along the ridge, inches.
    x: f64,
    role: Role,
    /// Its outline, seen along the ridge.
    ring: Vec<DVec2>,
}

/// Joists and splice pieces beside the pair, the nearest to the viewer last.
fn beside_the_pair(show: &Show<'_>) -> Vec<Beside> {
    let frame = show.matter.frame;
    let (pair, _) = show.shown_pair();
    let aside = 4.0 * frame.plan.joist.thickness_in();
    let near = pair.x_a.min(pair.x_b) - aside;
    let far = pair.x_a.max(pair.x_b) + frame.site.thick + aside;
    let mut sticks = Vec::new();
    for role in [Role::CeilingJoist, Role::SplicePiece] {
        for member in show.members(role) {
            let corners = member.stick.profile(Side::Near);
            for axis in &member.placements {
                if axis.origin.x < near || axis.origin.x > far {
                    continue;
                }
                let on_roof = |corner: &DVec2| axis.to_roof(corner.extend(0.0));
                let ring = corners.iter().map(|corner| Sight::ACROSS.flat(on_roof(corner)));
                sticks.push(Beside { x: axis.origin.x, role, ring: ring.collect() });
            }
        }
    }
    sticks.sort_by(|a, b| a.x.total_cmp(&b.x));
    sticks
}

/// How far from the bearing's middle its plate and the ends of the joists near it lie, inches; `None` without joists.
fn reach(show: &Show<'_>, bearing: f64, sticks: &[Beside]) -> Option<f64> {
    let frame = show.matter.frame;
    let joists: Vec<(f64, f64)> = sticks
        .iter()
        .filter(|stick| stick.role == Role::CeilingJoist)
        .map(|stick| {
            let ends = stick.ring.iter().map(|point| point.x);
            ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| {
                (low.min(x), high.max(x))
            })
        })
        .collect();
    let inner = joists
        .iter()
        .filter(|(_, to)| *to < frame.site.run + bearing)
        .flat_map(|(from, to)| [*from, *to])
        .map(|y| (y - bearing).abs())
        .filter(|aside| *aside < frame.site.run / 2.0)
        .fold(0.0, f64::max);
    (!joists.is_empty()).then(|| inner.max(frame.plan.bearing_width.inches() / 2.0))
}

/// The inside bearing under the joists: its plate, and the wall broken off below.
fn wall(show: &Show<'_>, bearing: f64, scene: &mut Scene) {
    let frame = show.matter.frame;
    let half = frame.plan.bearing_width.inches() / 2.0;
    let top = frame.ties.height.inches();
    let under_plate = top - PLATE_IN;
    for (low, high, pen, fill) in [
        (under_plate, top, Pen::Outline, Fill::Hatch),
        (top - WALL_IN, under_plate, Pen::Context, Fill::None),
    ] {
        scene.rectangle(
            DVec2::new(bearing - half, low),
            DVec2::new(bearing + half, high),
            pen,
            fill,
        );
    }
}

/// What is said of joists, bearing, lap and splice; `None` if the frame has no name for them.
fn tell(show: &Show<'_>, bearing: f64, reach: f64, scene: &mut Scene) -> Option<()> {
    let frame = show.matter.frame;
    let bottom = frame.ties.height.inches();
    let depth = frame.plan.joist.depth_in();
    scene.note(
        DVec2::new(bearing - reach - 1.5, bottom + depth * 0.7),
        format!(
            "{}, bottom {} above the plate",
            show.named(Role::CeilingJoist)?,
            show.length(frame.ties.height)
        ),
    );
    scene.note(
        DVec2::new(bearing, bottom - PLATE_IN / 2.0),
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
    Some(())
}
