//! The building section: across the main ridge, beside a pair of rafters.

use super::file::Tag;
use super::placed::{InView, Placed, placed, shown_pair};
use super::{BETWEEN_IN, CUT, Drawing, Part, SLAB_IN, WALLS};
use crate::export::unit::FileUnit;
use crate::frame::{InSection, Kind, Role, Sticks};
use crate::geom::{DVec2, DVec3, Plane};
use crate::measure::quantity::{InInches, in_degrees};
use crate::measure::tolerance::HAIR;
use crate::measure::trim;
use crate::sheet::projection::{Sight, cut_rings};

/// Where the section is.
struct Place {
    /// Centers of the rafters that it shows: of eave A and of eave B.
    centers: [f64; 2],
    /// From where to where sticks beside them are shown; cut at its far end.
    slab: (f64, f64),
}

impl Place {
    /// At the pair that shows the most; of a roof that is more than one gable, at the pair of rafters across the main ridge
    /// that is nearest to the middle of the building.
    fn of(sticks: Sticks<'_>, all: &[Placed<'_>]) -> Option<Place> {
        if let Some(frame) = sticks.gable {
            let (pair, half) = (shown_pair(frame), frame.site.thick / 2.0);
            let (low, high) = (pair.x_a.min(pair.x_b), pair.x_a.max(pair.x_b) + 2.0 * half);
            let centers = [pair.x_a, pair.x_b].map(|x| x + half);
            return Some(Place { centers, slab: (low - SLAB_IN, high + SLAB_IN) });
        }
        let middle = sticks.plan.length.inches() / 2.0;
        let across = all.iter().filter(|one| is_across(one));
        // where one stands on each side rather than where a dormer or a wing takes the place of one
        let rafters = |role: Role| {
            let own = || across.clone().filter(move |one| one.member.role == role);
            let center = |one: &Placed<'_>| (one.low.x + one.high.x) / 2.0;
            let worth = |one: &&Placed<'_>| {
                let here = |other: &&Placed<'_>| (center(other) - center(one)).abs() < HAIR;
                (own().filter(here).count() < 2, (center(one) - middle).abs())
            };
            let best = own().min_by(|one, other| {
                let ((a, near), (b, far)) = (worth(one), worth(other));
                a.cmp(&b).then(near.total_cmp(&far))
            });
            best.map(|one| (one.low.x, one.high.x))
        };
        let (low, high) = rafters(Role::CommonRafter).or_else(|| rafters(Role::HipJack))?;
        Some(Place { centers: [(low + high) / 2.0; 2], slab: (low - SLAB_IN, high + SLAB_IN) })
    }

    /// True if a stick across the ridge is shown as it stands there; of rafters only the pair's own.
    fn shows(&self, one: &Placed<'_>) -> bool {
        let own = match one.member.role.kind() {
            Kind::Rafters => {
                let center = (one.low.x + one.high.x) / 2.0;
                self.centers.iter().any(|own| (own - center).abs() < HAIR)
            }
            _ => one.member.role.in_section() == InSection::AtPair,
        };
        own && is_across(one) && one.low.x < self.slab.1 && one.high.x > self.slab.0
    }
}

fn is_across(one: &Placed<'_>) -> bool {
    one.axis.along.x.abs() < HAIR
}

