//! Long members in line: their pieces, and the places of the joints along the roof.

use crate::frame::{EaveSide, Frame, Member, Role};
use crate::geom::{DVec2, DVec3};
use crate::measure::Writing;
use crate::measure::quantity::inches;
use crate::measure::tolerance::{HAIR, LAST_BITS};
use crate::sheet::drawing::{Anchor, Drawing, Fill, Pen};
use crate::sheet::paper::SMALL;
use crate::sheet::typeface::{self, Weight};

/// Height of a strip and of a line of figures under it, inches of paper.
const STRIP: f64 = 0.26;
const LINE: f64 = 0.17;

/// The roles that are pieced along the roof.
const ROLES: [Role; 6] = [
    Role::RidgeBoard,
    Role::Subfascia,
    Role::Fascia,
    Role::SoffitLedger,
    Role::Plate,
    Role::BearingPlate,
];

/// One piece: its mark and its place along x.
#[derive(Debug, Clone, PartialEq)]
struct Piece {
    mark: String,
    from: f64,
    to: f64,
}

/// Pieces in line, near end first, and the eaves with such rows.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Row {
    role: Role,
    pieces: Vec<Piece>,
    eaves: Vec<EaveSide>,
}

/// Every row with a joint in it; equal rows are one.
pub(super) fn rows(frame: &Frame) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    for role in ROLES {
        let members: Vec<&Member> =
            frame.members.iter().filter(|member| member.role == role).collect();
        let mut lines: Vec<((i64, i64), f64, Vec<Piece>)> = Vec::new();
        for member in members {
            for axis in &member.placements {
                let solid = member.placed(axis);
                let Some((low, high)) = solid.bounds() else {
                    continue;
                };
                if axis.along.dot(DVec3::X).abs() < 0.5 {
                    continue;
                }
                let middle = (low + high) / 2.0;
                let key = ((middle.y * 1e3).round() as i64, (middle.z * 1e3).round() as i64);
                let piece = Piece { mark: member.mark.clone(), from: low.x, to: high.x };
                match lines.iter_mut().find(|(known, ..)| *known == key) {
                    Some((.., pieces)) => pieces.push(piece),
                    None => lines.push((key, middle.y, vec![piece])),
                }
            }
        }
        let at_eave = !matches!(role, Role::RidgeBoard | Role::BearingPlate);
        for (_, y, mut pieces) in lines {
            let eaves = match (at_eave, y < frame.site.run) {
                (false, _) => Vec::new(),
                (true, true) => vec![EaveSide::A],
                (true, false) => vec![EaveSide::B],
            };
            if pieces.len() < 2 {
                continue;
            }
            pieces.sort_by(|a, b| a.from.total_cmp(&b.from));
            let same = |row: &&mut Row| {
                row.role == role
                    && row.pieces.len() == pieces.len()
                    && row
                        .pieces
                        .iter()
                        .zip(&pieces)
                        .all(|(a, b)| a.mark == b.mark && (a.from - b.from).abs() < HAIR)
            };
            match rows.iter_mut().find(same) {
                Some(row) => row.eaves.extend(eaves),
                None => rows.push(Row { role, pieces, eaves }),
            }
        }
    }
    // eave A before eave B
    rows.sort_by_key(|row| {
        let role = ROLES.iter().position(|role| *role == row.role);
        (role, row.eaves.first() == Some(&EaveSide::B))
    });
    rows
}

/// The joints of everything that is pieced and of which `shows` is true; `None` if there is no joint.
pub(in crate::sheet::set) fn in_words(
    frame: &Frame,
    shows: impl Fn(Role) -> bool,
    writing: Writing,
) -> Option<String> {
    let rows = rows(frame).into_iter().filter(|row| shows(row.role));
    let told: Vec<String> = rows.map(|row| row.in_words(writing)).collect();
    (!told.is_empty()).then(|| format!("Joints, from the near end of each: {}.", told.join("; ")))
}

