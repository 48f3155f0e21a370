//! Colors by the kind of member.

use super::Model;
use super::step::{Id, Value};
use crate::export::kind::PANELS;
use crate::frame::Kind;

/// The share of a light as colors are usually written (sRGB, IEC 61966-2-1), from its linear share.
fn written(linear: f32) -> f64 {
    let linear = f64::from(linear);
    let share =
        if linear <= 0.003_130_8 { 12.92 * linear } else { 1.055 * linear.powf(1.0 / 2.4) - 0.055 };
    (share * 1000.0).round() / 1000.0
}

impl Model<'_> {
    /// Colors a solid as its kind; as a panel, if it is none.
    pub(super) fn color(&mut self, solid: Id, kind: Option<Kind>) {
        let (name, color) = kind.map_or(("PANELS", PANELS), |kind| (kind.name(), kind.color()));
        let [red, green, blue] = color.map(|share| Value::Real(written(share)));
        let color = self.step.add_once("IFCCOLOURRGB", vec![Value::Unset, red, green, blue]);
        let shading = vec![color.into(), Value::Unset];
        let shading = self.step.add_once("IFCSURFACESTYLESHADING", shading);
        let style = self.step.add_once(
            "IFCSURFACESTYLE",
            vec![name.to_lowercase().into(), Value::Word("BOTH"), vec![shading].into()],
        );
        self.step.add("IFCSTYLEDITEM", vec![solid.into(), vec![style].into(), Value::Unset]);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_of_light_are_written_as_the_standard_has_them() {
        // IEC 61966-2-1: black and white stay, linear 0.2140 is written as one half
        assert_eq!([0.0, 1.0].map(written), [0.0, 1.0]);
        assert!((written(0.214_04) - 0.5).abs() < 1e-3);
        assert!((written(0.001) - 0.013).abs() < 1e-3);
    }
}
