//! The lines that the frame is laid out from: stations of the rafters, and the building lines of the walls that they stand
//! on.

use super::Model;
use super::stem::part_of;
use super::step::{Id, Value};
use crate::frame::{Role, Sticks};
use crate::geom::{DVec2, DVec3};
use crate::measure::quantity::InInches;
use crate::measure::tolerance::HAIR;

/// How far the lines reach past the last ones across them, inches.
const PAST_IN: f64 = 24.0;

/// A line of a grid: its tag, and where it is.
type Line = (String, f64);

/// Which way rafters run in plan.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Way {
    /// Across the main ridge: their stations are along it.
    Across,
    /// Along it.
    Along,
}

impl Way {
    fn station(self, at: DVec2) -> f64 {
        if self == Way::Across { at.x } else { at.y }
    }

    fn level(self, at: DVec2) -> f64 {
        if self == Way::Across { at.y } else { at.x }
    }

    /// The place of a station and a level.
    fn place(self, station: f64, level: f64) -> DVec2 {
        if self == Way::Across { DVec2::new(station, level) } else { DVec2::new(level, station) }
    }

    fn name(self) -> &'static str {
        match self {
            Way::Across => "stations along the main ridge",
            Way::Along => "stations across the main ridge",
        }
    }
}

/// Centers of the rafters that run this way, counted from the near end wall or from wall A.
fn stations(sticks: Sticks<'_>, way: Way) -> Vec<Line> {
    // headers and boards lie across them
    let is_rafter = |role: Role| role.ifc() == "RAFTER" && role != Role::BargeRafter;
    let rafters = sticks.members.iter().filter(|member| is_rafter(member.role));
    let runs = |along: DVec3| {
        let level = along.truncate();
        way.station(level).abs() < HAIR && level.length() > HAIR
    };
    let axes = rafters.flat_map(|member| &member.placements).filter(|axis| runs(axis.along));
    let mut places: Vec<f64> = axes.map(|axis| way.station(axis.origin.truncate())).collect();
    places.sort_by(f64::total_cmp);
    places.dedup_by(|next, before| (*next - *before).abs() < HAIR);
    places.into_iter().enumerate().map(|(at, place)| ((at + 1).to_string(), place)).collect()
}

/// The building lines that rafters which run this way stand on.
fn walls(sticks: Sticks<'_>, way: Way) -> Vec<Line> {
    let mut lines: Vec<Line> = match sticks.hung {
        Some(frame) => {
            let along = |from: DVec2, to: DVec2| (way.level(to) - way.level(from)).abs() < HAIR;
            let walls = frame.hung.ground.walls.iter().filter(|wall| along(wall.from, wall.to));
            walls
                .map(|wall| {
                    let own = wall.wall.word();
                    let tag = if wall.block == "main" {
                        own.to_owned()
                    } else {
                        format!("{}.{own}", wall.block)
                    };
                    (tag, way.level(wall.from))
                })
                .collect()
        }
        None if way == Way::Across => {
            let span = sticks.plan.rafter.span.inches();
            vec![("A".to_owned(), 0.0), ("B".to_owned(), span)]
        }
        None => Vec::new(),
    };
    lines.sort_by(|one, other| one.1.total_cmp(&other.1));
    lines.dedup_by(|next, before| (next.1 - before.1).abs() < HAIR);
    lines
}

impl Model<'_> {
    /// A grid for each way in which rafters run.
    pub(super) fn grids(&mut self) -> Vec<Id> {
        let mut grids = Vec::new();
        for way in [Way::Across, Way::Along] {
            let lines = (stations(self.ask.sticks, way), walls(self.ask.sticks, way));
            if !lines.0.is_empty() && !lines.1.is_empty() {
                grids.push(self.grid(way, &lines));
            }
        }
        grids
    }

    fn grid(&mut self, way: Way, (stations, walls): &(Vec<Line>, Vec<Line>)) -> Id {
        let reach = |lines: &[Line]| {
            let ends = lines.iter().map(|(_, at)| *at);
            let low = ends.clone().fold(f64::INFINITY, f64::min) - PAST_IN;
            (low, ends.fold(f64::NEG_INFINITY, f64::max) + PAST_IN)
        };
        let (along, across) = (reach(stations), reach(walls));
        let mut curves = Vec::new();
        let mut axes = |model: &mut Self, tag: &str, ends: [DVec2; 2]| {
            let points = ends.map(|end| model.flat(end)).to_vec();
            let curve = model.step.add("IFCPOLYLINE", vec![points.into()]);
            curves.push(curve);
            model.step.add("IFCGRIDAXIS", vec![tag.into(), curve.into(), Value::True])
        };
        let own: Vec<Id> = stations
            .iter()
            .map(|(tag, at)| {
                axes(self, tag, [across.0, across.1].map(|level| way.place(*at, level)))
            })
            .collect();
        let other: Vec<Id> = walls
            .iter()
            .map(|(tag, at)| {
                axes(self, tag, [along.0, along.1].map(|station| way.place(station, *at)))
            })
            .collect();
        let context = self.context;
        let plan = match self.footprint {
            Some(known) => known,
            None => part_of(&mut self.step, context, "FootPrint"),
        };
        self.footprint = Some(plan);
        let set = self.step.add("IFCGEOMETRICCURVESET", vec![curves.into()]);
        let shown =
            vec![plan.into(), "FootPrint".into(), "GeometricCurveSet".into(), vec![set].into()];
        let shown = self.step.add("IFCSHAPEREPRESENTATION", shown);
        let shape = vec![Value::Unset, Value::Unset, vec![shown].into()];
        let shape = self.step.add("IFCPRODUCTDEFINITIONSHAPE", shape);
        let place = self.place(DVec3::ZERO, DVec3::X, DVec3::Z);
        let mut values =
            self.rooted(&format!("grid {}", way.name()), way.name().into(), Value::Unset);
        values.extend([
            Value::Unset,
            place.into(),
            shape.into(),
            own.into(),
            other.into(),
            Value::Unset,
            Value::Word("RECTANGULAR"),
        ]);
        self.step.add("IFCGRID", values)
    }

    /// A place in plan.
    pub(super) fn flat(&mut self, at: DVec2) -> Id {
        let parts = (at * self.length).to_array().to_vec();
        self.step.add_once("IFCCARTESIANPOINT", vec![parts.into()])
    }
}
