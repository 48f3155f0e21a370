//! Where the section is cut, and what it shows of the frame.

use crate::frame::{Frame, InSection, Member, Role};
use crate::geom::{DVec2, DVec3, Plane, Solid};
use crate::measure::tolerance::HAIR;

use super::super::super::drawing::{Drawing, Fill, Pen, View};
use super::super::super::projection::{self, Sight, Style};

/// What the section shows: the pair it is cut at, what is cut, and what is seen behind the cut.
pub(super) struct Section {
    /// The pair's number, from 1.
    pub(super) pair: usize,
    /// The cutting plane, its outside toward the viewer.
    pub(super) plane: Plane,
    /// What the plane cuts.
    pub(super) cut: Vec<(Solid, Style)>,
    /// What lies behind it.
    pub(super) seen: Vec<(Solid, Style)>,
    /// Each stick that is seen or cut: mark, role and solid.
    pub(super) sticks: Vec<(String, Role, Solid)>,
}

/// Sticks with faces no farther apart than this belong together at one pair, inches.
const TOGETHER_IN: f64 = 0.3;

impl Section {
    /// The section at the pair with the most to show; among equals the one nearest the middle.
    pub(super) fn of(frame: &Frame) -> Section {
        let mut standing: Vec<(f64, f64, &Member, Solid)> = Vec::new();
        for member in frame.members.iter().filter(|one| one.role.in_section() == InSection::AtPair)
        {
            for axis in &member.placements {
                let solid = member.placed(axis);
                if let Some((low, high)) = solid.bounds() {
                    standing.push((low.x, high.x, member, solid));
                }
            }
        }
        standing.sort_by(|a, b| a.0.total_cmp(&b.0));
        // groups of sticks that belong together
        let mut groups: Vec<(f64, f64, Vec<usize>)> = Vec::new();
        for (index, (from, to, ..)) in standing.iter().enumerate() {
            match groups.last_mut() {
                Some((_, end, list)) if *from <= *end + TOGETHER_IN => {
                    *end = end.max(*to);
                    list.push(index);
                }
                _ => groups.push((*from, *to, vec![index])),
            }
        }
        let middle = frame.site.length / 2.0;
        let worth = |(from, to, list): &(f64, f64, Vec<usize>)| {
            let has = |role: Role| list.iter().any(|at| standing[*at].2.role == role);
            let shown = [Role::CommonRafter, Role::CeilingJoist, Role::RafterTie, Role::CollarTie]
                .into_iter()
                .filter(|role| has(*role))
                .count();
            // a group of two pairs near an end wall shows less clearly
            let pairs =
                frame.pairs.iter().filter(|pair| pair.x_a > from - HAIR && pair.x_a < *to).count();
            (usize::from(pairs == 1), shown, -((from + to) / 2.0 - middle).abs())
        };
        let best = (0..groups.len()).max_by(|a, b| {
            let (a, b) = (worth(&groups[*a]), worth(&groups[*b]));
            a.0.cmp(&b.0).then(a.1.cmp(&b.1)).then(a.2.total_cmp(&b.2))
        });
        let (from, to, list) = best.map_or((0.0, 0.0, Vec::new()), |at| groups[at].clone());
        let next =
            best.and_then(|at| groups.get(at + 1)).map_or(frame.site.length, |group| group.0);
        let x = if next > to { (to + next) / 2.0 } else { to };
        let plane = Plane::through(DVec3::X * x, DVec3::X);
        let style = |pen, fill| Style { pen, fill };
        let mut sticks: Vec<(String, Role, Solid)> = list
            .iter()
            .map(|at| {
                let (.., member, solid) = &standing[*at];
                (member.mark.clone(), member.role, solid.clone())
            })
            .collect();
        let seen = sticks
            .iter()
            .map(|(.., solid)| (solid.clone(), style(Pen::Context, Fill::Paper)))
            .collect();
        let mut cut = Vec::new();
        for member in frame.members.iter().filter(|one| one.role.in_section() == InSection::Cut) {
            for axis in &member.placements {
                let solid = member.placed(axis);
                let meets = |(low, high): (DVec3, DVec3)| low.x < x && high.x > x;
                if solid.bounds().is_some_and(meets) {
                    sticks.push((member.mark.clone(), member.role, solid.clone()));
                    cut.push((solid, style(Pen::Context, Fill::Hatch)));
                }
            }
        }
        Section {
            pair: frame.pairs.iter().position(|pair| pair.x_a > from - HAIR).map_or(1, |at| at + 1),
            plane,
            cut,
            seen,
            sticks,
        }
    }

    /// Marks of the visible or cut sticks with a role, each once.
    pub(super) fn marks(&self, role: Role) -> Vec<&str> {
        let mut marks: Vec<&str> = self
            .sticks
            .iter()
            .filter(|stick| stick.1 == role)
            .map(|stick| stick.0.as_str())
            .collect();
        marks.sort_unstable();
        marks.dedup();
        marks
    }

    /// Draws what is seen, then what is cut; edges behind show as hidden lines.
    pub(super) fn draw(&self, drawing: &mut Drawing, view: &View) {
        projection::draw(drawing, view, Sight::ACROSS, &self.seen);
        for (solid, _) in &self.seen {
            for line in projection::seen(solid, Sight::ACROSS).0 {
                drawing.line(line.map(|at| view.place(at)).to_vec(), Pen::Hidden);
            }
        }
        projection::draw_cut(drawing, view, Sight::ACROSS, &self.plane, &self.cut);
    }

    /// Lower left and upper right of everything drawn of the frame, inches of work.
    pub(super) fn bounds(&self) -> (DVec2, DVec2) {
        self.cut
            .iter()
            .chain(&self.seen)
            .flat_map(|(solid, _)| solid.corners())
            .map(|corner| Sight::ACROSS.flat(corner))
            .fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(low, high), at| {
                (low.min(at), high.max(at))
            })
    }
}
