//! From what was typed to a frame's and a delivery's settings.

use anyhow::{Context, Result};
use lookwright_colour::encoding::Range;
use lookwright_film::look::{CodeRange, Delivery, Frame};
use lookwright_picture::{Decoded, suggest};
use lookwright_table::health::Setting;

use crate::args::{DeliveryArgs, FrameArgs};
use crate::files::say;

/// The settings of a frame. Where no encoding was typed, the picture's own hints choose one, and
/// the reason is said.
pub(crate) fn frame(args: &FrameArgs, picture: Option<(&Decoded, &str)>) -> Result<Frame> {
    let mut frame = Frame::default();
    if let Some(encoding) = args.from {
        frame.source.encoding = encoding;
    } else if let Some((picture, name)) = picture {
        let suggestion = suggest(picture, name);
        say(&format!(
            "{name}: read as {} (choose with --from)",
            suggestion.reason
        ));
        frame.source.encoding =
            lookwright_colour::encoding::EncodingId::parse(suggestion.encoding)?;
    }
    let legal_file = picture.is_some_and(|(picture, _)| picture.legal_range);
    frame.source.range = args.range.unwrap_or(if legal_file {
        Range::Legal
    } else {
        Range::Full
    });
    frame.source.unroll = args.unroll;
    frame.trim.exposure = args.exposure;
    frame.trim.kelvin = args.kelvin;
    frame.trim.tint = args.tint;
    // The strict reader checks every number against its control's limits.
    Frame::read(&frame.canonical()).context("the frame's settings")
}

/// The settings of a delivery.
pub(crate) fn delivery(args: &DeliveryArgs) -> Delivery {
    let mut delivery = Delivery::default();
    delivery.display.screen = args.to;
    delivery.display.range = if args.legal {
        CodeRange::Legal
    } else {
        CodeRange::Full
    };
    delivery
}

/// What a table's output is looked at on.
pub(crate) fn judged_on(args: &DeliveryArgs) -> Setting {
    Setting {
        screen: args.to,
        range: if args.legal {
            Range::Legal
        } else {
            Range::Full
        },
        ..Setting::default()
    }
}
