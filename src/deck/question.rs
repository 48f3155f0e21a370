//! The question in the form of the checker, a layout as a plan, and the relaxation's prices as a proof.
//!
//! There is a row for every length of piece (full and closing), which sheets supply and courses use; a
//! family of sheets, and one of paths over the rafters for every course of every plane; and a row for
//! every rafter and every two neighboring courses, where at most one of them breaks.

use std::collections::BTreeMap;

use super::ask::LayingRules;
use super::bound::{Goal, Prices, UNIT};
use super::cut::SheetCut;
use super::grid::Joints;
use super::stage::{Class, Model};
use super::ticks::Ticks;
use crate::solve::{
    Arc, Certificate, Family, Item, Limit, Members, Paths, Pick, Plan, Proof, Question, Row,
    Strips, Taken,
};

/// Courses of each plane, and the sheets that their pieces are cut from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Layout {
    /// Courses of each plane, from the eave up.
    pub(super) planes: Vec<Vec<Joints>>,
    pub(super) cuts: Vec<SheetCut>,
    pub(super) pieces: usize,
}

/// The fewest sheets, or the fewest pieces from a given number of sheets.
pub(super) struct Asked<'a> {
    pub(super) model: &'a Model,
    pub(super) goal: Goal,
    pub(super) rules: LayingRules,
}

impl Asked<'_> {
    fn lengths(&self) -> usize {
        self.model.grid.lengths.len()
    }

    /// Row of the pieces of a length.
    fn row(&self, class: Class, length: usize) -> usize {
        length + if class == Class::Closing { self.lengths() } else { 0 }
    }

    fn length_rows(&self) -> usize {
        self.lengths() * if self.model.stock.has_closing() { 2 } else { 1 }
    }

    /// The row by which only one of this course and the one above breaks at a rafter.
    fn stagger(&self, plane: usize, course: usize, at: usize) -> usize {
        let rafters = self.model.grid.last() - 1;
        self.length_rows() + (plane * (self.model.courses - 1) + course) * rafters + at - 1
    }

    fn stagger_rows(&self) -> usize {
        self.model.planes * (self.model.courses - 1) * (self.model.grid.last() - 1)
    }

    /// Row of all pieces.
    fn pieces_row(&self) -> usize {
        self.length_rows() + self.stagger_rows()
    }

    /// More than any layout uses, of sheets or of anything on a sheet.
    fn plenty(&self) -> i64 {
        (self.model.planes * self.model.courses * self.model.grid.last()) as i64
    }

    fn counts_pieces(&self) -> bool {
        self.goal != Goal::Sheets
    }

    /// What a course's piece puts into the rows.
    fn entries(&self, plane: usize, course: usize, arc: &super::grid::Arc) -> Vec<(usize, i64)> {
        let model = self.model;
        let mut entries = vec![(self.row(model.class(course), arc.length), -1)];
        if arc.to < model.grid.last() {
            if course > 0 {
                entries.push((self.stagger(plane, course - 1, arc.to), 1));
            }
            if course + 1 < model.courses {
                entries.push((self.stagger(plane, course, arc.to), 1));
            }
        }
        if self.counts_pieces() {
            entries.push((self.pieces_row(), -1));
        }
        entries
    }

    fn family_of(&self, plane: usize, course: usize) -> usize {
        1 + plane * self.model.courses + course
    }

    /// The certificate of a relaxation with no course fixed.
    pub(super) fn certificate(&self, prices: &Prices) -> Certificate {
        let plain = Proof::priced(self.prices(prices));
        let limits = self.limits();
        // Without limits the checker is faster, and usually that is enough.
        let mut proofs = vec![plain.clone()];
        if !limits.is_empty() {
            proofs.push(Proof { limits, ..plain });
        }
        Certificate { levels: vec![proofs] }
    }

    /// The prices of a relaxation, with stagger charged between courses two by two: as strong as "at
    /// most every other one", or stronger.
    fn prices(&self, prices: &Prices) -> crate::solve::Prices {
        let model = self.model;
        let mut rows = prices.full.clone();
        if model.stock.has_closing() {
            rows.extend(&prices.closing);
        }
        rows.resize(self.length_rows() + self.stagger_rows(), 0);
        for &(at, all, price) in &prices.caps {
            let courses = if all { model.courses } else { model.full_courses() };
            for plane in 0..model.planes {
                for course in (0..courses.saturating_sub(1)).step_by(2) {
                    rows[self.stagger(plane, course, at)] -= price;
                }
            }
        }
        if self.counts_pieces() {
            rows.push(UNIT);
        }
        let scale = if self.counts_pieces() { UNIT } else { prices.sheet.max(1) };
        crate::solve::Prices { scale, rows, ..crate::solve::Prices::default() }
    }

    /// The most end pieces that a sheet needs: not every course has the same one, and the number of
    /// ends is limited.
    fn limits(&self) -> Vec<Limit> {
        let model = self.model;
        let (grid, stock) = (&model.grid, &model.stock);
        let full = model.full_courses();
        let mut classes = vec![(Class::Full, 0..full)];
        if stock.has_closing() {
            classes.push((Class::Closing, full..model.courses));
        }
        let mut limits = Vec::new();
        for (class, courses) in classes {
            let needs = &stock.needs()[usize::from(class == Class::Closing)];
            for length in 0..self.lengths() {
                if !needs.bind(length, stock.fit(length)) {
                    continue;
                }
                let mut tolls: BTreeMap<usize, i64> = BTreeMap::new();
                for arc in grid.arcs.iter().filter(|arc| arc.length == length) {
                    let joint = if arc.from == 0 { arc.to } else { arc.from };
                    if joint == grid.last() {
                        continue;
                    }
                    for plane in 0..model.planes {
                        for below in courses.clone().step_by(2).filter(|c| c + 1 < courses.end) {
                            *tolls.entry(self.stagger(plane, below, joint)).or_default() += 1;
                        }
                    }
                }
                let rows = vec![self.row(class, length)];
                let tolls = tolls.into_iter().collect();
                limits.push(Limit { rows, tolls, is_whole: false });
            }
            for ends in needs.ends() {
                let rows: Vec<usize> =
                    ends.into_iter().map(|length| self.row(class, length)).collect();
                if !rows.is_empty() {
                    limits.push(Limit { rows, tolls: Vec::new(), is_whole: true });
                }
            }
        }
        limits
    }
}

