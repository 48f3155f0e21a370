//! The numbers and planes that all members of a gable share, in inches and roof coordinates.

use crate::geom::{DVec3, Plane};
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::LAST_BITS;
use crate::plan::{GablePlan, RakeFraming};

use super::common::CommonRafter;
use super::stick::{Axis, Trim};
use crate::geom::Cut;

/// One of the two eaves: A at y = 0, B across the building.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EaveSide {
    /// The eave at y = 0.
    A,
    /// The eave at y = span.
    B,
}

impl EaveSide {
    /// Both.
    pub const BOTH: [EaveSide; 2] = [EaveSide::A, EaveSide::B];

    /// Its letter.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            EaveSide::A => "A",
            EaveSide::B => "B",
        }
    }
}

/// What all members share.
#[derive(Debug, Clone)]
pub struct Site {
    /// Building length, inches.
    pub length: f64,
    /// Building span.
    pub span: f64,
    /// Half the span.
    pub run: f64,
    /// Half the ridge board's thickness.
    pub half_ridge: f64,
    /// Ridge board depth; zero if rafters butt.
    pub ridge_depth: f64,
    /// Top of the ridge board above the plate.
    pub ridge_top: f64,
    /// Rise over run.
    pub tangent: f64,
    /// Slope length over level length.
    pub secant: f64,
    /// Rafter thickness.
    pub thick: f64,
    /// Rafter depth.
    pub depth: f64,
    /// Level seat.
    pub seat: f64,
    /// Plumb, plate to the rafter's top edge at the building line.
    pub heel_stand: f64,
    /// Level, building line to the top of the tail cut.
    pub tail: f64,
    /// Level, building line inward to where anything else may start over the plate: zero, or the
    /// boards' inner face if a short overhang brings them inside the building line.
    pub start: f64,
    /// Plate width.
    pub plate: f64,
    /// Rake overhang.
    pub rake: f64,
    /// True if outlookers carry the rakes: they cross the first and the last bay under the roof plane.
    pub outlookers: bool,
    /// The width along each end that gable studs and end rafters take up.
    pub end_zone: f64,
}

impl Site {
    /// The shared numbers of a plan and its pattern rafter.
    #[must_use]
    pub fn new(plan: &GablePlan, rafter: &CommonRafter) -> Site {
        let half_ridge = plan.rafter.ridge.inches() / 2.0;
        let thick = plan.rafter.stock.thickness_in();
        Site {
            length: plan.length.inches(),
            span: plan.rafter.span.inches(),
            run: plan.rafter.run().inches(),
            half_ridge,
            ridge_depth: rafter.ridge_depth().inches(),
            ridge_top: rafter.ridge_top.inches(),
            tangent: plan.rafter.pitch.tangent(),
            secant: plan.rafter.pitch.slope_factor(),
            thick,
            depth: plan.rafter.stock.depth_in(),
            seat: rafter.seat.length.inches(),
            heel_stand: rafter.heel_stand.inches(),
            tail: rafter.tail_projection.inches(),
            start: (-rafter.tail_projection.inches()).max(0.0),
            plate: plan.rafter.plate.inches(),
            rake: plan.rake.inches(),
            outlookers: plan.rake > inches(0.0) && plan.rake_framing != RakeFraming::Ladder,
            end_zone: if plan.gable_studs { plan.stud.depth_in().max(thick) } else { thick },
        }
    }

    /// True if something from `from` to `to` along the building is clear of both gable ends.
    #[must_use]
    pub(super) fn clear_of_ends(&self, from: f64, to: f64) -> bool {
        from >= self.end_zone - LAST_BITS && to <= self.length - self.end_zone + LAST_BITS
    }

    /// The plane of the rafters' top edges over one eave, lowered by `below` inches square to it.
    #[must_use]
    pub(super) fn roof_plane(&self, eave: EaveSide, below: f64) -> Plane {
        let plane = Plane::through(DVec3::Z * self.heel_stand, DVec3::new(0.0, -self.tangent, 1.0));
        self.on(eave, &plane).moved_out(-below)
    }

    /// The plane of the rafters' bottom edges over one eave, its outside up.
    #[must_use]
    pub(super) fn rafter_bottom(&self, eave: EaveSide) -> Plane {
        self.roof_plane(eave, self.depth)
    }

    /// The plane of the ridge board's face toward an eave, its outside on that side.
    #[must_use]
    pub(super) fn ridge_face(&self, eave: EaveSide) -> Plane {
        let plane = Plane::through(DVec3::Y * (self.run - self.half_ridge), -DVec3::Y);
        self.on(eave, &plane)
    }

    /// Height of the roof plane above the plate, `from_building_line` inches in from its eave.
    #[must_use]
    pub fn roof_height(&self, from_building_line: f64) -> f64 {
        self.heel_stand + from_building_line * self.tangent
    }

    /// A plane described on eave A, moved to the given eave.
    #[must_use]
    pub fn on(&self, eave: EaveSide, plane: &Plane) -> Plane {
        match eave {
            EaveSide::A => *plane,
            EaveSide::B => Plane {
                normal: DVec3::new(plane.normal.x, -plane.normal.y, plane.normal.z),
                offset: plane.offset - plane.normal.y * self.span,
            },
        }
    }

    /// A stick described on eave A, moved to the given eave. For B it is turned half around the plumb
    /// line through the middle of the span at `x`, so that it stays the same stick.
    #[must_use]
    pub fn placed(&self, eave: EaveSide, x: f64, axis: &Axis, trims: &[Trim]) -> (Axis, Vec<Trim>) {
        if eave == EaveSide::A {
            return (*axis, trims.to_vec());
        }
        let turned = |v: DVec3| DVec3::new(-v.x, -v.y, v.z);
        let center = DVec3::new(x, self.run, 0.0);
        let axis = Axis {
            origin: center + turned(axis.origin - center),
            along: turned(axis.along),
            up: turned(axis.up),
        };
        let turned_plane = |plane: &Plane| Plane {
            normal: turned(plane.normal),
            offset: plane.offset - 2.0 * (plane.normal.x * x + plane.normal.y * self.run),
        };
        let trims = trims
            .iter()
            .map(|trim| Trim {
                name: trim.name,
                cut: Cut::out(trim.cut.planes.iter().map(turned_plane).collect::<Vec<_>>()),
            })
            .collect();
        (axis, trims)
    }

    /// Unit vector up the slope over eave A.
    #[must_use]
    pub fn up_slope(&self) -> DVec3 {
        DVec3::new(0.0, 1.0, self.tangent) / self.secant
    }

    /// Unit vector square to the roof plane over eave A, upward.
    #[must_use]
    pub fn off_slope(&self) -> DVec3 {
        DVec3::new(0.0, -self.tangent, 1.0) / self.secant
    }
}

/// The plane square to x at `x`, its outside toward the far end.
#[must_use]
pub(super) fn beyond(x: f64) -> Plane {
    Plane::through(DVec3::X * x, DVec3::X)
}

/// The plane square to x at `x`, its outside toward the near end.
#[must_use]
pub(super) fn before(x: f64) -> Plane {
    beyond(x).flipped()
}
