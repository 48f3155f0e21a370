//! Templates that share a page: side by side as along the stick, with the paper to be cut apart between them.

use crate::frame::CommonRafter;
use crate::geom::DVec2;

use super::chain::Chain;

/// Of wood between two templates, along the stick: room for the name of a cut.
const WOOD: f64 = 1.9;

/// Templates on one length of stock.
#[derive(Debug, Clone)]
pub(super) struct Strip {
    /// Each with its letter, up the stick.
    pub(super) pieces: Vec<(char, Chain)>,
    /// The plumb lines to cut the paper apart at, from the bottom edge to the top edge.
    pub(super) apart: Vec<[DVec2; 2]>,
    /// Lower left and upper right of what is shown.
    pub(super) reach: (DVec2, DVec2),
}

/// The templates in as few strips as `fits` allows, in the order of their first letters.
pub(super) fn strips(
    rafter: &CommonRafter,
    mut left: Vec<(char, Chain)>,
    fits: impl Fn(&Strip) -> bool,
) -> Vec<Strip> {
    let mut strips = Vec::new();
    while !left.is_empty() {
        let mut strip = Strip::of(rafter, vec![left.remove(0)]);
        let mut apart = Vec::new();
        for other in left {
            // letters run down the stick
            let pieces = [vec![other.clone()], strip.pieces.clone()].concat();
            let wider = Strip::of(rafter, pieces);
            if fits(&wider) { strip = wider } else { apart.push(other) }
        }
        left = apart;
        strips.push(strip);
    }
    strips
}

impl Strip {
    /// Pieces up the stick.
    fn of(rafter: &CommonRafter, pieces: Vec<(char, Chain)>) -> Strip {
        if let [(_, only)] = pieces.as_slice() {
            return Strip { reach: only.reach, apart: Vec::new(), pieces };
        }
        let lean = rafter.plan.pitch.tangent();
        let deep = rafter.plan.stock.depth_in();
        let mut strip = Strip {
            pieces: Vec::new(),
            apart: Vec::new(),
            reach: (DVec2::INFINITY, DVec2::NEG_INFINITY),
        };
        let mut end: Option<f64> = None;
        for (letter, chain) in pieces {
            let (low, high) = chain.extent(lean);
            let by = end.map_or(0.0, |end| end + WOOD - low);
            strip.apart.extend(end.map(|end| {
                let foot = DVec2::new(end + WOOD / 2.0, 0.0);
                [foot, foot + DVec2::new(lean, 1.0) * deep]
            }));
            end = Some(high + by);
            let chain = chain.moved(by);
            strip.reach = (strip.reach.0.min(chain.reach.0), strip.reach.1.max(chain.reach.1));
            strip.pieces.push((letter, chain));
        }
        strip
    }

    /// `A: Ridge cut; C: Tail cut`.
    pub(super) fn name(&self, letters: impl Fn(char) -> String) -> String {
        let named =
            |(letter, chain): &(char, Chain)| format!("{}: {}", letters(*letter), chain.name());
        let names: Vec<String> = self.pieces.iter().rev().map(named).collect();
        names.join("; ")
    }

    /// `A, C`.
    pub(super) fn letters(&self) -> String {
        let letters: Vec<String> =
            self.pieces.iter().rev().map(|(letter, _)| letter.to_string()).collect();
        letters.join(", ")
    }

    /// What is to be known of each, and how all are used.
    pub(super) fn words(
        &self,
        rafter: &CommonRafter,
        writing: crate::measure::Writing,
    ) -> Vec<String> {
        let several = self.pieces.len() > 1;
        let own = |(letter, chain): &(char, Chain)| -> Vec<String> {
            let words = chain.words(rafter, writing);
            if several { vec![format!("{letter}: {}", words.join(" "))] } else { words }
        };
        let mut all: Vec<String> = self.pieces.iter().rev().flat_map(own).collect();
        if several {
            all.push(
                "On the stock they are far apart: cut the paper between them, at the dashed marks."
                    .to_owned(),
            );
        }
        all.push(format!(
            "Lay it on the face of the stock, crown up, the {} toward the right, the drawn edges on the stock's. \
             Hatched is waste. If it takes several pages, lay crosses with the same number over each other.",
            rafter.upper().end
        ));
        all
    }

    /// From where to where along the stick an edge at a level is drawn: not where the paper is cut apart.
    pub(super) fn edges(&self, level: f64) -> Vec<[DVec2; 2]> {
        /// Of an edge on both sides of such a place.
        const LEFT_OUT: f64 = 0.12;
        let at = |x: f64| DVec2::new(x, level);
        let places: Vec<f64> =
            self.apart.iter().map(|[foot, top]| if level > 0.0 { top.x } else { foot.x }).collect();
        let starts = places.iter().map(|x| x + LEFT_OUT);
        let starts = [self.reach.0.x].into_iter().chain(starts);
        let ends = places.iter().map(|x| x - LEFT_OUT).chain([self.reach.1.x]);
        starts.zip(ends).map(|(from, to)| [at(from), at(to)]).collect()
    }

    /// What the cuts remove, of each.
    pub(super) fn wastes(&self, deep: f64) -> impl Iterator<Item = Vec<DVec2>> {
        self.pieces.iter().map(move |(_, chain)| chain.waste(deep))
    }
}
