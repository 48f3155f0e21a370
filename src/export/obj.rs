//! Every stick as a closed solid in a Wavefront OBJ file, one named group each.

use std::fmt::Write;

use super::unit::FileUnit;
use crate::frame::Sticks;

/// The frame as OBJ text: x along the ridge, y across, z up from the top of the plate; faces
/// counterclockwise seen from outside. Groups are named by the sticks' ids, as `R-A-16`.
#[must_use]
pub fn write(sticks: Sticks<'_>, unit: FileUnit) -> String {
    let (factor, name) = (unit.in_an_inch(), unit.words());
    let mut text = format!(
        "# roof frame, {name}; x along the ridge, y across it, z up from the top of the plate\n"
    );
    let mut first = 1;
    for member in sticks.members {
        let mesh = member.stick.solid().mesh();
        for (id, axis) in member.placed_ids() {
            // writing to a String can't fail
            let _ = writeln!(text, "g {id}");
            for corner in &mesh.corners {
                let at = axis.to_roof(*corner) * factor;
                let _ = writeln!(text, "v {:.9} {:.9} {:.9}", at.x, at.y, at.z);
            }
            for face in &mesh.faces {
                text.push('f');
                for corner in face {
                    let _ = write!(text, " {}", corner + first);
                }
                text.push('\n');
            }
            first += mesh.corners.len();
        }
    }
    text
}