impl Row {
    /// Its near and its far end, inches along the roof.
    fn ends(&self) -> (f64, f64) {
        let from = self.pieces.first().map_or(0.0, |piece| piece.from);
        (from, self.pieces.last().map_or(1.0, |piece| piece.to))
    }

    /// The places of its joints, inches from its near end.
    pub(super) fn joints(&self) -> Vec<f64> {
        let start = self.pieces.first().map_or(0.0, |piece| piece.from);
        self.pieces.iter().skip(1).map(|piece| piece.from - start).collect()
    }

    /// What is pieced, and on which eaves.
    fn what(&self) -> String {
        match self.eaves[..] {
            [] => self.role.words().to_owned(),
            [eave] => format!("{}, eave {}", self.role.words(), eave.name()),
            _ => format!("{}, both eaves alike", self.role.words()),
        }
    }

    /// `top plate, both eaves alike, at 20' 0" of 22' 0"`: its joints in words.
    fn in_words(&self, writing: Writing) -> String {
        let joints = self.joints().into_iter().map(|joint| writing.length(inches(joint)));
        let (from, to) = self.ends();
        let long = writing.length(inches(to - from));
        format!("{}, at {} of {long}", self.what(), joints.collect::<Vec<_>>().join(", "))
    }

    /// The strip, `width` inches wide, with its joints measured from the near end.
    pub(super) fn drawing(&self, width: f64, writing: Writing) -> Drawing {
        let (first, last) = self.ends();
        let ends = 0.6;
        let scale = (width - 2.0 * ends) / (last - first).max(LAST_BITS);
        let place = |x: f64| ends + (x - first) * scale;
        let mut labels: Vec<(f64, String)> = self
            .joints()
            .into_iter()
            .map(|joint| (place(first + joint), writing.length(inches(joint))))
            .collect();
        labels.push((place(last), writing.length(inches(last - first))));
        let levels = levels(&labels);
        let depth = levels.iter().max().map_or(0, |most| most + 1) as f64;
        let head = 0.24;
        let height = head + STRIP + depth * LINE + 0.16;
        let mut drawing = Drawing::new(width, height);
        drawing.bold(DVec2::new(0.0, height - 0.13), self.what(), SMALL, Anchor::Start);
        let base = height - head - STRIP;
        for piece in &self.pieces {
            let (low, high) =
                (DVec2::new(place(piece.from), base), DVec2::new(place(piece.to), base + STRIP));
            drawing.outline(
                vec![low, DVec2::new(high.x, low.y), high, DVec2::new(low.x, high.y)],
                Pen::Outline,
                Fill::None,
            );
            let wide = typeface::width(&piece.mark, SMALL, Weight::Regular);
            if wide + 0.08 <= high.x - low.x {
                drawing.text(
                    DVec2::new((low.x + high.x) / 2.0, base + (STRIP - SMALL) / 2.0),
                    piece.mark.clone(),
                    SMALL,
                    Anchor::Middle,
                );
            }
        }
        drawing.text(DVec2::new(place(first), base - 0.06 - SMALL), "0", SMALL, Anchor::Middle);
        for ((x, text), level) in labels.into_iter().zip(levels) {
            let y = base - 0.06 - SMALL - level as f64 * LINE;
            if level > 0 {
                drawing.line(vec![DVec2::new(x, base), DVec2::new(x, y + SMALL + 0.02)], Pen::Thin);
            }
            drawing.text(DVec2::new(x, y), text, SMALL, Anchor::Middle);
        }
        drawing
    }
}

/// The line for each label, so that none touches another or another's leader.
fn levels(labels: &[(f64, String)]) -> Vec<usize> {
    let air = 0.08;
    let half = |text: &str| typeface::width(text, SMALL, Weight::Regular) / 2.0 + air;
    let mut ends: Vec<f64> = vec![0.75];
    labels
        .iter()
        .map(|(x, text)| {
            let from = x - half(text);
            let found = ends.iter().position(|end| *end <= from);
            let level = found.unwrap_or(ends.len());
            if level == ends.len() {
                ends.push(0.0);
            }
            ends[level] = x + half(text);
            level
        })
        .collect()
}
