//! Patterns and their placements: equal sticks are one member with a count.

use std::collections::HashMap;

use crate::catalog::lumber::Section;
use crate::geom::{Cut, DVec3, Plane, Solid};
use crate::measure::Length;
use crate::measure::quantity::{Angle, InInches, in_degrees, inches};
use crate::measure::tolerance::{HAIR, LAST_BITS, ON_IT, ZERO};
use crate::plan::StockLengths;

use super::common::CannotBuild;
use super::erection::Step;
use super::id::Ids;
use super::pair::Pair;
use super::role::{First, Role};
use super::site::{EaveSide, Site};
use super::stick::{Axis, Edge, SawSetting, Side, Stick, Trim};

/// One pattern: a stick as it is cut, and every place where it goes.
#[derive(Debug, Clone)]
pub struct Member {
    /// Its short mark, unique in the frame.
    pub mark: String,
    /// What it does.
    pub role: Role,
    /// The stick, described along [`Axis::PATTERN`].
    pub stick: Stick,
    /// The place of each one.
    pub placements: Vec<Axis>,
    /// The id of each one, in the order of the placements; unique in the frame, and unchanged while the
    /// stick's place stays the same.
    pub ids: Vec<String>,
}

/// One end of a member.
#[derive(Debug, Clone, PartialEq)]
pub struct End {
    /// The name of the cut.
    pub cut: &'static str,
    /// Saw settings.
    pub saw: SawSetting,
}

/// A cut beyond the two ends.
#[derive(Debug, Clone, PartialEq)]
pub struct OtherCut {
    /// The name of the cut.
    pub name: &'static str,
    /// Saw settings of its first plane.
    pub saw: SawSetting,
    /// The number of its planes: one is a plain cut or a rip, more are a notch or a housing.
    pub planes: usize,
    /// The depth that remains after a rip, on the higher and on the lower face.
    pub rip: Option<(Length, Length)>,
}

impl Member {
    /// The single eave of all its sticks, if they are between an eave and the middle.
    #[must_use]
    pub fn only_eave(&self, run: f64) -> Option<EaveSide> {
        let middle = self.blank() / 2.0;
        let side = |axis: &Axis| {
            let y = (axis.origin + axis.along * middle.inches()).y;
            if y < run { EaveSide::A } else { EaveSide::B }
        };
        let first = side(self.placements.first()?);
        self.placements.iter().all(|axis| side(axis) == first).then_some(first)
    }

    /// How many there are.
    #[must_use]
    pub fn count(&self) -> usize {
        self.placements.len()
    }

    /// Shortest board it can be cut from.
    #[must_use]
    pub fn blank(&self) -> Length {
        self.stick.blank_length()
    }

    /// The shortest of these lengths that it can be cut from; `None` if none is long enough.
    #[must_use]
    pub fn order_length(&self, lengths: &StockLengths) -> Option<Length> {
        lengths.holding(&self.stick.section, self.blank())
    }

    /// Length of the top edge, on the longer of its two faces.
    #[must_use]
    pub fn top_length(&self) -> Length {
        self.edge_lengths(Edge::Top).0
    }

    /// Long and short length of an edge: its two faces differ if an end is beveled.
    #[must_use]
    pub fn edge_lengths(&self, edge: Edge) -> (Length, Length) {
        let near = self.stick.edge_length(edge, Side::Near);
        let far = self.stick.edge_length(edge, Side::Far);
        if near >= far { (near, far) } else { (far, near) }
    }

