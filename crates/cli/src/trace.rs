//! `lookwright trace`: one pixel's numbers at every stage.

use std::path::Path;

use anyhow::{Context, Result, bail};
use lookwright_film::look::{Frame, Options};
use lookwright_film::path::LightPath;
use lookwright_render::judge::trace;
use serde_json::json;

use crate::args::TraceArgs;
use crate::reading::Reading;
use crate::{files, settings};

pub(crate) fn run(args: &TraceArgs) -> Result<()> {
    let look = files::read_look(&args.look)?;
    let (frame, code) = pixel(args)?;
    let path = LightPath::new(&look, &frame, &settings::delivery(&args.delivery));
    let points = trace(&path, code);
    if args.json {
        let stages: Vec<_> = points
            .iter()
            .map(|p| json!({ "name": p.stage.id(), "unit": p.unit, "values": p.values }))
            .collect();
        return files::print(&format!("{}\n", serde_json::to_string_pretty(&stages)?));
    }
    let mut text = format!(
        "{:<9} {:.5} {:.5} {:.5}  code\n",
        "frame", code[0], code[1], code[2]
    );
    for p in &points {
        let [r, g, b] = p.values;
        text.push_str(&format!(
            "{:<9} {r:.5} {g:.5} {b:.5}  {}\n",
            p.stage.id(),
            p.unit
        ));
    }
    files::print(&text)
}

/// The frame's settings and the three codes that are followed.
fn pixel(args: &TraceArgs) -> Result<(Frame, [f32; 3])> {
    if let Some(code) = args.code {
        return Ok((
            settings::frame(&args.frame, Reading::of_codes(&args.frame))?,
            code,
        ));
    }
    let [input, x, y] = args.pixel.as_slice() else {
        bail!("give a picture and the pixel's column and row, or --code");
    };
    let picture = files::read_picture(Path::new(input))?;
    let place = |text: &str, size: u32| -> Result<u32> {
        let place: u32 = text
            .parse()
            .with_context(|| format!("{text}: a column or row is a whole number from 0"))?;
        if place >= size {
            bail!(
                "{place} lies outside the picture, which is {} x {}",
                picture.width,
                picture.height
            );
        }
        Ok(place)
    };
    let (x, y) = (place(x, picture.width)?, place(y, picture.height)?);
    let frame = settings::frame(&args.frame, Reading::of_one(&args.frame, &picture, input)?)?;
    Ok((frame, picture.pixel(x, y)))
}