impl Question for Asked<'_> {
    fn model(&self) -> crate::solve::Model {
        let model = self.model;
        let (grid, stock) = (&model.grid, &model.stock);
        let mut rows = vec![Row::at_least(0); self.length_rows()];
        rows.resize(self.length_rows() + self.stagger_rows(), Row::at_most(1));
        let items = |class| {
            let item = |length| Item {
                size: stock.size(length),
                row: self.row(class, length),
                most: self.plenty(),
            };
            (0..self.lengths()).map(item).collect()
        };
        let closing = stock.has_closing();
        let mut lists = vec![items(Class::Full)];
        if closing {
            lists.push(items(Class::Closing));
        }
        let pieces = i64::from(self.counts_pieces());
        let mut families = vec![Family {
            cost: vec![1 - pieces],
            least: 0,
            most: match self.goal {
                Goal::Sheets => self.plenty(),
                Goal::Pieces(sheets) => sheets as i64,
            },
            members: Members::Packs {
                capacity: stock.room(),
                items: 0,
                strips: closing.then_some(Strips { count: stock.tracks as i64, items: 1 }),
            },
        }];
        for plane in 0..model.planes {
            for course in 0..model.courses {
                let arcs = grid.arcs.iter().map(|arc| Arc {
                    from: arc.from,
                    to: arc.to,
                    entries: self.entries(plane, course, arc),
                });
                families.push(Family {
                    cost: vec![0],
                    least: 1,
                    most: 1,
                    members: Members::Paths(Paths {
                        nodes: grid.positions.len(),
                        arcs: arcs.collect(),
                    }),
                });
            }
        }
        if self.counts_pieces() {
            rows.push(Row::at_least(0));
            families.push(Family {
                cost: vec![1],
                least: 0,
                most: self.plenty(),
                members: Members::One(vec![(self.pieces_row(), 1)]),
            });
        }
        crate::solve::Model { rows, items: lists, families, levels: 1 }
    }

    fn rules(&self) -> String {
        let rules = self.rules.words(|length| Ticks::nearest(length).to_string());
        match self.goal {
            Goal::Sheets => format!("fewest sheets with {rules}"),
            Goal::Pieces(sheets) => format!("fewest pieces from {sheets} sheets with {rules}"),
        }
    }
}

