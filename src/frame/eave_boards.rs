//! The sticks along the eaves: plates, blocking, sub-fascia and fascia, soffit framing.

use crate::catalog::lumber::Section;
use crate::geom::{Cut, DVec3, Plane};
use crate::measure::Note;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::LAST_BITS;
use crate::plan::{Blocking, GablePlan, Joists, Meeting, RakeFraming, TailCut};

use super::beside::{
    NARROWEST_BLOCK_IN, block_top, held_top, joist_face, on_plate, tie_bottom, tie_places,
};
use super::common::{CannotBuild, CommonRafter};
use super::member::{Members, end};
use super::pair::Pair;
use super::ridge::pieces;
use super::role::Role;
use super::site::{EaveSide, Site, before, beyond};
use super::stick::{Axis, Trim};

/// Thickness of the plate under the roof, inches (2x lumber laid flat).
const PLATE_IN: f64 = 1.5;

/// A member that runs along an eave in pieces.
struct LongMember {
    role: Role,
    section: Section,
    /// Its place over eave A; the pieces give x.
    axis: Axis,
    /// Cuts beyond the ends of its pieces, as over eave A.
    others: Vec<Trim>,
}

impl LongMember {
    fn add(
        &self,
        pieces: &[(f64, f64)],
        eave: EaveSide,
        site: &Site,
        members: &mut Members,
    ) -> Result<(), CannotBuild> {
        for &(from, to) in pieces {
            let axis = Axis {
                origin: DVec3::new(from, self.axis.origin.y, self.axis.origin.z),
                ..self.axis
            };
            let mut trims = vec![end("square cut", before(from)), end("square cut", beyond(to))];
            trims.extend_from_slice(&self.others);
            let (axis, trims) = site.placed(eave, (from + to) / 2.0, &axis, &trims);
            members.add(self.role, &self.section, axis, &trims)?;
        }
        Ok(())
    }
}

/// Adds the top plates.
pub(super) fn plates(
    plan: &GablePlan,
    site: &Site,
    members: &mut Members,
    notes: &mut Vec<Note>,
) -> Result<(), CannotBuild> {
    let section = Section::sized(inches(PLATE_IN), plan.rafter.plate);
    let longest = plan.longest.inches();
    // plates may be pieced anywhere; whole lengths first
    let lengths = |from: f64, to: f64| -> Vec<(f64, f64)> {
        let joints: Vec<f64> =
            (1..).map(|count| from + f64::from(count) * longest).take_while(|x| *x < to).collect();
        pieces(from, to, longest, &joints)
    };
    let eave_plate =
        Axis { origin: DVec3::new(0.0, 0.0, -PLATE_IN / 2.0), along: DVec3::X, up: DVec3::Y };
    for eave in EaveSide::BOTH {
        LongMember {
            role: Role::Plate,
            section: section.clone(),
            axis: eave_plate,
            others: Vec::new(),
        }
        .add(&lengths(0.0, site.length), eave, site, members)?;
    }
    let mut across = vec![0.0, site.length - site.plate];
    if site.length < 2.0 * site.plate {
        across.clear();
        notes.push(Note::new(
            "no plates along the end walls: the building is shorter than two of them are wide",
        ));
    }
    for x in across {
        for (from, to) in lengths(site.plate, site.span - site.plate) {
            let axis = Axis {
                origin: DVec3::new(x, from, -PLATE_IN / 2.0),
                along: DVec3::Y,
                up: DVec3::X,
            };
            members.add(
                Role::Plate,
                &section,
                axis,
                &[
                    end("square cut", Plane::through(DVec3::Y * from, -DVec3::Y)),
                    end("square cut", Plane::through(DVec3::Y * to, DVec3::Y)),
                ],
            )?;
        }
    }
    if let (Some(bearing), true) = (plan.bearing, on_plate(plan)) {
        let section = Section::sized(inches(PLATE_IN), plan.bearing_width);
        let axis = Axis {
            origin: DVec3::new(0.0, bearing.inches() - section.depth_in() / 2.0, -PLATE_IN / 2.0),
            along: DVec3::X,
            up: DVec3::Y,
        };
        let inside = lengths(site.plate, site.length - site.plate);
        LongMember { role: Role::BearingPlate, section, axis, others: Vec::new() }.add(
            &inside,
            EaveSide::A,
            site,
            members,
        )?;
    }
    Ok(())
}

