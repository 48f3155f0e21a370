//! The bound of a proof: its tree, with prices or lists at the leaves.

use super::ground::{Ground, tree};
use super::{Refusal, list};
use crate::solve::certificate::{Node, On, Proof};

impl Ground<'_> {
    /// No plan that costs no more at the earlier levels costs less at this one.
    pub(super) fn bound(&self, proof: &Proof, stop: &dyn Fn() -> bool) -> Result<i64, Refusal> {
        if self.target <= 0 {
            return Ok(0);
        }
        let never = || false;
        // Prices alone are always checked.
        let stop: &dyn Fn() -> bool = match proof.nodes.as_slice() {
            [Node::Priced(_)] => &never,
            _ => stop,
        };
        let counts = self
            .model
            .families
            .iter()
            .enumerate()
            .map(|(k, family)| (family.least, self.affordable(k, family.most)))
            .collect();
        let least = tree(
            &proof.nodes,
            counts,
            (self.target, stop),
            |node, counts| match node {
                Node::Priced(prices) => self.priced(prices, &proof.limits, counts),
                Node::Listed(listed) => list::bound(self, listed, counts, stop),
                _ => Ok(i128::from(self.target)),
            },
            |counts, on, at, above| match on {
                On::Family(k) if k < counts.len() => {
                    let (least, most) = &mut counts[k];
                    if above {
                        *least = (*least).max(at + 1);
                    } else {
                        *most = (*most).min(at);
                    }
                    Ok(least <= most)
                }
                _ => Err(Refusal::Malformed("a split")),
            },
        )?;
        Ok(least * self.unit)
    }
}
