//! The deck of a roof with any faces: courses over trapezoids, triangles and notched faces, joints on rafters, pieces with
//! slanted ends nested on their sheets, and the bound below which no such layout can come.

mod ask;
mod lay;
mod roof;
mod runs;
mod sheet;

pub use ask::{
    Broken, CannotCover, FaceAsk, FaceCourse, FacePiece, FacesAsk, FacesDeck, LaidFace, RafterReach,
};
pub use lay::{faces_edge_support, lay_faces};
pub use sheet::OnSheet;
