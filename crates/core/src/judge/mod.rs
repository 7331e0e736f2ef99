//! Judging: what helps an eye to decide. Nothing here changes a picture that is delivered.

mod light_table;
mod trace;

pub use light_table::{LightTable, negative_view};
pub use trace::{TracePoint, trace};
