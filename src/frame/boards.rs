//! The boards that the common rafter meets: ridge, sub-fascia and fascia, with their depths and drops.

use crate::catalog::sizes::{LumberSize, sizes};
use crate::geom::DVec3;
use crate::key;
use crate::measure::Amount::Inches;
use crate::measure::Length;
use crate::measure::Note;
use crate::measure::quantity::{InInches, inches};
use crate::measure::tolerance::{LAST_BITS, ON_IT};
use crate::plan::TailCut;

use super::common::{CannotBuild, CommonRafter, tail_name};
use super::stick::Side;

impl CommonRafter {
    /// Lowest point of the tail beyond the building line (the outermost one, if a level cut makes
    /// several); of the whole rafter if it has no tail.
    #[must_use]
    pub fn tail_foot(&self) -> DVec3 {
        let axis = &self.stick.axis;
        let corners: Vec<DVec3> = self
            .stick
            .profile(Side::Near)
            .iter()
            .map(|corner| axis.origin + axis.along * corner.x + axis.up * corner.y)
            .collect();
        // at the building line only a heel below the plate belongs to the tail: a level cut above the
        // plate leaves the wood over the plate as low as the plate, and that is no tail
        let is_tail = |corner: &DVec3| corner.y < -ON_IT || (corner.y < ON_IT && corner.z < -ON_IT);
        let tail: Vec<DVec3> = corners.iter().copied().filter(is_tail).collect();
        let among = if tail.is_empty() { corners } else { tail };
        let lowest = among.iter().map(|corner| corner.z).fold(f64::INFINITY, f64::min);
        among
            .into_iter()
            .filter(|corner| corner.z < lowest + ON_IT)
            .min_by(|a, b| a.y.total_cmp(&b.y))
            .map_or(DVec3::ZERO, |foot| foot * DVec3::new(0.0, 1.0, 1.0))
    }

    /// Height of a level soffit cut above the plate, if there is one; negative below the plate.
    #[must_use]
    pub(super) fn soffit_cut(&self) -> Option<Length> {
        self.planes.soffit.map(|plane| inches(-plane.offset))
    }

    /// Length of the plumb face of the tail; on a square tail, of a plumb cut through the whole depth.
    #[must_use]
    pub fn tail_face(&self) -> Length {
        self.cuts
            .iter()
            .find(|cut| cut.name == tail_name(TailCut::Plumb))
            .map_or(self.plumb_height, |cut| cut.length)
    }

    /// Refuses a board so far below the roof plane that it passes under the tail, or under the board it
    /// is nailed to: there is nothing to nail it to.
    pub(super) fn refuse_loose_boards(&self) -> Result<(), CannotBuild> {
        if self.plan.tail == TailCut::Square {
            return Ok(());
        }
        let nothing = inches(0.0);
        // what the next board is nailed to, and the depth of its bottom below the tail's top corner
        let mut behind = ("tail", self.tail_face());
        for (key, what, thickness, outer, depth) in [
            (
                key!("eave.subfascia"),
                "sub-fascia",
                self.plan.subfascia,
                self.plan.subfascia,
                Some(self.subfascia_depth()),
            ),
            (key!("eave.fascia"), "fascia", self.plan.fascia, self.plan.boards(), None),
        ] {
            if thickness <= nothing {
                continue;
            }
            let top = self.board_drop(outer);
            let (on, low) = behind;
            if top >= low - inches(LAST_BITS) {
                let (starts, ends) = (Inches(top.inches()), Inches(low.inches()));
                return Err(CannotBuild {
                    key,
                    message: Note::with(
                        format!(
                            "kept under the roof plane the {what} starts {{}} below the tail's top corner, but the {on} ends {{}} \
                             below it: nothing is left to nail the {what} to"
                        ),
                        [starts.clone(), ends],
                    ),
                    help: match self.plan.tail {
                        TailCut::Level if on == "tail" => Note::with(
                            format!(
                                "write tail_face over {{}} (a board wants {{}} or more behind it), a thinner {what}, or tail = \"square\""
                            ),
                            [starts, Inches(1.5)],
                        ),
                        _ => format!("write a thinner {what}, a deeper {on}, or tail = \"square\"")
                            .into(),
                    },
                });
            }
            if let Some(depth) = depth {
                behind = (what, top + depth);
            }
        }
        Ok(())
    }

    /// Depth of the ridge board: as given, otherwise the smallest board that covers the plumb cut; zero
    /// if the rafters butt.
    #[must_use]
    pub fn ridge_depth(&self) -> Length {
        if self.plan.ridge == inches(0.0) {
            return inches(0.0);
        }
        self.plan.ridge_depth.unwrap_or_else(|| board_covering(self.plumb_height))
    }

    /// Depth of the sub-fascia: as given, otherwise the rafter's.
    #[must_use]
    pub fn subfascia_depth(&self) -> Length {
        self.plan.subfascia_depth.unwrap_or(self.plan.stock.depth)
    }

    /// How far a board's square top edge is below the tail's top corner, with its outer face `outer`
    /// away from the tail cut. Zero on a square tail, where boards lean with the cut.
    #[must_use]
    pub fn board_drop(&self, outer: Length) -> Length {
        match self.plan.tail {
            TailCut::Square => inches(0.0),
            TailCut::Plumb | TailCut::Level => outer * self.plan.pitch.tangent(),
        }
    }

    /// How far a board's square top edge is below the top corner of a high tail, whose cut is plumb, with its inner face `inner`
    /// away from it: negative, because the roof rises outward there.
    #[must_use]
    pub fn high_board_drop(&self, inner: Length) -> Length {
        -inner * self.plan.pitch.tangent()
    }

    /// Least depth of a board that covers the tail and a soffit of thickness `soffit`, with its outer
    /// face `outer` away from the tail cut: plumb, or along a square tail.
    #[must_use]
    pub fn covering_depth(&self, outer: Length, soffit: Length) -> Length {
        match self.plan.tail {
            TailCut::Square => self.plan.stock.depth + soffit * self.plan.pitch.slope_factor(),
            TailCut::Plumb | TailCut::Level => self.tail_face() - self.board_drop(outer) + soffit,
        }
    }

    /// Depth of the fascia over a soffit of thickness `soffit`: as given, otherwise the smallest board
    /// that covers the tail.
    #[must_use]
    pub fn fascia_depth(&self, soffit: Length) -> Length {
        self.plan
            .fascia_depth
            .unwrap_or_else(|| board_covering(self.covering_depth(self.plan.boards(), soffit)))
    }
}

/// The least depth of 2x lumber from 2x4 up that covers `height`; the height itself if none does.
pub(super) fn board_covering(height: Length) -> Length {
    sizes()
        .iter()
        .filter(|size| size.thickness_in == 1.5 && size.depth_in >= 3.5)
        .map(LumberSize::depth)
        .filter(|depth| *depth >= height - inches(LAST_BITS))
        .reduce(|least, next| if next < least { next } else { least })
        .unwrap_or(height)
}
