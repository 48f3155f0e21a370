//! Ceiling joists, rafter ties and collar ties: everything level that holds a pair together.

use crate::catalog::lumber::Section;
use crate::geom::DVec3;
use crate::key;
use crate::measure::Amount::Inches;
use crate::measure::Note;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::{HAIR, LAST_BITS};
use crate::plan::{GablePlan, Joists, Meeting};

use super::across::{Crossing, Joist, Loose};
use super::beside::{joist_face, tie_bottom, tie_places};
use super::common::CannotBuild;
use super::member::{Members, end};
use super::opened;
use super::opening::{Ceiling, Opening, Rafters, Tie};
use super::pair::Pair;
use super::role::Role;
use super::site::{EaveSide, Site};
use super::stick::Axis;

/// Adds joists or ties, and collar ties.
pub(super) fn add(
    plan: &GablePlan,
    site: &Site,
    pairs: &[Pair],
    members: &mut Members,
    notes: &mut Vec<Note>,
) -> Result<(), CannotBuild> {
    refuse_under_ridge(plan, site)?;
    refuse_crowded(plan, site, pairs)?;
    if plan.joists == Joists::Beside {
        refuse_joists(plan, site)?;
    }
    let without = match plan.joists {
        Joists::Beside => {
            let without = |pair: &&Pair| !pair.at_end && pair.joist_side == 0.0;
            (pairs.iter().filter(without).count(), "joist")
        }
        Joists::Across => {
            notes.push(Note::new(
                "the ceiling joists across the rafters are not part of this list, and an inside bearing changes nothing in it",
            ));
            let places = tie_places(plan, site, pairs);
            (places.iter().filter(|place| place.is_none()).count(), "rafter tie")
        }
        Joists::None => (0, ""),
    };
    for stick in framed(plan, site, pairs)? {
        members.add(stick.role, &stick.section, stick.axis, &stick.trims)?;
    }
    if let (without @ 1.., what) = without {
        notes.push(Note::new(format!(
            "{without} pair(s) near the end walls have no room for a {what} beside them and are not tied"
        )));
    }
    if plan.collars {
        collars(plan, site, pairs, members, notes)?;
    }
    Ok(())
}

/// Bottom of the ridge board, or of butting rafters at the peak, above the plate.
fn under_ridge(site: &Site) -> f64 {
    if site.half_ridge > 0.0 {
        site.ridge_top - site.ridge_depth
    } else {
        site.roof_height(site.run) - site.depth * site.secant
    }
}

fn refuse_under_ridge(plan: &GablePlan, site: &Site) -> Result<(), CannotBuild> {
    let (section, depth_key) = match plan.joists {
        Joists::Beside => (&plan.joist, key!("ceiling.stock")),
        Joists::Across => (&plan.tie, key!("ceiling.tie_stock")),
        Joists::None => return Ok(()),
    };
    let top = tie_bottom(plan) + section.depth_in();
    let room = under_ridge(site);
    if top <= room + LAST_BITS {
        return Ok(());
    }
    let key = if plan.tie_height.is_some() { key!("ceiling.tie_height") } else { depth_key };
    Err(CannotBuild {
        key,
        message: Note::with(
            "joists or ties that reach {} above the plate run into the ridge, which leaves {}",
            [Inches(top), Inches(room)],
        ),
        help: "set them lower, or take a shallower section".into(),
    })
}