impl Plan<Asked<'_>> for Layout {
    fn taken(&self, asked: &Asked<'_>) -> Vec<Taken> {
        let pack = |lengths: &[usize]| -> Vec<(usize, i64)> {
            let mut counts: BTreeMap<usize, i64> = BTreeMap::new();
            for &length in lengths {
                *counts.entry(length).or_default() += 1;
            }
            counts.into_iter().collect()
        };
        let mut taken: Vec<Taken> = self
            .cuts
            .iter()
            .map(|cut| Taken {
                family: 0,
                pick: Pick::Pack {
                    items: pack(&cut.full),
                    strips: cut.tracks.iter().map(|track| pack(track)).collect(),
                },
                times: 1,
            })
            .collect();
        let mut pieces = 0;
        for (plane, courses) in self.planes.iter().enumerate() {
            for (course, joints) in courses.iter().enumerate() {
                // A course with a piece that is not allowed is no path: the checker refuses it.
                let arcs = asked.model.grid.arcs_of(joints).unwrap_or_default();
                pieces += arcs.len() as i64;
                taken.push(Taken {
                    family: asked.family_of(plane, course),
                    pick: Pick::Path(arcs),
                    times: 1,
                });
            }
        }
        if asked.counts_pieces() {
            let family = 1 + asked.model.planes * asked.model.courses;
            taken.push(Taken { family, pick: Pick::One, times: pieces });
        }
        taken
    }
}

#[cfg(test)]
mod tests {
    use super::super::cut::Stock;
    use super::super::grid::{Grid, PieceRules};
    use super::super::search::{Watch, search};
    use super::super::worth::Needs;
    use super::*;
    use crate::solve::{Fault, Settled, settle};

    /// Lengths in 1/80 in, gap and kerf 1/8 in, sheets 96 in (sheathing_model.md).
    fn model(
        length: i64,
        spacing: i64,
        planes: usize,
        courses: usize,
        tracks: usize,
        shortest: i64,
    ) -> Model {
        let centers: Vec<i64> = (1..).map(|i| i * spacing).take_while(|&x| x < length).collect();
        let rules = PieceRules { gap: 10, longest: 7680, shortest };
        let grid = Grid::new(length, &centers, rules);
        let full_courses = courses - usize::from(tracks > 1);
        let needs = [full_courses, 1].map(|courses| Needs::new(&grid, planes, courses));
        let stock = Stock::new(&grid.lengths, 7680, 10, tracks, needs).expect("few sums");
        Model { grid, stock, planes, courses }
    }