    /// The cuts at the start of the pattern's axis and at its end: each is one plane of a trim. They
    /// are the two end cuts, or the plane of a later cut that removed one of them completely.
    fn end_planes(&self) -> [(usize, &Plane); 2] {
        let stick = &self.stick;
        let shows = |plane: &Plane| {
            stick.solid().cells().iter().any(|cell| {
                cell.faces().any(|face| {
                    face.plane.normal.dot(plane.normal) > 1.0 - ZERO
                        && plane.distance(face.corner()).abs() < ON_IT
                })
            })
        };
        let (first, last) = stick.reach();
        [(0, first, -1.0), (1, last, 1.0)].map(|(end, station, outward)| {
            let own = &stick.trims[end].cut.planes[0];
            if shows(own) {
                return (end, own);
            }
            // of the planes that face outward at this end: the one through its farthest corner that is
            // most nearly square to the stick
            let farthest: Vec<DVec3> = stick
                .solid()
                .corners()
                .filter(|corner| {
                    let at = (*corner - stick.axis.origin).dot(stick.axis.along);
                    (at - station).abs() < ON_IT
                })
                .collect();
            let square = |plane: &Plane| plane.normal.dot(stick.axis.along) * outward;
            stick
                .trims
                .iter()
                .enumerate()
                .skip(2)
                .flat_map(|(number, trim)| trim.cut.planes.iter().map(move |plane| (number, plane)))
                .filter(|(_, plane)| square(plane) > LAST_BITS && shows(plane))
                .filter(|(_, plane)| farthest.iter().any(|at| plane.distance(*at).abs() < ON_IT))
                .max_by(|a, b| square(a.1).total_cmp(&square(b.1)))
                .unwrap_or((end, own))
        })
    }

    /// The two end cuts: at the start of the pattern's axis and at its end.
    #[must_use]
    pub fn ends(&self) -> Vec<End> {
        self.end_planes()
            .into_iter()
            .map(|(number, plane)| End {
                cut: self.stick.trims[number].name,
                saw: self.stick.saw_setting(plane),
            })
            .collect()
    }

    /// The cuts besides the two ends that remove anything, those with one name and one setting once.
    #[must_use]
    pub fn other_cuts(&self) -> Vec<OtherCut> {
        let mut cuts: Vec<OtherCut> = Vec::new();
        let ends = self.end_planes().map(|(number, _)| number);
        for (number, trim) in self.stick.trims.iter().enumerate().skip(2) {
            let Some(plane) = trim.cut.planes.first() else { continue };
            let saw = self.stick.saw_setting(plane);
            // a notch is known by its name: its planes are marked on the stick
            let same = |cut: &OtherCut| {
                let near = |one: Angle, other: Angle| in_degrees(one - other).abs() < HAIR;
                let other = cut.saw;
                cut.planes > 1 || near(other.miter, saw.miter) && near(other.bevel, saw.bevel)
            };
            if cuts.iter().any(|cut| cut.name == trim.name && same(cut))
                || !self.stick.takes_off(number)
                || ends.contains(&number)
            {
                continue;
            }
            // one plane along the stick is a rip: list the remaining depth on the two faces
            let along = plane.normal.dot(self.stick.axis.along).abs() < LAST_BITS;
            let rip = (trim.cut.planes.len() == 1 && along).then(|| {
                let left = |side: Side| {
                    let foot = self.stick.point(0.0, Edge::Bottom, side);
                    let up = plane.along_line(foot, self.stick.axis.up).unwrap_or(0.0);
                    inches(up.clamp(0.0, self.stick.section.depth_in()))
                };
                let (near, far) = (left(Side::Near), left(Side::Far));
                if near >= far { (near, far) } else { (far, near) }
            });
            cuts.push(OtherCut { name: trim.name, saw, planes: trim.cut.planes.len(), rip });
        }
        cuts
    }

    /// True if its marks are measured from the end of its axis, as a rafter's are from the ridge.
    #[must_use]
    pub fn hooked_at_end(&self) -> bool {
        matches!(self.role, Role::CommonRafter | Role::EndRafter | Role::BargeRafter)
    }

    /// Every corner on an edge of its near face, from the first one on: the places to mark. Rafters are
    /// measured from the ridge, all others from the start of their axis.
    #[must_use]
    pub fn marks(&self, edge: Edge) -> Vec<Length> {
        let mut at = self.stick.edge_corners(edge, Side::Near);
        if self.hooked_at_end() {
            at.reverse();
        }
        let first = at.first().copied().unwrap_or(0.0);
        at.into_iter().map(|station| inches((station - first).abs())).collect()
    }

    /// Every stick: its id and its place.
    pub fn placed_ids(&self) -> impl Iterator<Item = (&str, &Axis)> {
        self.ids.iter().map(String::as_str).zip(&self.placements)
    }

    /// The step in which one stick goes up; `goes_first` says whether it is one of those that go first.
    pub(super) fn goes_up(&self, goes_first: impl FnOnce(First) -> bool) -> Step {
        let (first, [early, late]) = self.role.goes_up();
        if goes_first(first) { early } else { late }
    }

