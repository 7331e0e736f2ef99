//! `lookwright suggest`: what a picture itself suggests for exposure, light and a look to begin with.

use anyhow::Result;
use lookwright_render::judge::first_look;
use serde_json::json;

use crate::args::SuggestArgs;
use crate::reading::Reading;
use crate::{files, settings};

pub(crate) fn run(args: &SuggestArgs) -> Result<()> {
    let picture = files::read_picture(&args.picture)?;
    let name = args.picture.display().to_string();
    let frame = settings::frame(&args.frame, Reading::of_one(&args.frame, &picture, &name)?)?;
    let found = first_look(&picture.small(), &frame);
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
