//! Log: logarithms, their inverses, and camera curves with a straight part below a break.
//!
//! ```text
//! linToLog        y = logSideSlope log_base(linSideSlope x + linSideOffset) + logSideOffset
//! logToLin        the inverse
//! cameraLinToLog  the same above linSideBreak; linearSlope x + linearOffset at and below it
//! cameraLogToLin  the inverse
//! ```
//!
//! `linearSlope` is the curve's own slope at the break unless said; `linearOffset` makes both
//! parts meet. Arguments of logarithms are held above the smallest normal number.

use super::depth::Depths;
use crate::xml::Element;
use lookwright_colour::error::{Error, Result};
use lookwright_colour::lane::Lane;

/// Which way a [`Log`] goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LogStyle {
    /// Linear to logarithmic.
    LinToLog,
    /// Logarithmic to linear.
    LogToLin,
    /// Linear to logarithmic, straight below the break.
    CameraLinToLog,
    /// Logarithmic to linear, straight below the break.
    CameraLogToLin,
}

/// The curve of one channel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LogParams {
    /// Base of the logarithm.
    pub base: f64,
    /// Factor after the logarithm.
    pub log_side_slope: f64,
    /// What is added after the logarithm.
    pub log_side_offset: f64,
    /// Factor before the logarithm.
    pub lin_side_slope: f64,
    /// What is added before the logarithm.
    pub lin_side_offset: f64,
    /// Camera styles: where the straight part ends, on the linear side.
    pub lin_side_break: Option<f64>,
    /// Camera styles: slope of the straight part, if it is not the curve's own.
    pub linear_slope: Option<f64>,
}

impl LogParams {
    /// The plain logarithm to `base`.
    pub const fn plain(base: f64) -> Self {
        Self {
            base,
            log_side_slope: 1.0,
            log_side_offset: 0.0,
            lin_side_slope: 1.0,
            lin_side_offset: 0.0,
            lin_side_break: None,
            linear_slope: None,
        }
    }

    /// Slope and offset of the straight part, and the break on the logarithmic side.
    fn straight(&self) -> (f64, f64, f64) {
        let at = self.lin_side_break.unwrap_or(0.0);
        let inside = self.lin_side_slope * at + self.lin_side_offset;
        let ln_base = libm::log(self.base);
        let log_break = self.log_side_slope * libm::log(inside) / ln_base + self.log_side_offset;
        let own = self.log_side_slope * self.lin_side_slope / (inside * ln_base);
        let slope = self.linear_slope.unwrap_or(own);
        (slope, log_break - slope * at, log_break)
    }

    fn to_log(self, x: f32) -> f32 {
        let inside = x * self.lin_side_slope as f32 + self.lin_side_offset as f32;
        let scale = self.log_side_slope / libm::log2(self.base);
        Lane::log2(inside) * scale as f32 + self.log_side_offset as f32
    }

    fn to_lin(self, y: f32) -> f32 {
        let scale = libm::log2(self.base) / self.log_side_slope;
        let inside = Lane::exp2((y - self.log_side_offset as f32) * scale as f32);
        (inside - self.lin_side_offset as f32) / self.lin_side_slope as f32
    }

    fn check(&self, style: LogStyle) -> Result<()> {
        let camera = matches!(style, LogStyle::CameraLinToLog | LogStyle::CameraLogToLin);
        let refuse = |sentence: &str| Err(Error::new(sentence));
        if self.base <= 0.0 || self.base == 1.0 {
            return refuse("base has to be above 0 and not 1");
        }
        if self.log_side_slope == 0.0 || self.lin_side_slope == 0.0 {
            return refuse("logSideSlope and linSideSlope may not be 0");
        }
        match (camera, self.lin_side_break) {
            (true, None) => refuse("the camera styles need linSideBreak"),
            (false, Some(_)) => refuse("linSideBreak is only for the camera styles"),
            (true, Some(at)) if self.lin_side_slope * at + self.lin_side_offset <= 0.0 => {
                refuse("linSideBreak lies where the logarithm does not exist")
            }
            (false, None) if self.linear_slope.is_some() => {
                refuse("linearSlope is only for the camera styles")
            }
            (true, Some(_)) if self.linear_slope == Some(0.0) => refuse("linearSlope may not be 0"),
            _ => Ok(()),
        }
    }
}

/// A logarithm or its inverse.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Log {
    style: LogStyle,
    params: [LogParams; 3],
}

