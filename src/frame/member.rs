//! Patterns and their placements: equal sticks are one member with a count.

use std::collections::HashMap;

use crate::catalog::lumber::Section;
use crate::geom::{Cut, DVec3, Plane, Solid};
use crate::measure::Length;
use crate::measure::quantity::{in_inches, inches};
use crate::plan::StockLengths;

use super::id;
use super::layout::Pair;
use super::site::{EaveSide, Site};
use super::stick::{Axis, Edge, SawSetting, Side, Stick, Trim};

/// What a member does in the frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Role {
    /// Common rafter.
    CommonRafter,
    /// Rafter flush with an end wall, where it differs from the common one.
    EndRafter,
    /// Barge rafter outside an end wall.
    BargeRafter,
    /// Piece of the ridge board.
    RidgeBoard,
    /// Ceiling joist.
    CeilingJoist,
    /// Piece beside the joint of two joists in line.
    SplicePiece,
    /// Block that fills between a joist and its rafter.
    Filler,
    /// Rafter tie where joists do not tie.
    RafterTie,
    /// Collar tie.
    CollarTie,
    /// Block that fills between a collar tie and an offset rafter.
    CollarFiller,
    /// Gable stud.
    GableStud,
    /// Sill or head of a vent opening.
    VentFrame,
    /// Rung of a rake ladder.
    LadderRung,
    /// Outlooker.
    Outlooker,
    /// Blocking over the plate.
    Blocking,
    /// Sub-fascia.
    Subfascia,
    /// Fascia.
    Fascia,
    /// Ledger of a soffit.
    SoffitLedger,
    /// Lookout of a soffit.
    SoffitLookout,
    /// Top plate that the roof stands on; cut with the walls.
    Plate,
    /// Plate of the inside bearing; cut with the walls.
    BearingPlate,
}

impl Role {
    /// The letters of its marks.
    #[must_use]
    pub fn letters(self) -> &'static str {
        match self {
            Role::CommonRafter => "R",
            Role::EndRafter => "RE",
            Role::BargeRafter => "RB",
            Role::RidgeBoard => "D",
            Role::CeilingJoist => "J",
            Role::SplicePiece => "JS",
            Role::Filler => "JF",
            Role::RafterTie => "T",
            Role::CollarTie => "C",
            Role::CollarFiller => "CF",
            Role::GableStud => "G",
            Role::VentFrame => "GV",
            Role::LadderRung => "L",
            Role::Outlooker => "O",
            Role::Blocking => "B",
            Role::Subfascia => "FS",
            Role::Fascia => "F",
            Role::SoffitLedger => "SL",
            Role::SoffitLookout => "S",
            Role::Plate => "P",
            Role::BearingPlate => "PB",
        }
    }

    /// The role in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Role::CommonRafter => "common rafter",
            Role::EndRafter => "end rafter",
            Role::BargeRafter => "barge rafter",
            Role::RidgeBoard => "ridge board",
            Role::CeilingJoist => "ceiling joist",
            Role::SplicePiece => "splice piece",
            Role::Filler => "joist filler",
            Role::CollarFiller => "collar tie filler",
            Role::RafterTie => "rafter tie",
            Role::CollarTie => "collar tie",
            Role::GableStud => "gable stud",
            Role::VentFrame => "vent sill or head",
            Role::LadderRung => "ladder rung",
            Role::Outlooker => "outlooker",
            Role::Blocking => "blocking",
            Role::Subfascia => "sub-fascia",
            Role::Fascia => "fascia",
            Role::SoffitLedger => "soffit ledger",
            Role::SoffitLookout => "soffit lookout",
            Role::Plate => "top plate",
            Role::BearingPlate => "bearing plate",
        }
    }
}

/// One pattern: a stick as it is cut, and every place it goes to.
#[derive(Debug, Clone)]
pub struct Member {
    /// Its short mark, unique in the frame.
    pub mark: String,
    /// What it does.
    pub role: Role,
    /// The stick, described along [`Axis::PATTERN`].
    pub stick: Stick,
    /// Where each one lies.
    pub placements: Vec<Axis>,
    /// The id of each one, in the order of the placements; unique in the frame, and kept while the
    /// stick's place stays, whatever else changes.
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
    /// How many planes it has: one is a plain cut or a rip, more a notch or a housing.
    pub planes: usize,
    /// What a rip leaves of the depth, on the higher and on the lower face.
    pub rip: Option<(Length, Length)>,
}