impl Drawing<'_> {
    /// The building section, from `next` on; gives where the next drawing may begin beside it.
    pub(super) fn section(&mut self, next: f64) -> f64 {
        let sticks = self.sticks;
        let all = placed(sticks);
        let Some(place) = Place::of(sticks, &all) else {
            return next;
        };
        let plane = Plane::through(DVec3::X * place.slab.1, DVec3::X);
        let seen: Vec<&Placed<'_>> = all.iter().filter(|one| place.shows(one)).collect();
        let cut: Vec<(&Placed<'_>, Vec<Vec<DVec2>>)> = all
            .iter()
            .filter(|one| !is_across(one) && one.low.x < place.slab.1 && one.high.x > place.slab.1)
            .map(|one| {
                let rings = cut_rings(&one.member.placed(one.axis), &plane);
                let flat =
                    |ring: &Vec<DVec3>| ring.iter().map(|at| Sight::ACROSS.flat(*at)).collect();
                (one, rings.iter().map(flat).collect::<Vec<Vec<DVec2>>>())
            })
            .filter(|(_, rings)| !rings.is_empty())
            .collect();
        let floor = -sticks.plan.wall_height.inches();
        let corners = cut.iter().flat_map(|(_, rings)| rings.iter().flatten().copied());
        let ends = seen.iter().flat_map(|one| [one.low, one.high].map(|at| Sight::ACROSS.flat(at)));
        let (low, high) =
            corners.chain(ends).fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(low, high), at| {
                (low.min(at), high.max(at))
            });
        let at = DVec2::new(next - low.x, 0.0);
        let moved = |rings: &[Vec<DVec2>]| -> Vec<Vec<DVec2>> {
            rings.iter().map(|ring| ring.iter().map(|corner| *corner + at).collect()).collect()
        };
        let mut views: Vec<InView<'_>> =
            seen.iter().map(|one| InView::seen(one, Sight::ACROSS, at)).collect();
        views.extend(cut.iter().map(|(one, rings)| InView::cut(one, moved(rings))));
        self.sticks(Part::Section, &views);
        self.hatch_cut(&views[seen.len()..]);
        self.walls(&cut, floor, at);
        let ridge = cut.iter().filter(|(one, _)| one.member.role.kind() == Kind::Ridge);
        let ridge = ridge.flat_map(|(_, rings)| rings.iter().flatten()).map(|corner| corner.y);
        self.section_sizes(at, (low, high, floor), ridge.fold(0.0, f64::max));
        at.x + high.x + BETWEEN_IN
    }

    /// Hatches what is cut; neighbors in the list the other way.
    fn hatch_cut(&mut self, views: &[InView<'_>]) {
        let layer = self.note_layer(Part::Section, CUT);
        for (number, view) in views.iter().enumerate() {
            for (part, ring) in view.outlines.iter().enumerate() {
                let id = view.placed.id;
                let tag = Tag {
                    layer: &layer,
                    name: &format!("{layer} {id} {part}"),
                    stick: Some((id, &view.placed.member.mark)),
                };
                self.file.hatch(tag, ring, number % 2 == 1);
            }
        }
    }

    /// Lengths of the section: levels from the top of the plate, at its right; widths under the floor.
    fn section_sizes(&mut self, at: DVec2, (low, high, floor): (DVec2, DVec2, f64), ridge: f64) {
        let plan = self.sticks.plan;
        let place = |y: f64, z: f64| at + DVec2::new(y, z);
        let span = plan.rafter.span.inches();
        let mut widths = vec![("span", span, -28.0)];
        // slopes that are unlike have no common run
        if let Some(frame) = self.sticks.gable {
            widths.push(("run", frame.site.run, -14.0));
        }
        for (name, wide, away) in widths {
            let text = self.length(wide);
            let (from, to) = (place(0.0, floor), place(wide, floor));
            self.dimension(Part::Section, name, from, to, away, &text);
        }
        let right = high.x.max(span) + 24.0;
        let heights = [
            ("wall", floor, 0.0, 0.0),
            ("heel stand", 0.0, self.sticks.rafter.heel_stand.inches(), 24.0),
            ("ridge", 0.0, ridge, 10.0),
        ];
        for (name, low, high, away) in heights {
            if high - low < HAIR {
                continue;
            }
            let text = self.length(high - low);
            let (from, to) = (place(right, low), place(right, high));
            self.dimension(Part::Section, name, from, to, -away, &format!("{name} {text}"));
        }
        let overhang = plan.rafter.overhang_from_building_line().inches();
        if overhang > 0.0 && (low.x + overhang).abs() < HAIR {
            let text = self.length(overhang);
            let out = place(-overhang, floor);
            // from the wall outward, so that a label without room goes outside
            self.dimension(Part::Section, "overhang", place(0.0, floor), out, 14.0, &text);
        }
        let rise = trim(plan.rafter.pitch.unit_rise(), 3);
        let degrees = trim(in_degrees(plan.rafter.pitch.angle()), 2);
        let slope = match self.unit {
            FileUnit::Inch => format!("{rise} in 12 ({degrees}°)"),
            FileUnit::Millimeter => format!("{degrees}°"),
        };
        self.title(
            Part::Section,
            place(low.x, floor - 48.0),
            &[
                format!("building section, seen from the far end; {slope}; hatched: cut"),
                "heights from the top of the plate; not a finding of strength".into(),
            ],
        );
    }

    /// The faces of the outermost walls and of an inside bearing, from their plates down to the floor.
    fn walls(&mut self, cut: &[(&Placed<'_>, Vec<Vec<DVec2>>)], floor: f64, at: DVec2) {
        let mut walls: Vec<(f64, f64, f64, Role)> = cut
            .iter()
            .filter(|(one, _)| matches!(one.member.role, Role::Plate | Role::BearingPlate))
            .map(|(one, _)| (one.low.y, one.high.y, one.low.z, one.member.role))
            .collect();
        walls.sort_by(|one, other| one.0.total_cmp(&other.0));
        let last = walls.len().saturating_sub(1);
        let mut number = 0;
        let inner = |(at, wall): &(usize, &(f64, f64, f64, Role))| {
            *at == 0 || *at == last || wall.3 == Role::BearingPlate
        };
        let mut lines: Vec<(DVec2, DVec2)> = Vec::new();
        for (_, (from, to, under, _)) in walls.iter().enumerate().filter(inner) {
            for y in [*from, *to] {
                lines.push((DVec2::new(y, *under), DVec2::new(y, floor)));
            }
        }
        if let (Some(first), Some(last)) = (walls.first(), walls.last()) {
            lines.push((DVec2::new(first.0, floor), DVec2::new(last.1, floor)));
        }
        let layer = self.note_layer(Part::Section, WALLS);
        for (from, to) in lines {
            let tag = Tag { layer: &layer, name: &format!("{layer} {number}"), stick: None };
            number += 1;
            self.file.line(tag, at + from, at + to);
        }
    }
}
