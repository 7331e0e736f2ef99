//! Pixel trace: one pixel's numbers at every stage, each in that stage's own unit.

use lookwright_colour::Rgb;
use lookwright_film::look::{Options, StageId};
use lookwright_film::path::LightPath;

/// The numbers of one pixel as they leave a stage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TracePoint {
    /// The stage.
    pub stage: StageId,
    /// Its unit.
    pub unit: &'static str,
    /// Red, green and blue (or the layers of that name).
    pub values: [f32; 3],
}

/// Follows a pixel from its frame's code to the screen, without texture.
pub fn trace(path: &LightPath, code: [f32; 3]) -> Vec<TracePoint> {
    trace_area(path, &[code])
}

/// Follows some pixels, without texture: at every stage the mean of its numbers there, so light is
/// averaged as light and code as code.
pub fn trace_area(path: &LightPath, codes: &[[f32; 3]]) -> Vec<TracePoint> {
    let at = |stage: &StageId| {
        let mut sums = [0.0_f64; 3];
        for code in codes {
            let values = path.up_to(*stage, Rgb::from_array(*code)).to_array();
            for (sum, value) in sums.iter_mut().zip(values) {
                *sum += f64::from(value);
            }
        }
        let count = codes.len().max(1) as f64;
        TracePoint {
            stage: *stage,
            unit: stage.unit(),
            values: sums.map(|sum| (sum / count) as f32),
        }
    };
    StageId::ALL.iter().map(at).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_colour::encoding::EncodingId;
    use lookwright_film::look::{Delivery, Frame, Look};

    #[test]
    fn an_area_is_averaged_as_light_and_a_pixel_is_itself() {
        let mut frame = Frame::default();
        frame.source.encoding = EncodingId::AcesCg;
        let path = LightPath::new(&Look::default(), &frame, &Delivery::default());
        // One part of light and three: two on average, a stop above the first.
        let area = trace_area(&path, &[[0.18; 3], [0.54; 3]]);
        assert!((area[0].values[1] - 0.36).abs() < 1e-6);
        let [dark, bright] = [0.18, 0.54].map(|v| trace(&path, [v; 3]));
        for ((mean, a), b) in area.iter().zip(&dark).zip(&bright) {
            for i in 0..3 {
                let expected = (a.values[i] + b.values[i]) / 2.0;
                assert!((mean.values[i] - expected).abs() < 1e-6, "{:?}", mean.stage);
            }
        }
    }
}
