//! What must be true of sticks in their places, looked at as solids.

use proptest::prelude::*;
use stepoff::frame::hung::Hung;
use stepoff::frame::{HungRoof, Role, Stick};
use stepoff::geom::{Cell, DVec2, DVec3, Solid};
use stepoff::roof::Wall;

/// Volume that two sticks may seem to share by rounding, cubic inches.
const SHARED_IN3: f64 = 1e-6;

/// Area by which sticks must touch to count as carried, square inches.
const TOUCH_IN2: f64 = 0.01;

/// How far above a face wood may seem to be by rounding, inches.
const ABOVE_IN: f64 = 1e-6;

/// A stick as it is cut.
pub(super) struct Cut<'a> {
    pub hung: &'a Hung,
    pub stick: Stick,
    low: DVec3,
    high: DVec3,
}

impl<'a> Cut<'a> {
    pub(super) fn of(hung: &'a Hung) -> Result<Cut<'a>, TestCaseError> {
        let fail = || TestCaseError::fail(format!("{}: nothing is left of it", hung.id));
        let [first, last, others @ ..] = hung.trims.as_slice() else { return Err(fail()) };
        let ends = [first.clone(), last.clone()];
        let stick = Stick::new(hung.section.clone(), hung.axis, ends, others).ok_or_else(fail)?;
        let (low, high) = stick.solid().bounds().ok_or_else(fail)?;
        Ok(Cut { hung, stick, low, high })
    }

    fn is_near(&self, other: &Cut) -> bool {
        let room = DVec3::splat(ABOVE_IN);
        (self.low - room).cmple(other.high).all() && (other.low - room).cmple(self.high).all()
    }
}

pub(super) fn each_has_its_own_id(sticks: &[Cut]) -> Result<(), TestCaseError> {
    let mut ids: Vec<&str> = sticks.iter().map(|cut| cut.hung.id.as_str()).collect();
    ids.sort_unstable();
    let twice = ids.windows(2).find(|two| two[0] == two[1]);
    prop_assert!(twice.is_none(), "{twice:?}");
    Ok(())
}

pub(super) fn each_is_whole(sticks: &[Cut]) -> Result<(), TestCaseError> {
    for Cut { hung, stick, .. } in sticks {
        let mesh = stick.solid().mesh();
        prop_assert!(mesh.is_closed(), "{}", hung.id);
        prop_assert_eq!(stick.solid().pieces(), 1, "{}", &hung.id);
        prop_assert!((mesh.volume() - stick.solid().volume()).abs() < 1e-6, "{}", hung.id);
    }
    Ok(())
}

/// Points along all edges of all cells.
fn points(solid: &Solid) -> impl Iterator<Item = DVec3> {
    solid.cells().iter().flat_map(Cell::faces).flat_map(|face| {
        let corners: Vec<DVec3> = face.corners().collect();
        (0..corners.len()).flat_map(move |at| {
            let (here, next) = (corners[at], corners[(at + 1) % corners.len()]);
            (0..4).map(move |part| here.lerp(next, f64::from(part) / 4.0))
        })
    })
}

pub(super) fn nothing_is_above_the_roof(
    hung: &HungRoof,
    sticks: &[Cut],
) -> Result<(), TestCaseError> {
    let roof = &hung.ground.roof;
    // on the border of the roof the point itself may seem to be outside by its last bits
    let around = [(0.0, 0.0), (1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)];
    for Cut { hung, stick, .. } in sticks {
        for point in points(stick.solid()) {
            let places =
                around.map(|(x, y)| point.truncate() + DVec2::new(x, y) * ABOVE_IN / 100.0);
            let height = places.into_iter().filter_map(|place| roof.height(place)).reduce(f64::max);
            prop_assert!(height.is_some(), "{} is outside the roof at {point}", hung.id);
            let above = point.z - height.unwrap_or_default();
            prop_assert!(above < ABOVE_IN, "{} is {above} above the roof at {point}", hung.id);
        }
    }
    Ok(())
}

pub(super) fn no_two_share_a_place(sticks: &[Cut]) -> Result<(), TestCaseError> {
    for (at, one) in sticks.iter().enumerate() {
        for other in sticks[at + 1..].iter().filter(|other| one.is_near(other)) {
            let shared = one.stick.solid().common_volume(other.stick.solid());
            let ids = (&one.hung.id, &other.hung.id);
            prop_assert!(shared < SHARED_IN3, "{ids:?} share {shared} in3");
        }
    }
    Ok(())
}

/// The top plate of every wall that rafters stand on, as a bar.
fn plates(hung: &HungRoof) -> Vec<Solid> {
    let ground = &hung.ground;
    let bars = ground.walls.iter().filter_map(|wall| {
        let top = match wall.slope {
            Some(_) => wall.plate,
            // the high wall of a shed carries the rafters as the low one does; beside a shed dormer there are studs
            None if wall.wall == Wall::B && ground.dormer(&wall.block).is_none() => {
                let inner = wall.from - wall.out * ground.plate;
                let roof = ground.roof.blocks.iter().find(|block| block.name == wall.block)?;
                roof.height(inner) - ground.heel_stand
            }
            None => return None,
        };
        let (along, inward) =
            ((wall.to - wall.from).extend(0.0), -(wall.out * ground.plate).extend(0.0));
        let right = along.cross(inward).z > 0.0;
        let (start, along) = if right { (wall.from, along) } else { (wall.to, -along) };
        Some(Solid::from(Cell::from_box(start.extend(top - 1.5), along, inward, DVec3::Z * 1.5)))
    });
    bars.collect()
}

pub(super) fn plates_are_free(hung: &HungRoof, sticks: &[Cut]) -> Result<(), TestCaseError> {
    for plate in plates(hung) {
        for Cut { hung, stick, .. } in sticks.iter().filter(|cut| !is_wall(cut)) {
            let shared = plate.common_volume(stick.solid());
            prop_assert!(shared < SHARED_IN3, "{} is {shared} in3 in a plate", hung.id);
        }
    }
    Ok(())
}

fn touch(one: &Solid, other: &Solid) -> f64 {
    one.cells().iter().flat_map(|a| other.cells().iter().map(move |b| a.contact(b))).sum()
}

/// True for what hangs on tails or is fitted in between rafters, and carries none.
fn carries_none(cut: &Cut) -> bool {
    let role = cut.hung.role;
    matches!(role, Role::Fascia | Role::Subfascia) || is_fitted_in(role)
}

/// True for what is fitted in once the rafters stand.
fn is_fitted_in(role: Role) -> bool {
    matches!(
        role,
        Role::CeilingJoist
            | Role::TailJoist
            | Role::JoistHeader
            | Role::JoistTrimmer
            | Role::OpeningSide
            | Role::StubJoist
            | Role::JoistLedger
            | Role::SplicePiece
            | Role::Filler
            | Role::RafterTie
            | Role::CollarTie
            | Role::GableStud
            | Role::VentFrame
            | Role::SoffitLedger
            | Role::SoffitLookout
            | Role::BargeRafter
            | Role::LadderRung
            | Role::Blocking
            | Role::BearingPlate
    )
}

/// True for plates, which the walls carry; they are looked at as bars of their own.
fn is_wall(cut: &Cut) -> bool {
    cut.hung.role == Role::Plate
}

/// True for what stands on or under plates that are no bars here: those of dormers and of end walls under gables.
fn is_stud(cut: &Cut) -> bool {
    matches!(cut.hung.role, Role::DormerStud | Role::CornerPost | Role::GableStud)
}

/// A rafter is carried at both ends: by plates, by lines, or by the rafter opposite.
pub(super) fn each_touches_what_carries_it(
    hung: &HungRoof,
    sticks: &[Cut],
) -> Result<(), TestCaseError> {
    let plates = plates(hung);
    for (at, one) in sticks.iter().enumerate() {
        let solid = one.stick.solid();
        if is_wall(one) {
            continue;
        }
        // under these the program asks for a post
        let line = one.hung.line.map(|line| &hung.ground.lines[line].name);
        if line.is_some_and(|name| hung.unsupported.contains(name)) {
            continue;
        }
        let on_plates = plates.iter().filter(|plate| touch(solid, plate) > TOUCH_IN2).count();
        let on_sticks = sticks
            .iter()
            .enumerate()
            .filter(|(other, cut)| *other != at && one.is_near(cut))
            .filter(|(_, cut)| !is_wall(cut) || is_stud(one))
            .filter(|(_, cut)| {
                one.hung.face.is_none() || is_fitted_in(one.hung.role) || !carries_none(cut)
            })
            .filter(|(_, cut)| touch(solid, cut.stick.solid()) > TOUCH_IN2)
            .count();
        // valley boards lie on the deck, which is no stick
        let wanted = match one.hung.role {
            Role::ValleyBoard => 0,
            // on the sheathing of the wall
            Role::SoffitLedger => 0,
            // plates of walls
            Role::BearingPlate => 0,
            // from plate to plate, or to what meets it there
            Role::CeilingJoist | Role::StubJoist | Role::RafterTie | Role::SplicePiece => 2,
            Role::TailJoist | Role::JoistHeader | Role::JoistTrimmer | Role::OpeningSide => 2,
            Role::VentFrame
            | Role::CollarTie
            | Role::LadderRung
            | Role::GableStud
            | Role::Blocking => 2,
            _ if one.hung.face.is_some() => 2,
            _ => 1,
        };
        prop_assert!(
            on_plates + on_sticks >= wanted,
            "{} touches {on_plates} plates and {on_sticks} sticks",
            one.hung.id
        );
    }
    Ok(())
}