/// The sticks on the plate of one eave no higher than `top` above it, as intervals of x in order.
fn standing(
    plan: &GablePlan,
    site: &Site,
    pairs: &[Pair],
    eave: EaveSide,
    top: f64,
) -> Vec<(f64, f64)> {
    let joist = plan.joist.thickness_in();
    let in_the_way = tie_bottom(plan) < top - LAST_BITS;
    let mut taken = Vec::with_capacity(pairs.len() * 2);
    for pair in pairs {
        let x = pair.x(eave);
        taken.push((x, x + site.thick));
        if pair.joist_side != 0.0 && in_the_way {
            let face = joist_face(plan, site, pair, eave);
            taken.push((face, face + joist));
            if eave == EaveSide::B && plan.bearing.is_some() && plan.meeting == Meeting::Filler {
                let filler = joist_face(plan, site, pair, EaveSide::A);
                taken.push((filler, filler + joist));
            }
        }
    }
    if plan.joists == Joists::Across && in_the_way {
        for face in tie_places(plan, site, pairs).into_iter().flatten() {
            taken.push((face, face + plan.tie.thickness_in()));
        }
    }
    taken.sort_by(|a, b| a.0.total_cmp(&b.0));
    taken
}

/// Adds the blocks over the plates, if the plan has them.
pub(super) fn blocking(
    plan: &GablePlan,
    site: &Site,
    pairs: &[Pair],
    members: &mut Members,
    notes: &mut Vec<Note>,
) -> Result<(), CannotBuild> {
    if plan.blocking == Blocking::None {
        return Ok(());
    }
    let thick = site.thick;
    let held = held_top(plan, site);
    let Some(top) = block_top(plan, site) else {
        notes.push(Note::new(if held.is_some_and(|top| top < NARROWEST_BLOCK_IN) {
            "no blocking: held down for air there is nothing left of it"
        } else {
            "no blocking: the boards of so short an overhang leave no room for it on the plate"
        }));
        return Ok(());
    };
    let reach = site.roof_height(site.start + thick);
    if held.is_none() && reach > site.depth + LAST_BITS {
        notes.push(Note::with(
            "full blocking of the rafter's own stock stays {} under the roof plane",
            [inches(reach - site.depth)],
        ));
    }
    let mut without = 0;
    for eave in EaveSide::BOTH {
        for two in standing(plan, site, pairs, eave, top).windows(2) {
            let (from, to) = (two[0].1, two[1].0);
            if to - from < NARROWEST_BLOCK_IN {
                without += usize::from(to - from > LAST_BITS);
                continue;
            }
            let axis = Axis {
                origin: DVec3::new(from, site.start + thick / 2.0, 0.0),
                along: DVec3::X,
                up: DVec3::Z,
            };
            let mut trims = vec![end("square cut", before(from)), end("square cut", beyond(to))];
            match held {
                Some(top) => {
                    trims.push(end("ripped level", Plane::through(DVec3::Z * top, DVec3::Z)));
                }
                None => {
                    trims.push(end("ripped to the roof plane", site.roof_plane(EaveSide::A, 0.0)));
                }
            }
            let (axis, trims) = site.placed(eave, (from + to) / 2.0, &axis, &trims);
            members.add(Role::Blocking, &plan.rafter.stock, axis, &trims)?;
        }
    }
    if without > 0 {
        notes.push(Note::with(
            format!("{without} gap(s) over the plates are under {{}} wide and get no block: close them before the soffit goes up"),
            [inches(NARROWEST_BLOCK_IN)],
        ));
    }
    Ok(())
}

