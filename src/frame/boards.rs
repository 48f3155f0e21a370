//! The boards that the common rafter meets: ridge, sub-fascia and fascia, with their depths and drops.

use crate::catalog::sizes::{LumberSize, sizes};
use crate::geom::DVec3;
use crate::measure::Length;
use crate::measure::quantity::inches;
use crate::plan::TailCut;

use super::common::{CommonRafter, tail_name};
use super::stick::Side;

impl CommonRafter {
    /// Lowest point of the tail outside the building line, the outermost one where a level cut
    /// makes several; of the whole rafter where it has no tail.
    #[must_use]
    pub fn tail_foot(&self) -> DVec3 {
        let axis = &self.stick.axis;
        let corners: Vec<DVec3> = self
            .stick
            .profile(Side::Near)
            .iter()
            .map(|corner| axis.origin + axis.along * corner.x + axis.up * corner.y)
            .collect();
        let tail: Vec<DVec3> = corners
            .iter()
            .copied()
            .filter(|corner| corner.y < 1e-7)
            .collect();
        let among = if tail.is_empty() { corners } else { tail };
        let lowest = among
            .iter()
            .map(|corner| corner.z)
            .fold(f64::INFINITY, f64::min);
        among
            .into_iter()
            .filter(|corner| corner.z < lowest + 1e-7)
            .min_by(|a, b| a.y.total_cmp(&b.y))
            .unwrap_or(DVec3::ZERO)
    }

    /// Depth of the ridge board: as given, else the next board that covers the plumb cut; zero
    /// where the rafters butt.
    #[must_use]
    pub fn ridge_depth(&self) -> Length {
        if self.plan.ridge == inches(0.0) {
            return inches(0.0);
        }
        self.plan
            .ridge_depth
            .unwrap_or_else(|| board_covering(self.plumb_height))
    }

    /// Depth of the sub-fascia: as given, else the rafter's.
    #[must_use]
    pub fn subfascia_depth(&self) -> Length {
        self.plan.subfascia_depth.unwrap_or(self.plan.stock.depth)
    }

    /// How far a board's square top edge stands below the tail's top corner, its outer face
    /// `outer` away from the tail cut. None on a square tail, where boards lean with it.
    #[must_use]
    pub fn board_drop(&self, outer: Length) -> Length {
        match self.plan.tail {
            TailCut::Square => inches(0.0),
            TailCut::Plumb | TailCut::Level => outer * self.plan.pitch.tangent(),
        }
    }

    /// Least depth of a board that covers tail and a soffit of thickness `soffit`, its outer face
    /// `outer` away from the tail cut: plumb, or along a square tail.
    #[must_use]
    pub fn covering_depth(&self, outer: Length, soffit: Length) -> Length {
        match self.plan.tail {
            TailCut::Square => self.plan.stock.depth + soffit * self.plan.pitch.slope_factor(),
            TailCut::Plumb | TailCut::Level => {
                let face = self
                    .cuts
                    .iter()
                    .find(|cut| cut.name == tail_name(self.plan.tail))
                    .map_or(self.plumb_height, |cut| cut.length);
                face - self.board_drop(outer) + soffit
            }
        }
    }

    /// Depth of the fascia over a soffit of thickness `soffit`: as given, else the next board
    /// that covers the tail.
    #[must_use]
    pub fn fascia_depth(&self, soffit: Length) -> Length {
        self.plan
            .fascia_depth
            .unwrap_or_else(|| board_covering(self.covering_depth(self.plan.boards(), soffit)))
    }
}

/// The least depth of 2x lumber from 2x4 up that covers `height`; the height itself if none does.
fn board_covering(height: Length) -> Length {
    sizes()
        .iter()
        .filter(|size| size.thickness_in == 1.5 && size.depth_in >= 3.5)
        .map(LumberSize::depth)
        .filter(|depth| *depth >= height - inches(1e-9))
        .reduce(|least, next| if next < least { next } else { least })
        .unwrap_or(height)
}
