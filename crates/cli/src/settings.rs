//! From what was typed to a frame's and a delivery's settings.

use anyhow::{Context, Result};
use lookwright_colour::encoding::Range;
use lookwright_film::look::{CodeRange, Delivery, Frame, Look};
use lookwright_film::path::Plan;
use lookwright_handover::Asked;

use crate::args::{CheckArgs, DeliveryArgs, FrameArgs, RenderArgs};
use crate::reading::Reading;

/// The settings of a frame that is read so.
pub(crate) fn frame(args: &FrameArgs, reading: Reading) -> Result<Frame> {
    let mut frame = Frame::default();
    frame.source.encoding = reading.encoding;
    frame.source.range = reading.range;
    frame.source.unrender = args.unrender;
    frame.trim.exposure = args.exposure;
    frame.trim.kelvin = args.kelvin;
    frame.trim.tint = args.tint;
    // The strict reader checks every number against its control's limits.
    Frame::read(&frame.canonical()).context("the frame's settings")
}

/// All that is done to a picture with a look, whatever it is read as.
pub(crate) fn plan(args: &RenderArgs, look: &Look) -> Plan {
    Plan::of(
        look,
        &Frame::default(),
        &delivery(&args.delivery),
        args.stage,
    )
}

/// The settings of a delivery.
pub(crate) fn delivery(args: &DeliveryArgs) -> Delivery {
    let mut delivery = Delivery::default();
    delivery.display.screen = args.to;
    delivery.display.before = args.before_as;
    delivery.display.range = if args.legal {
        CodeRange::Legal
    } else {
        CodeRange::Full
    };
    delivery
}

/// What a table is held against; what is not typed is left to its header.
pub(crate) fn asked(args: &CheckArgs) -> Asked {
    Asked {
        source: args.from.map(|encoding| (encoding, args.range)),
        screen: args.to,
        range: args.legal.then_some(Range::Legal),
        ..Asked::default()
    }
}
