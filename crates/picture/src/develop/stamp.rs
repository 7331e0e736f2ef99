//! What made a picture, said in its file.

use lookwright_film::look::{Look, MODEL_VERSION};
use lookwright_render::Job;

use super::Version;

/// What made a picture: the look by its name and fingerprint, the model's version, the frame's number.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stamp(Option<String>);

impl Stamp {
    /// Of a picture made with a look, as it was signed off; its texture may have been left out, or
    /// drawn from another seed.
    pub fn of(look: &Look, frame_number: u32) -> Self {
        let named = match look.name.as_str() {
            "" => String::new(),
            name => format!(" ({name})"),
        };
        Self(Some(format!(
            "; look {}{named}, model {MODEL_VERSION}, frame {frame_number}",
            look.fingerprint()
        )))
    }

    /// Of a job, whose look is as it was signed off.
    pub(super) fn of_job(job: &Job, version: Version) -> Self {
        match version {
            Version::Styled => Self::of(&job.look, job.frame_number),
            Version::Unstyled => Self::NONE,
        }
    }

    /// Of a picture that was made without a look.
    pub const NONE: Self = Self(None);

    /// What follows the words about the picture's numbers.
    pub(super) fn words(&self) -> &str {
        self.0.as_deref().unwrap_or_default()
    }
}
