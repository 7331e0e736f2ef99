//! What `match` takes.

use std::path::PathBuf;

use lookwright_colour::encoding::EncodingId;

use super::{FrameArgs, OutputArgs};
use crate::choices::one_of;

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  lookwright match shot.jpg --still wanted.jpg -o wanted.json
  lookwright match shot.tif --from logc3 --still earlier.png --look quay.json -o quay-2.json

The still is a finished picture, of the same thing or another. Moves of the look are fitted to it, each
with its standard error; where both show the same picture it is compared place by place and matched closely.
A still of other things is matched only roughly, by what photographs are like without a look. What
can't be matched is said.")]
pub(crate) struct MatchArgs {
    /// The picture
    pub(crate) picture: PathBuf,
    /// What it shall look like
    #[arg(long, value_name = "STILL")]
    pub(crate) still: PathBuf,
    /// The encoding of the still; guessed from the file if left out
    #[arg(long, value_name = "ENCODING", value_parser = one_of::<EncodingId>(), hide_possible_values = true)]
    pub(crate) still_from: Option<EncodingId>,
    /// The look to begin with, a JSON file; a starting look if left out
    #[arg(long)]
    pub(crate) look: Option<PathBuf>,
    /// For stills of another thing: 0 takes over what they say of a look, 1 comes as near as moves can
    #[arg(long, value_name = "SHARE", default_value_t = 0.4, value_parser = share)]
    pub(crate) closely: f64,
    #[command(flatten)]
    pub(crate) frame: FrameArgs,
    /// Look file to write
    #[arg(short, long, value_name = "LOOK.json")]
    pub(crate) output: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) writing: OutputArgs,
    /// As JSON
    #[arg(long)]
    pub(crate) json: bool,
}

fn share(text: &str) -> Result<f64, String> {
    match text.parse() {
        Ok(share) if (0.0..=1.0).contains(&share) => Ok(share),
        _ => Err("give a share, 0 to 1".to_owned()),
    }
}
