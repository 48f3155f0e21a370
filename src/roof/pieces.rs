//! What can be seen of each slope from straight above, as convex pieces.

use crate::geom::Polygon;

use super::block::{Block, Slope};

/// A convex part of a face.
pub(super) struct Piece {
    pub slope: Slope,
    pub cover: Polygon,
    /// of which slope of which block
    pub source: (usize, usize),
}

/// What is seen of each slope, as convex pieces.
pub(super) fn seen(blocks: &[Block]) -> Vec<Piece> {
    let mut seen = Vec::new();
    for (at, block) in blocks.iter().enumerate() {
        for (number, (_, slope)) in block.slopes.iter().enumerate() {
            let mut pieces: Vec<Polygon> = block.under(number).into_iter().collect();
            for (other, above) in blocks.iter().enumerate().filter(|(other, _)| *other != at) {
                let hidden = above.hides(slope, other < at);
                pieces = pieces
                    .iter()
                    .flat_map(|piece| match piece.within_all(hidden.iter().copied()) {
                        Some(_) => piece.without(hidden.iter().copied()),
                        None => vec![piece.clone()],
                    })
                    .collect();
            }
            seen.extend(pieces.into_iter().map(|cover| Piece {
                slope: *slope,
                cover,
                source: (at, number),
            }));
        }
    }
    seen
}