impl Log {
    /// A logarithm from its parameters, one set a channel.
    ///
    /// # Errors
    /// If a base is not above 0 or is 1, a slope is 0, or a break is missing, out of place or where
    /// the logarithm does not exist.
    pub fn new(style: LogStyle, params: [LogParams; 3]) -> Result<Self> {
        for channel in &params {
            channel.check(style)?;
        }
        Ok(Self { style, params })
    }

    pub(super) fn apply(&self, input: [f32; 3]) -> [f32; 3] {
        core::array::from_fn(|c| {
            let (x, params) = (input[c], &self.params[c]);
            match self.style {
                LogStyle::LinToLog => params.to_log(x),
                LogStyle::LogToLin => params.to_lin(x),
                LogStyle::CameraLinToLog => {
                    let (slope, offset, _) = params.straight();
                    let at = params.lin_side_break.unwrap_or(0.0) as f32;
                    if x > at {
                        params.to_log(x)
                    } else {
                        x * slope as f32 + offset as f32
                    }
                }
                LogStyle::CameraLogToLin => {
                    let (slope, offset, at) = params.straight();
                    if x > at as f32 {
                        params.to_lin(x)
                    } else {
                        (x - offset as f32) / slope as f32
                    }
                }
            }
        })
    }

    pub(super) fn read(element: Element<'_, '_>, _depths: Depths) -> Result<Self> {
        let style = element.required("style")?;
        let plain = |style, base| {
            if let Some(extra) = element.child("LogParams")? {
                return Err(extra.error("is not for the styles log2, log10 and their inverses"));
            }
            Ok(Self {
                style,
                params: [LogParams::plain(base); 3],
            })
        };
        let style = match style {
            "log10" => return plain(LogStyle::LinToLog, 10.0),
            "log2" => return plain(LogStyle::LinToLog, 2.0),
            "antiLog10" => return plain(LogStyle::LogToLin, 10.0),
            "antiLog2" => return plain(LogStyle::LogToLin, 2.0),
            "linToLog" => LogStyle::LinToLog,
            "logToLin" => LogStyle::LogToLin,
            "cameraLinToLog" => LogStyle::CameraLinToLog,
            "cameraLogToLin" => LogStyle::CameraLogToLin,
            other => {
                let known = [
                    "log10",
                    "antiLog10",
                    "log2",
                    "antiLog2",
                    "linToLog",
                    "logToLin",
                    "cameraLinToLog",
                    "cameraLogToLin",
                ];
                return Err(element.not_one_of("style", other, &known));
            }
        };
        let params = super::read::per_channel(element, "LogParams", params)?;
        let [Some(r), Some(g), Some(b)] = params else {
            return Err(element.error("LogParams are missing for a channel"));
        };
        Self::new(style, [r, g, b]).map_err(|error| element.error(error.message()))
    }

    pub(super) fn write(&self) -> String {
        let one = |params: &LogParams, channel: &str| {
            let mut text = format!(
                "    <LogParams{channel} base=\"{}\" logSideSlope=\"{}\" logSideOffset=\"{}\" \
                 linSideSlope=\"{}\" linSideOffset=\"{}\"",
                params.base,
                params.log_side_slope,
                params.log_side_offset,
                params.lin_side_slope,
                params.lin_side_offset
            );
            if let Some(at) = params.lin_side_break {
                text.push_str(&format!(" linSideBreak=\"{at}\""));
            }
            if let Some(slope) = params.linear_slope {
                text.push_str(&format!(" linearSlope=\"{slope}\""));
            }
            text + "/>\n"
        };
        super::write::per_channel(&self.params, one)
    }

    /// The `style` attribute.
    pub(super) fn style(&self) -> &'static str {
        match self.style {
            LogStyle::LinToLog => "linToLog",
            LogStyle::LogToLin => "logToLin",
            LogStyle::CameraLinToLog => "cameraLinToLog",
            LogStyle::CameraLogToLin => "cameraLogToLin",
        }
    }
}

/// The text of the specification has 2 as default of `base`, its draft schema 10; 2 is also what
/// OpenColorIO takes.
fn params(element: Element<'_, '_>) -> Result<LogParams> {
    let or = |name: &str, value: f64| Ok(element.number_attribute(name)?.unwrap_or(value));
    Ok(LogParams {
        base: or("base", 2.0)?,
        log_side_slope: or("logSideSlope", 1.0)?,
        log_side_offset: or("logSideOffset", 0.0)?,
        lin_side_slope: or("linSideSlope", 1.0)?,
        lin_side_offset: or("linSideOffset", 0.0)?,
        lin_side_break: element.number_attribute("linSideBreak")?,
        linear_slope: element.number_attribute("linearSlope")?,
    })
}