/// Refuses a rafter that does not fit into one spacing with the sticks beside it.
fn refuse_crowded(plan: &GablePlan, site: &Site, pairs: &[Pair]) -> Result<(), CannotBuild> {
    // with one pair between the end walls nothing repeats at the spacing
    if pairs.iter().filter(|pair| !pair.at_end).count() < 2 {
        return Ok(());
    }
    let joist = plan.joist.thickness_in();
    let offset = match plan.meeting {
        Meeting::Offset if plan.bearing.is_some() => joist,
        _ => 0.0,
    };
    let (beside, with, top) = match plan.joists {
        Joists::Beside if plan.bearing.is_some() => {
            (2.0 * joist, "two joists", plan.joist.depth_in())
        }
        Joists::Beside => (joist, "a joist", plan.joist.depth_in()),
        Joists::Across => (plan.tie.thickness_in(), "a rafter tie", plan.tie.depth_in()),
        Joists::None => (0.0, "nothing", 0.0),
    };
    // collar ties go on the other side, where an offset rafter of the pair before may be too
    let collar = match (plan.collars, plan.joists) {
        (true, Joists::Beside) => plan.collar.thickness_in() + offset,
        (true, _) => plan.collar.thickness_in(),
        (false, _) => 0.0,
    };
    let one_height = collar > 0.0 && collar_bottom(plan, site) < tie_bottom(plan) + top;
    let (needed, with) = if one_height && beside > 0.0 {
        (site.thick + beside + collar, format!("{with} and a collar tie"))
    } else if collar > beside {
        (site.thick + collar, "a collar tie".to_owned())
    } else {
        (site.thick + beside, with.to_owned())
    };
    let spacing = plan.spacing.inches();
    if spacing >= needed - LAST_BITS {
        return Ok(());
    }
    Err(CannotBuild {
        key: key!("roof.spacing"),
        message: Note::with(
            format!(
                "a rafter with {with} beside it takes {{}}, and rafters at {{}} on center leave less"
            ),
            [Inches(needed), Inches(spacing)],
        ),
        help: Note::with(
            "write a spacing of {} or more ({} to {} are usual), or thinner lumber",
            [Inches(needed), Inches(12.0), Inches(24.0)],
        ),
    })
}

/// Refuses a first length of joist that runs into the stick in its line at the heel of the other eave:
/// the offset rafter, or the filler.
fn refuse_joists(plan: &GablePlan, site: &Site) -> Result<(), CannotBuild> {
    let Some(bearing) = plan.bearing.filter(|_| plan.meeting != Meeting::Splice) else {
        return Ok(());
    };
    let reach = bearing.inches() + plan.lap.inches() / 2.0;
    let clear = site.span - heel_reach(site, tie_bottom(plan) + plan.joist.depth_in());
    if reach <= clear + LAST_BITS {
        return Ok(());
    }
    Err(CannotBuild {
        key: key!("ceiling.bearing"),
        message: Note::with(
            "the first length of joist would reach {} and run into the other eave's heel, which leaves {}",
            [Inches(reach), Inches(clear)],
        ),
        help: "move the bearing, shorten the lap, or write meeting = \"splice\"".into(),
    })
}

/// The gable as a block that joists and ties cross.
fn crossing(site: &Site) -> Crossing {
    Crossing {
        origin: DVec3::ZERO,
        along: DVec3::X,
        across: DVec3::Y,
        span: site.span,
        reach: (site.start, site.span - site.start),
        slopes: EaveSide::BOTH.map(|eave| site.roof_plane(eave, 0.0)).into(),
    }
}

/// The joists or ties of every pair that has one, each with the number of its pair; whole, as if nothing were opened.
fn laid(plan: &GablePlan, site: &Site, pairs: &[Pair]) -> Vec<(usize, Loose)> {
    let crossing = crossing(site);
    let bottom = tie_bottom(plan);
    match plan.joists {
        Joists::None => Vec::new(),
        Joists::Across => {
            let tie = plan.tie.thickness_in();
            // a tie is beyond its rafter or before it
            let beside = |x: f64| {
                pairs.iter().position(|pair| {
                    (pair.x_a + site.thick - x).abs() < HAIR || (pair.x_a - tie - x).abs() < HAIR
                })
            };
            let places = tie_places(plan, site, pairs).into_iter().flatten();
            let laid = places.filter_map(|x| {
                Some((beside(x)?, crossing.tie((Role::RafterTie, &plan.tie), bottom, x)))
            });
            laid.collect()
        }
        Joists::Beside => {
            let joist = Joist {
                section: plan.joist.clone(),
                bottom,
                bearing: plan
                    .bearing
                    .map(|bearing| (bearing.inches(), plan.meeting, plan.lap.inches())),
                heel_reach: heel_reach(site, bottom + plan.joist.depth_in()),
            };
            let tied = pairs.iter().enumerate().filter(|(_, pair)| pair.joist_side != 0.0);
            let laid = tied.flat_map(|(number, pair)| {
                let [face_a, face_b] =
                    EaveSide::BOTH.map(|eave| joist_face(plan, site, pair, eave));
                let sticks = crossing.joist(&joist, (face_a, face_b), pair.joist_side);
                sticks.into_iter().map(move |stick| (number, stick))
            });
            laid.collect()
        }
    }
}