    /// The solid of one placement, in roof coordinates.
    #[must_use]
    pub fn placed(&self, axis: &Axis) -> Solid {
        self.stick.solid().moved(|point| axis.to_roof(point))
    }
}

/// Collects sticks in their places and groups equal ones.
#[derive(Debug, Default)]
pub struct Members {
    members: Vec<Member>,
    known: HashMap<Vec<i64>, Known>,
    /// The same by all their cuts, those among them that take nothing off.
    alike: HashMap<Vec<i64>, Known>,
}

/// A pattern that was met before.
#[derive(Debug, Clone, Copy)]
struct Known {
    /// Which one it is.
    member: usize,
    /// From the first point after its first end cut to the start of the stick after all cuts, inches
    /// along it.
    start: f64,
}

impl Members {
    /// Adds a stick along `axis`, trimmed by planes in roof coordinates, the two end cuts first (at the
    /// start of the axis and at its end). Its placement is moved along the axis to the start of the
    /// stick after all cuts.
    ///
    /// # Errors
    /// [`CannotBuild`] if the cuts leave nothing of it, or several pieces. Callers check beforehand
    /// that a stick can be cut, so this is for unforeseen roofs.
    pub fn add(
        &mut self,
        role: Role,
        section: &Section,
        axis: Axis,
        trims: &[Trim],
    ) -> Result<(), CannotBuild> {
        self.placed(role, section, axis, trims).map(|_| ())
    }

    /// Adds a stick and gives its pattern.
    fn placed(
        &mut self,
        role: Role,
        section: &Section,
        axis: Axis,
        trims: &[Trim],
    ) -> Result<Known, CannotBuild> {
        let lost = || cannot_be_cut(role, "leave nothing of it");
        let axis = from_its_start(section, axis, trims).ok_or_else(lost)?;
        let local = seen_from(&axis, trims);
        let key = key(role, section, &local, PER_INCH);
        let known = match self.known.get(&key) {
            Some(known) => *known,
            None => {
                let stick = pattern(section, &local).ok_or_else(lost)?;
                let start = stick.reach().0;
                // a later cut may remove the first part that the first end cut leaves
                let stick = if start.abs() > LAST_BITS {
                    pattern(section, &seen_from(&axis.moved(start), trims)).ok_or_else(lost)?
                } else {
                    stick
                };
                let pieces = stick.solid().pieces();
                if pieces > 1 {
                    return Err(cannot_be_cut(role, &format!("part it into {pieces} pieces")));
                }
                let known = Known { member: self.members.len(), start };
                self.known.insert(key, known);
                self.members.push(Member {
                    mark: String::new(),
                    role,
                    stick,
                    placements: Vec::new(),
                    ids: Vec::new(),
                });
                known
            }
        };
        self.members[known.member].placements.push(axis.moved(known.start));
        Ok(known)
    }

    /// Adds a stick that has its id already: all of a frame's sticks are added in this way, or none.
    ///
    /// # Errors
    /// [`CannotBuild`] as for [`Members::add`].
    pub fn add_named(
        &mut self,
        role: Role,
        section: &Section,
        axis: Axis,
        trims: &[Trim],
        id: String,
    ) -> Result<(), CannotBuild> {
        let known = self.placed(role, section, axis, trims)?;
        self.members[known.member].ids.push(id);
        Ok(())
    }

    /// The same for a stick some of whose cuts may take nothing off: `taking_off` gives those that do, the two end cuts among
    /// them. It is asked once for all sticks with the same cuts.
    ///
    /// # Errors
    /// [`CannotBuild`] as for [`Members::add`].
    pub fn add_of_many_cuts(
        &mut self,
        (role, section): (Role, &Section),
        axis: Axis,
        trims: &[Trim],
        id: String,
        taking_off: impl FnOnce() -> Vec<Trim>,
    ) -> Result<(), CannotBuild> {
        let (start, key) = described((role, section), axis, trims, PER_INCH)
            .ok_or_else(|| cannot_be_cut(role, "leave nothing of it"))?;
        let Some(known) = self.alike.get(&key).copied() else {
            let known = self.placed(role, section, axis, &taking_off())?;
            self.members[known.member].ids.push(id);
            self.alike.insert(key, known);
            return Ok(());
        };
        let member = &mut self.members[known.member];
        member.placements.push(start.moved(known.start));
        member.ids.push(id);
        Ok(())
    }