    fn asked(model: &Model) -> Asked<'_> {
        Asked { model, goal: Goal::Sheets, rules: LayingRules::default() }
    }

    fn found(model: &Model) -> (Layout, Certificate) {
        let answer = search(model, &Watch::none()).expect("can be laid");
        let prices = answer.sheets.expect("prices");
        (answer.found, asked(model).certificate(&prices))
    }

    fn by(
        model: &Model,
        layout: Layout,
        certificate: &Certificate,
    ) -> Result<Settled<Layout>, Fault> {
        settle(&asked(model), layout, certificate, &|| false)
    }

    #[track_caller]
    fn sheets(model: &Model, expected: i64) {
        let (layout, certificate) = found(model);
        let settled = by(model, layout, &certificate).expect("a layout");
        assert!(settled.is_proven());
        assert_eq!(settled.value(), [expected]);
        assert!(settled.rules().contains("no strip under 24 in"), "{}", settled.rules());
    }

    #[test]
    fn four_published_rows() {
        sheets(&model(49780, 1280, 2, 3, 1, 1920), 39); // S01
        sheets(&model(19880, 1920, 1, 5, 1, 3840), 15); // S03
        sheets(&model(56360, 1280, 2, 3, 1, 2560), 45); // S13
        sheets(&model(36480, 1280, 2, 3, 3, 2560), 23); // S02
    }

    #[test]
    fn a_doctored_layout_is_no_plan() {
        let model = model(49780, 1280, 2, 3, 1, 1920); // S01: 39 sheets
        let (layout, certificate) = found(&model);
        let fault = |change: &dyn Fn(&mut Layout)| {
            let mut doctored = layout.clone();
            change(&mut doctored);
            by(&model, doctored, &certificate).expect_err("not a layout")
        };
        // a sheet fewer
        assert!(matches!(fault(&|layout| drop(layout.cuts.pop())), Fault::Row(_)));
        // more on a sheet than it can hold
        let full = fault(&|layout| {
            let more = layout.cuts[0].full.clone();
            layout.cuts[0].full.extend(more);
        });
        assert_eq!(full, Fault::Column(0));
        // strips where the whole height is taken
        assert_eq!(fault(&|layout| layout.cuts[0].tracks = vec![vec![0]]), Fault::Column(0));
        // two neighbors with the same joints, though the pieces are enough
        let row = fault(&|layout| {
            layout.planes[0][1] = layout.planes[0][0].clone();
            layout.planes[0][2] = layout.planes[0][0].clone();
            let again = layout.cuts.clone();
            layout.cuts.extend(again.iter().cloned());
            layout.cuts.extend(again);
        });
        assert!(matches!(row, Fault::Row(row) if row >= asked(&model).length_rows()), "{row:?}");
        // a piece longer than a sheet, a course left out
        assert!(matches!(fault(&|layout| layout.planes[0][0].clear()), Fault::Column(_)));
        assert!(matches!(fault(&|layout| drop(layout.planes[0].pop())), Fault::Family(_)));
    }

    #[test]
    fn a_doctored_bound_proves_nothing() {
        let model = model(36480, 1280, 2, 3, 3, 2560); // S02: 23 sheets, by the published bound
        let (layout, certificate) = found(&model);
        let mut dearer = layout.clone();
        dearer.cuts.push(SheetCut::default());
        let proof = certificate.levels[0].last().expect("a proof").clone();
        let mut draw = 0x2545_F491_4F6C_DD1D_u64;
        for turn in 0..60 {
            let mut doctored = proof.clone();
            let crate::solve::Node::Priced(prices) = &doctored.nodes[0] else {
                panic!("prices alone");
            };
            let mut prices = crate::solve::Prices::clone(prices);
            for (row, price) in prices.rows.iter_mut().enumerate() {
                draw ^= draw << 13;
                draw ^= draw >> 7;
                draw ^= draw << 17;
                let up = (draw >> 40) as i64 % UNIT / (1 + turn);
                *price += if row < asked(&model).length_rows() { up } else { -up / 8 };
            }
            prices.scale = (prices.scale / (1 + turn % 3)).max(1);
            doctored.nodes = vec![crate::solve::Node::Priced(std::sync::Arc::new(prices))];
            let certificate = Certificate { levels: vec![vec![doctored, proof.clone()]] };
            let settled = by(&model, dearer.clone(), &certificate).expect("a layout");
            assert!(!settled.is_proven());
            assert_eq!((settled.value(), settled.bound()), (&[24][..], &[23][..]));
        }
        let none = by(&model, layout, &Certificate::default()).expect("a layout");
        assert!(!none.is_proven(), "nothing is proven without a certificate");
    }
}