/// The joists or ties as they are framed, with what frames the attic opening.
fn framed(plan: &GablePlan, site: &Site, pairs: &[Pair]) -> Result<Vec<Loose>, CannotBuild> {
    let laid = laid(plan, site, pairs);
    let rows = rows(site, pairs);
    let ceiling = below(plan, site, &rows);
    let opening = opening_of(&ceiling, site, &laid);
    let Some(opening) = opening else {
        return Ok(laid.into_iter().map(|(_, stick)| stick).collect());
    };
    if plan.joists == Joists::Across {
        let stay = opened::without_cut(&crossing(site), &opening, laid);
        return Ok(stay.into_iter().map(|(_, stick)| stick).collect());
    }
    if let Some((message, help)) = ceiling.refusal(&opening) {
        let key = match (&plan.access.opening, plan.access.y) {
            (Some(_), _) if !opening.is_between => key!("opening.start"),
            (Some(_), _) => key!("opening.from"),
            (None, _) if !opening.is_between => key!("attic.access_x"),
            (None, Some(_)) => key!("attic.access_y"),
            (None, None) => key!("attic.access_length"),
        };
        return Err(CannotBuild { key, message, help });
    }
    let framed = opened::framed(&crossing(site), (&plan.joist, tie_bottom(plan)), &opening, laid);
    Ok(framed.into_iter().map(|(_, stick)| stick).collect())
}

/// The opening to the attic; `None` if it has no size, or no joist and no tie is near it.
pub(super) fn opening(plan: &GablePlan, site: &Site, pairs: &[Pair]) -> Option<Opening> {
    let rows = rows(site, pairs);
    opening_of(&below(plan, site, &rows), site, &laid(plan, site, pairs))
}

fn opening_of(ceiling: &Ceiling, site: &Site, laid: &[(usize, Loose)]) -> Option<Opening> {
    let sticks = laid.iter().map(|(row, stick)| (*row, stick));
    ceiling.opening(&Tie::all(&crossing(site), sticks))
}

/// The rafters of the pairs.
fn rows(site: &Site, pairs: &[Pair]) -> Vec<Rafters> {
    let row = |pair: &Pair| Rafters {
        at: pair.x_a,
        x: (pair.x_a.min(pair.x_b), pair.x_a.max(pair.x_b) + site.thick),
        is_held: pair.at_end,
    };
    pairs.iter().map(row).collect()
}

/// The ceiling in which an opening finds its place.
fn below<'a>(plan: &'a GablePlan, site: &Site, rows: &'a [Rafters]) -> Ceiling<'a> {
    let heel = heel_reach(site, tie_bottom(plan) + plan.joist.depth_in());
    Ceiling {
        access: &plan.access,
        length: site.length,
        margin: site.thick,
        inner: (site.plate, site.span - site.plate),
        clear: (heel, site.span - heel),
        bearing: plan.bearing.map(InInches::inches),
        rows,
        thick: plan.joist.thickness_in(),
    }
}

/// Level length from the building line to where the rafter's bottom edge is `height` above the plate.
#[must_use]
fn heel_reach(site: &Site, height: f64) -> f64 {
    (site.seat + height / site.tangent).min(site.run)
}

/// A level tie from roof plane to roof plane, its near face at `x`.
fn level_tie(
    site: &Site,
    section: &Section,
    bottom: f64,
    x: f64,
    role: Role,
    members: &mut Members,
) -> Result<(), CannotBuild> {
    let tie = crossing(site).tie((role, section), bottom, x);
    members.add(role, section, tie.axis, &tie.trims)
}