    /// The members, by role, the longest first, with their marks in that order and an id for every
    /// stick.
    #[must_use]
    pub fn finish(self, site: &Site, pairs: &[Pair]) -> Vec<Member> {
        let mut members = self.marked();
        let mut ids = Ids::default();
        for member in &mut members {
            let Member { role, stick, placements, .. } = member;
            let given = placements.iter().map(|axis| ids.give(*role, stick, axis, site, pairs));
            member.ids = given.collect();
        }
        members
    }

    /// The members, by role, the longest first, with their marks in that order.
    #[must_use]
    pub fn marked(self) -> Vec<Member> {
        let mut members = self.members;
        // to the thousandth, so that last bits do not change the order
        let length = |member: &Member| -(member.blank().inches() * 1e3).round() as i64;
        members.sort_by_cached_key(|member| (member.role, length(member)));
        let mut letters = "";
        let mut number = 0;
        for member in &mut members {
            if member.role.letters() != letters {
                letters = member.role.letters();
                number = 0;
            }
            number += 1;
            member.mark = format!("{letters}{number}");
        }
        members
    }
}

/// Sticks of one pattern are equal to a millionth of an inch.
const PER_INCH: f64 = 1e6;

/// Where a stick starts after its first end cut, and what it has in common with all sticks that are cut alike, to so many parts
/// of an inch.
pub(super) fn described(
    (role, section): (Role, &Section),
    axis: Axis,
    trims: &[Trim],
    per_inch: f64,
) -> Option<(Axis, Vec<i64>)> {
    let start = from_its_start(section, axis, trims)?;
    Some((start, key(role, section, &seen_from(&start, trims), per_inch)))
}

/// The axis moved along itself to the stick's first point after the first end cut, so that equal sticks
/// have equal descriptions wherever they are.
fn from_its_start(section: &Section, axis: Axis, trims: &[Trim]) -> Option<Axis> {
    let plane = trims.first()?.cut.planes.first()?;
    let (deep, thick) = (section.depth_in(), section.thickness_in());
    let mut first = f64::INFINITY;
    for up in [0.0, deep] {
        for across in [-thick / 2.0, thick / 2.0] {
            let corner = axis.origin + axis.up * up + axis.across() * across;
            first = first.min(plane.along_line(corner, axis.along)?);
        }
    }
    Some(axis.moved(first))
}

/// Cuts in roof coordinates as the stick sees them.
fn seen_from(axis: &Axis, trims: &[Trim]) -> Vec<Trim> {
    trims
        .iter()
        .map(|trim| Trim {
            name: trim.name,
            cut: Cut::out(
                trim.cut
                    .planes
                    .iter()
                    .map(|plane| axis.plane_to_pattern(plane))
                    .collect::<Vec<_>>(),
            ),
        })
        .collect()
}

/// The stick after its own cuts; `None` if nothing remains.
fn pattern(section: &Section, local: &[Trim]) -> Option<Stick> {
    let [first, last, others @ ..] = local else {
        return None;
    };
    let ends = [first.clone(), last.clone()];
    Stick::new(section.clone(), Axis::PATTERN, ends, others)
}

/// The error for a stick of the plan that can't be cut.
fn cannot_be_cut(role: Role, how: &str) -> CannotBuild {
    let (key, help) = role.decided_by();
    CannotBuild {
        key,
        message: format!("the cuts of a {} {how}", role.words()).into(),
        help: help.into(),
    }
}

/// What two sticks of one pattern have in common: role, section and cuts, to so many parts of an inch.
fn key(role: Role, section: &Section, trims: &[Trim], per_inch: f64) -> Vec<i64> {
    let fine = |value: f64| (value * per_inch).round() as i64;
    let mut key = vec![role as i64, fine(section.thickness_in()), fine(section.depth_in())];
    for trim in trims {
        key.push(i64::MIN); // separates the cuts
        for plane in &trim.cut.planes {
            let DVec3 { x, y, z } = plane.normal;
            key.extend([x, y, z, plane.offset].map(fine));
        }
    }
    key
}

/// An end cut by one plane.
#[must_use]
pub fn end(name: &'static str, plane: Plane) -> Trim {
    Trim { name, cut: Cut::off(plane) }
}
