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
    let at = |stage: &StageId| TracePoint {
        stage: *stage,
        unit: stage.unit(),
        values: path.up_to(*stage, Rgb::from_array(code)).to_array(),
    };
    StageId::ALL.iter().map(at).collect()
}
