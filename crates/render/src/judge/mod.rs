//! Judging: what helps an eye to decide. Nothing here changes a picture that is delivered.

mod difference;
mod first_look;
mod light_table;
mod plot;
mod scan_scale;
mod scopes;
mod skin_line;
mod stage_axis;
mod stage_curve;
mod still;
mod trace;
mod view;

pub use difference::{Difference, amplified_rgba};
pub use first_look::{FirstLook, Scene, first_look};
pub use light_table::{LightTable, negative_view};
pub use plot::{contrast_plot, curve_plot};
pub use scan_scale::{ScanScale, curve_scale, pivot_scale};
pub use scopes::{LEVELS, Spread, VECTOR_SIDE, Vectorscope, bars};
pub use skin_line::skin_line;
pub use stage_axis::{Mark, StageAxis};
pub use stage_curve::{StageCurve, stage_curve};
pub use still::{MatchedMove, StillMatch, match_still};
pub use trace::{TracePoint, trace};
pub use view::{DetailView, quick_view, view};