/// Height of the bottom of the collar ties above the plate, inches.
#[must_use]
pub(super) fn collar_bottom(plan: &GablePlan, site: &Site) -> f64 {
    plan.collar_height.map_or(2.0 / 3.0 * (site.roof_height(site.run)), InInches::inches)
}

fn collars(
    plan: &GablePlan,
    site: &Site,
    pairs: &[Pair],
    members: &mut Members,
    notes: &mut Vec<Note>,
) -> Result<(), CannotBuild> {
    let bottom = collar_bottom(plan, site);
    let top = bottom + plan.collar.depth_in();
    if top > under_ridge(site) + LAST_BITS || bottom < site.heel_stand {
        notes.push(Note::with(
            "no collar ties: {} deep from {} above the plate do not fit between heel and ridge; hold the ridge with straps over it",
            [plan.collar.depth, inches(bottom)],
        ));
        return Ok(());
    }
    let inner: Vec<&Pair> = pairs.iter().filter(|pair| !pair.at_end).collect();
    let thick = plan.collar.thickness_in();
    let ties: Vec<f64> = match plan.joists {
        Joists::Across => tie_places(plan, site, pairs).into_iter().flatten().collect(),
        Joists::Beside | Joists::None => Vec::new(),
    };
    let tied_before = |pair: &Pair| {
        let near = pair.x_a - plan.tie.thickness_in();
        ties.iter().any(|x| (x - near).abs() < LAST_BITS)
    };
    // places with room for a tie: on the side away from the joist, clear of the gable ends, and not
    // where outlookers cross the first and the last bay
    let places: Vec<Option<(f64, bool, &Pair)>> = inner
        .iter()
        .enumerate()
        .map(|(index, pair)| {
            let crossed = site.outlookers && (index == 0 || index + 1 == inner.len());
            let before = pair.joist_side >= 0.0 && !tied_before(pair);
            let x = if before { pair.x_a - thick } else { pair.x_a + site.thick };
            (!crossed && site.clear_of_ends(x, x + thick)).then_some((x, before, *pair))
        })
        .collect();
    let left_out = places.iter().filter(|place| place.is_none()).count();
    let places: Vec<(f64, bool, &Pair)> = places.into_iter().flatten().collect();
    let spacing = plan.collar_spacing.inches();
    let mut last = f64::NEG_INFINITY;
    for (index, &(x, before, pair)) in places.iter().enumerate() {
        // a tie is needed here if the next place would be too far from the last tie
        let next = places.get(index + 1).map_or(f64::INFINITY, |place| place.0);
        if last.is_finite() && next - last <= spacing + HAIR {
            continue;
        }
        // the last place is only needed if the end wall is too far away
        let at_end = next.is_infinite() && last.is_finite();
        if at_end && site.length - last <= spacing + HAIR {
            continue;
        }
        last = x;
        level_tie(site, &plan.collar, bottom, x, Role::CollarTie, members)?;
        let gap = (pair.x_b - pair.x_a).abs();
        if gap > LAST_BITS {
            // the offset rafter of eave B is moved by a joist's thickness
            let near = if before { pair.x_a } else { pair.x_b + site.thick };
            let section = Section::sized(inches(gap), plan.collar.depth);
            let axis = Axis {
                origin: DVec3::new(near + gap / 2.0, 0.0, bottom),
                along: DVec3::Y,
                up: DVec3::Z,
            };
            let trims = [
                end("cut to the rafter's bottom edge", site.rafter_bottom(EaveSide::B).flipped()),
                end("cut to the roof plane", site.roof_plane(EaveSide::B, 0.0)),
                end("plumb cut", crossing(site).toward_b(site.run + site.half_ridge).flipped()),
            ];
            members.add(Role::CollarFiller, &section, axis, &trims)?;
        }
    }
    if left_out > 0 {
        notes.push(Note::new(format!(
            "{left_out} pair(s) near the end walls have no room for a collar tie beside outlookers or gable studs"
        )));
    }
    Ok(())
}
