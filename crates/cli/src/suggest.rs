//! `lookwright suggest`: what a picture itself suggests for exposure, light and a look to begin with.

use anyhow::Result;
use lookwright_film::spatial::Reducer;
use lookwright_picture::Decoded;
use lookwright_render::judge::first_look;
use serde_json::json;

use crate::args::SuggestArgs;
use crate::reading::Reading;
use crate::{files, settings};

/// The longer side of the small copy that is looked at.
const SIDE: usize = 256;

pub(crate) fn run(args: &SuggestArgs) -> Result<()> {
    let picture = files::read_picture(&args.picture)?;
    let name = args.picture.display().to_string();
    let frame = settings::frame(&args.frame, Reading::of_one(&args.frame, &picture, &name)?)?;
    let found = first_look(&small(&picture), &frame);
    let [exposure, light, scene] = &found.reasons;
    if args.json {
        let value = json!({
            "exposure": found.exposure,
            "kelvin": found.kelvin,
            "tint": found.tint,
            "scene": found.scene.id(),
            "reasons": { "exposure": exposure, "light": light, "scene": scene },
        });
        return files::print(&format!("{}\n", serde_json::to_string_pretty(&value)?));
    }
    files::print(&format!(
        "exposure  {:+.2} stops: {exposure}\n\
         light     {} K, tint {:+.4}: {light}\n\
         scene     {}: {scene}\n\
         To take it: --exposure {} --kelvin {} --tint {}\n",
        found.exposure,
        found.kelvin,
        found.tint,
        found.scene.id(),
        found.exposure,
        found.kelvin,
        found.tint,
    ))
}

fn small(picture: &Decoded) -> lookwright_film::spatial::Planes {
    let (width, height) = (picture.width as usize, picture.height as usize);
    let longer = width.max(height).max(1);
    let side = |length: usize| (length * SIDE.min(longer)).div_ceil(longer);
    let mut reducer = Reducer::new(width, height, side(width), side(height));
    let mut row = [0, 1, 2].map(|_| vec![0.0; width]);
    for y in 0..picture.height {
        picture.read_rows(y..y + 1, &mut row);
        reducer.push_row([&row[0], &row[1], &row[2]]);
    }
    reducer.finish()
}
