//! Judging: what helps an eye to decide. Nothing here changes a picture that is delivered.

mod chart;
mod chromaticity;
mod difference;
mod first_look;
mod hatch;
mod light_table;
mod marking;
mod plot;
mod scan_scale;
mod scopes;
mod skin_line;
mod stage_axis;
mod stage_curve;
mod still;
mod stops_map;
mod trace;
mod vectorscope;
mod view;

pub use chart::{CHART_PX, ChartCheck, ChartCorners, ChartPatch, ChartTrim, check_chart};
pub use chromaticity::{
    Chromaticities, Colorimetry, Diagram, FIELD_SIDE, FIELD_SPAN, GAMUTS, diagram,
};
pub use difference::{Difference, amplified_rgba};
pub use first_look::{FirstLook, Scene, first_look};
pub use hatch::Hatch;
pub use light_table::{LightTable, negative_view};
pub use marking::{Marked, Marking, Sign};
pub use plot::{contrast_plot, curve_plot};
pub use scan_scale::{ScanScale, curve_scale, pivot_scale};
pub use scopes::{LEVELS, Spread};
pub use skin_line::skin_line;
pub use stage_axis::{Mark, StageAxis};
pub use stage_curve::{StageCurve, stage_curve};
pub use still::{MatchedMove, StillMatch, match_still};
pub use trace::{TracePoint, trace, trace_area};
pub use vectorscope::{ColourDifferences, VECTOR_SIDE, Vectorscope};
pub use view::{DetailView, quick_view, view};