/// Adds sub-fascia and fascia.
pub(super) fn boards(
    plan: &GablePlan,
    rafter: &CommonRafter,
    site: &Site,
    pairs: &[Pair],
    members: &mut Members,
) -> Result<(), CannotBuild> {
    let square = plan.rafter.tail == TailCut::Square;
    // out from the tail cut, and down along it, over eave A
    let (out, up) =
        if square { (-site.up_slope(), site.off_slope()) } else { (-DVec3::Y, DVec3::Z) };
    let tail_top = DVec3::new(0.0, -site.tail, site.roof_height(-site.tail));
    // if the overhang is shorter than the boards are thick, they are over the plate; on a square tail a
    // deep board leans in under it
    let over_plate = if site.start > 0.0 || square {
        vec![Trim {
            name: "ripped over the plate",
            cut: Cut::out([
                Plane::through(DVec3::ZERO, -DVec3::Z),
                Plane::through(DVec3::ZERO, DVec3::Y),
            ]),
        }]
    } else {
        Vec::new()
    };
    let subfascia = plan.rafter.subfascia;
    let fascia = plan.rafter.fascia;
    let rows = [
        (Role::Subfascia, inches(0.0), subfascia, rafter.subfascia_depth()),
        (Role::Fascia, subfascia, fascia, rafter.fascia_depth(plan.soffit)),
    ];
    for (role, inner, thickness, depth) in rows {
        if thickness <= inches(0.0) {
            continue;
        }
        let section = Section::sized(thickness, depth);
        let drop = rafter.board_drop(inner + thickness).inches();
        let (middle, depth) = ((inner + thickness / 2.0).inches(), depth.inches());
        let axis =
            Axis { origin: tail_top + out * middle - up * (drop + depth), along: DVec3::X, up };
        for eave in EaveSide::BOTH {
            let joints: Vec<f64> =
                pairs.iter().map(|pair| pair.x(eave) + site.thick / 2.0).collect();
            let lengths =
                pieces(-site.rake, site.length + site.rake, plan.longest.inches(), &joints);
            LongMember { role, section: section.clone(), axis, others: over_plate.clone() }
                .add(&lengths, eave, site, members)?;
        }
    }
    Ok(())
}

/// Soffit lookouts and ledgers are cut from lumber of this section.
pub(super) fn soffit_stock(depth: f64) -> Section {
    Section::sized(inches(1.5), inches(depth))
}

/// Thickness of a soffit ledger, inches: a 2x board.
pub(super) const LEDGER_IN: f64 = 1.5;

/// Depth of a soffit ledger in the height that there is under the rafters, inches; `None` if it leaves no room.
pub(super) fn ledger_depth(room: f64) -> Option<f64> {
    [3.5, 2.5, 1.5].into_iter().find(|depth| *depth <= room + LAST_BITS)
}

/// Adds the soffit framing, if the plan has it.
pub(super) fn soffit(
    plan: &GablePlan,
    rafter: &CommonRafter,
    site: &Site,
    pairs: &[Pair],
    members: &mut Members,
    notes: &mut Vec<Note>,
) -> Result<(), CannotBuild> {
    if !plan.soffit_framing {
        return Ok(());
    }
    let wall = -plan.sheathing.inches();
    let ledger_face = wall - LEDGER_IN;
    if ledger_face - LEDGER_IN <= -site.tail {
        notes.push(Note::new("no soffit framing: the overhang leaves no room for it"));
        return Ok(());
    }
    let ledger = ledger(plan, rafter, site, pairs, members, notes)?;
    let inner = if ledger { ledger_face } else { wall };
    lookouts(plan, rafter, site, pairs, inner, members, notes)
}

/// Adds the ledgers along the wall that carry the soffit framing, or a note if there is no room for
/// them.
fn ledger(
    plan: &GablePlan,
    rafter: &CommonRafter,
    site: &Site,
    pairs: &[Pair],
    members: &mut Members,
    notes: &mut Vec<Note>,
) -> Result<bool, CannotBuild> {
    let lowest = rafter.tail_foot().z;
    let wall = -plan.sheathing.inches();
    let ledger_face = wall - LEDGER_IN;
    // the lowest wood of the rafters over the ledger: their bottom edge at its outer face, or the
    // soffit cut itself
    let bottom_there = (ledger_face - site.seat) * site.tangent;
    let room = bottom_there.max(lowest) - lowest;
    let depth = ledger_depth(room);
    match depth {
        Some(depth) => {
            let section = soffit_stock(depth);
            let axis = Axis {
                origin: DVec3::new(0.0, wall - LEDGER_IN / 2.0, lowest),
                along: DVec3::X,
                up: DVec3::Z,
            };
            let joints: Vec<f64> = pairs.iter().map(|pair| pair.x_a + site.thick / 2.0).collect();
            let lengths = pieces(0.0, site.length, plan.longest.inches(), &joints);
            for eave in EaveSide::BOTH {
                LongMember {
                    role: Role::SoffitLedger,
                    section: section.clone(),
                    axis,
                    others: Vec::new(),
                }
                .add(&lengths, eave, site, members)?;
            }
        }
        None if rafter.soffit_cut().is_some_and(|height| height.inches() >= bottom_there) => {
            notes.push(Note::new(
                "no soffit ledger: the level cut of the tails runs in to the wall and carries the soffit",
            ));
        }
        None => notes.push(Note::new(
            "no soffit ledger: the rafters leave no room for one against the wall",
        )),
    }
    Ok(depth.is_some())
}