impl Member {
    /// The one eave that all of its sticks belong to, if they lie between an eave and the middle.
    #[must_use]
    pub fn only_eave(&self, run: f64) -> Option<EaveSide> {
        let middle = self.blank() / 2.0;
        let side = |axis: &Axis| {
            let y = (axis.origin + axis.along * in_inches(middle)).y;
            if y < run { EaveSide::A } else { EaveSide::B }
        };
        let first = side(self.placements.first()?);
        self.placements
            .iter()
            .all(|axis| side(axis) == first)
            .then_some(first)
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

    /// Long and short length of an edge: its two faces differ where an end is beveled.
    #[must_use]
    pub fn edge_lengths(&self, edge: Edge) -> (Length, Length) {
        let near = self.stick.edge_length(edge, Side::Near);
        let far = self.stick.edge_length(edge, Side::Far);
        if near >= far {
            (near, far)
        } else {
            (far, near)
        }
    }

    /// The trims that end it, at the start of the pattern's axis and at its end: the two end
    /// cuts, or a later cut that took one of them away whole.
    fn end_trims(&self) -> Vec<usize> {
        let trims = &self.stick.trims;
        let shows = |number: usize| {
            let plane = &trims[number].cut.planes[0];
            self.stick.solid().cells().iter().any(|cell| {
                cell.faces().iter().any(|face| {
                    face.plane.normal.dot(plane.normal) > 1.0 - 1e-12
                        && plane.distance(face.corners[0]).abs() < 1e-7
                })
            })
        };
        let along = |number: usize| {
            trims[number].cut.planes[0]
                .normal
                .dot(self.stick.axis.along)
        };
        [0, 1]
            .into_iter()
            .map(|end| {
                if shows(end) {
                    return end;
                }
                (2..trims.len())
                    .filter(|&other| trims[other].cut.planes.len() == 1 && shows(other))
                    .find(|&other| along(other) * along(end) > 1e-9)
                    .unwrap_or(end)
            })
            .collect()
    }

    /// The two end cuts: at the start of the pattern's axis and at its end.
    #[must_use]
    pub fn ends(&self) -> Vec<End> {
        self.end_trims()
            .into_iter()
            .map(|number| {
                let trim = &self.stick.trims[number];
                End {
                    cut: trim.name,
                    saw: self.stick.saw_setting(&trim.cut.planes[0]),
                }
            })
            .collect()
    }

    /// The cuts beyond the two ends that take something off, each name once.
    #[must_use]
    pub fn other_cuts(&self) -> Vec<OtherCut> {
        let mut cuts: Vec<OtherCut> = Vec::new();
        let ends = self.end_trims();
        for (number, trim) in self.stick.trims.iter().enumerate().skip(2) {
            let known = cuts.iter().any(|cut| cut.name == trim.name);
            let (Some(plane), false) = (trim.cut.planes.first(), known) else {
                continue;
            };
            if !self.stick.takes_off(number) || ends.contains(&number) {
                continue;
            }
            let saw = self.stick.saw_setting(plane);
            // one plane along the stick is a rip: told by what it leaves on the two faces
            let along = plane.normal.dot(self.stick.axis.along).abs() < 1e-9;
            let rip = (trim.cut.planes.len() == 1 && along).then(|| {
                let left = |side: Side| {
                    let foot = self.stick.point(0.0, Edge::Bottom, side);
                    let up = plane.along_line(foot, self.stick.axis.up).unwrap_or(0.0);
                    inches(up.clamp(0.0, self.stick.section.depth_in()))
                };
                let (near, far) = (left(Side::Near), left(Side::Far));
                if near >= far {
                    (near, far)
                } else {
                    (far, near)
                }
            });
            cuts.push(OtherCut {
                name: trim.name,
                saw,
                planes: trim.cut.planes.len(),
                rip,
            });
        }
        cuts
    }

    /// True if its marks are measured from the end of its axis: a rafter's from the ridge.
    #[must_use]
    pub fn hooked_at_end(&self) -> bool {
        matches!(
            self.role,
            Role::CommonRafter | Role::EndRafter | Role::BargeRafter
        )
    }

    /// Every corner on an edge of its near face, from the first one on: what is marked there.
    /// Rafters are measured from the ridge, all others from where their axis starts.
    #[must_use]
    pub fn marks(&self, edge: Edge) -> Vec<Length> {
        let level = match edge {
            Edge::Top => self.stick.section.depth_in(),
            Edge::Bottom => 0.0,
        };
        let mut at: Vec<f64> = self
            .stick
            .profile(Side::Near)
            .iter()
            .filter(|corner| (corner.y - level).abs() < 1e-7)
            .map(|corner| corner.x)
            .collect();
        at.sort_by(f64::total_cmp);
        if self.hooked_at_end() {
            at.reverse();
        }
        let first = at.first().copied().unwrap_or(0.0);
        at.into_iter()
            .map(|station| inches((station - first).abs()))
            .collect()
    }

    /// Every stick: its id and where it lies.
    pub fn placed_ids(&self) -> impl Iterator<Item = (&str, &Axis)> {
        self.ids.iter().map(String::as_str).zip(&self.placements)
    }

    /// The solid of one placement, in roof coordinates.
    #[must_use]
    pub fn placed(&self, axis: &Axis) -> Solid {
        self.stick.solid().moved(|point| axis.to_roof(point))
    }
}

/// Takes in sticks where they lie and groups equal ones.
#[derive(Debug, Default)]
pub struct Members {
    members: Vec<Member>,
    known: HashMap<Vec<i64>, usize>,
    counts: HashMap<&'static str, usize>,
}

impl Members {
    /// Adds a stick that lies along `axis` and is trimmed by planes in roof coordinates, the
    /// two end cuts first (where the axis starts, where it ends). Says nothing of a stick of
    /// which nothing is left.
    pub fn add(&mut self, role: Role, section: &Section, axis: Axis, trims: &[Trim]) {
        let Some(axis) = from_its_start(section, axis, trims) else {
            return;
        };
        let local: Vec<Trim> = trims
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
            .collect();
        let key = key(role, section, &local);
        if let Some(&index) = self.known.get(&key) {
            self.members[index].placements.push(axis);
            return;
        }
        let [first, last, others @ ..] = local.as_slice() else {
            return;
        };
        let ends = [first.clone(), last.clone()];
        let Some(stick) = Stick::new(section.clone(), Axis::PATTERN, ends, others) else {
            return;
        };
        let count = self.counts.entry(role.letters()).or_insert(0);
        *count += 1;
        self.known.insert(key, self.members.len());
        self.members.push(Member {
            mark: format!("{}{count}", role.letters()),
            role,
            stick,
            placements: vec![axis],
            ids: Vec::new(),
        });
    }

    /// The members, by role, then longest first, with their marks in that order and an id for every stick.
    #[must_use]
    pub fn finish(self, site: &Site, pairs: &[Pair]) -> Vec<Member> {
        let mut members = self.members;
        // to the thousandth, so that last bits do not decide an order
        let length = |member: &Member| -(in_inches(member.blank()) * 1e3).round() as i64;
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
        id::give(&mut members, site, pairs);
        members
    }
}

/// The axis moved along itself to where the first end cut leaves the stick's first point, so
/// that equal sticks are described alike wherever they lie.
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
    Some(Axis {
        origin: axis.origin + axis.along * first,
        ..axis
    })
}

/// What makes two sticks one pattern: role, section and cuts, to a millionth of an inch.
fn key(role: Role, section: &Section, trims: &[Trim]) -> Vec<i64> {
    let fine = |value: f64| (value * 1e6).round() as i64;
    let mut key = vec![
        role as i64,
        fine(section.thickness_in()),
        fine(section.depth_in()),
    ];
    for trim in trims {
        key.push(i64::MIN); // cuts stay apart
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
    Trim {
        name,
        cut: Cut::off(plane),
    }
}
