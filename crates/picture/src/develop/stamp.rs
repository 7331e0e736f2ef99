//! What made a picture, said in its file.

use lookwright_film::look::{Look, MODEL_VERSION};
use lookwright_render::Job;

use super::Version;
use crate::Carried;

/// What made a picture: the look by its name and fingerprint, the model's version, the frame's number.
/// The default is that of a picture which was made without a look.
#[derive(Clone, Debug, Default)]
pub struct Stamp {
    words: Option<String>,
    carried: Carried,
}

impl Stamp {
    /// Of a picture made with a look, as it was signed off; its texture may have been left out, or
    /// drawn from another seed.
    pub fn of(look: &Look, frame_number: u32) -> Self {
        let named = match look.name.as_str() {
            "" => String::new(),
            name => format!(" ({name})"),
        };
        let fingerprint = look.fingerprint();
        Self {
            words: Some(format!(
                "; look {fingerprint}{named}, model {MODEL_VERSION}, frame {frame_number}"
            )),
            ..Self::default()
        }
    }

    /// The same, with what goes on from the file that the picture was made from.
    #[must_use]
    pub fn carrying(self, carried: Carried) -> Self {
        Self { carried, ..self }
    }

    /// Of a job, whose look is as it was signed off.
    pub(super) fn of_job(job: &Job, version: Version) -> Self {
        match version {
            Version::Styled => Self::of(&job.look, job.frame_number),
            Version::Unstyled => Self::default(),
        }
    }

    /// What follows the words about the picture's numbers.
    pub(super) fn words(&self) -> &str {
        self.words.as_deref().unwrap_or_default()
    }

    /// What goes on from the file that the picture was made from.
    pub(super) fn carried(&self) -> Carried {
        self.carried.clone()
    }
}