/// Adds the lookouts from the wall, or the ledger's face at `inner`, to the tails.
fn lookouts(
    plan: &GablePlan,
    rafter: &CommonRafter,
    site: &Site,
    pairs: &[Pair],
    inner: f64,
    members: &mut Members,
    notes: &mut Vec<Note>,
) -> Result<(), CannotBuild> {
    let lowest = rafter.tail_foot().z;
    let tail_plane = rafter.stick.trims[1].cut.planes[0];
    let under = if site.rake > 0.0 && plan.rake_framing != RakeFraming::Ladder {
        plan.outlooker.thickness_in()
    } else {
        0.0
    };
    let stock = soffit_stock(3.5);
    let thick = stock.thickness_in();
    let mut without = 0;
    for eave in EaveSide::BOTH {
        let mut taken = f64::NEG_INFINITY;
        for (index, pair) in pairs.iter().enumerate() {
            let x = pair.x(eave);
            let next = pairs.get(index + 1).map_or(site.length, |pair| pair.x(eave));
            // beyond its rafter, or before it if the next one leaves no room
            let face = if x + site.thick + thick <= next + LAST_BITS {
                x + site.thick
            } else if x - thick >= taken - LAST_BITS && index > 0 {
                x - thick
            } else {
                taken = x + site.thick;
                without += 1;
                continue;
            };
            taken = (face + thick).max(x + site.thick);
            let middle = face + thick / 2.0;
            let axis =
                Axis { origin: DVec3::new(middle, inner, lowest), along: -DVec3::Y, up: DVec3::Z };
            let trims = [
                end("square cut", Plane::through(DVec3::Y * inner, DVec3::Y)),
                end("tail cut", tail_plane),
                end("clip to the roof plane", site.roof_plane(EaveSide::A, under)),
            ];
            let (axis, trims) = site.placed(eave, middle, &axis, &trims);
            members.add(Role::SoffitLookout, &stock, axis, &trims)?;
        }
    }
    if without > 0 {
        notes.push(Note::new(format!(
            "{without} rafter(s) have no room for a soffit lookout beside them: the soffit spans on to the next one"
        )));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::super::trial::{gable, placed};
    use super::*;

    /// 40 ft with rakes of 12 in out of lumber of 16 ft: 504 in make three pieces, each ending on the middle of a rafter, and as even as that
    /// allows. Thirds end at 156 in, so the rafter at 160 in; what is left halves at 326 in, so 320 in.
    #[test]
    fn boards_meet_on_the_middle_of_a_rafter() {
        let frame = gable(
            "[building]\nlength = \"40'\"\nspan = \"24'\"\nwall_height = \"8'\"\n\
             [roof]\npitch = \"6/12\"\nspacing = \"16\\\"\"\n\
             [eave]\noverhang = \"12\\\"\"\nfascia = \"1x8\"\nsubfascia = \"2x6\"\n\
             [rake]\noverhang = \"12\\\"\"\n[lumber]\nlongest = \"16'\"\n",
        );
        let by_hand = [(-12.0, 160.0), (160.0, 320.0), (320.0, 492.0)];
        for role in [Role::Fascia, Role::Subfascia] {
            let pieces = placed(&frame.members, role);
            assert_eq!(pieces.len(), 6, "{role:?}");
            for (number, (low, high)) in pieces.iter().enumerate() {
                let (from, to) = by_hand[number / 2];
                assert!((low.x - from).abs() < LAST_BITS, "{role:?} {low} {high}");
                assert!((high.x - to).abs() < LAST_BITS, "{role:?} {low} {high}");
            }
        }
        // plates are pieced anywhere: whole lengths first
        let plates = placed(&frame.members, Role::Plate);
        let along: Vec<f64> = plates
            .iter()
            .filter(|(low, high)| high.x - low.x > 4.0)
            .map(|(low, high)| high.x - low.x)
            .collect();
        assert_eq!(along, [192.0, 192.0, 192.0, 192.0, 96.0, 96.0]);
    }

    /// A ledger is the deepest of three that fits.
    #[test]
    fn a_ledger_fits_the_height_under_the_rafters() {
        for (room, depth) in [
            (10.0, Some(3.5)),
            (3.5, Some(3.5)),
            (3.4, Some(2.5)),
            (2.5, Some(2.5)),
            (1.5, Some(1.5)),
            (1.4, None),
            (-1.0, None),
        ] {
            assert_eq!(ledger_depth(room), depth, "{room}");
        }
    }
}
