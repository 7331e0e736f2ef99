//! ACEScct: ACEScc with a line near black, so that blacks can be worked on.
//!
//! `(log2(x) + 9.72) / 17.52` above 0.0078125, `10.5402377416545 x + 0.0729055341958355` up to
//! it. The largest code that means more is that of 65,504, the largest half-precision number; this
//! curve goes on above it. Source: Academy S-2016-001.

use super::{LinLog, LogLine};

pub(in super::super) const CURVE: LinLog = LinLog::new(
    LogLine::base_2(1.0, 0.0, 1.0 / 17.52, 9.72 / 17.52),
    [10.540_237_741_654_5, 0.072_905_534_195_835_5],
    0.007_812_5,
    0.155_251_141_552_511,
);
