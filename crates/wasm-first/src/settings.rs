//! The settings that pictures are rendered with.

use lookwright_colour::{Error, Result};
use lookwright_film::look::{Delivery, Frame, Look, Options, StageId};
use lookwright_film::spatial::Window;
use lookwright_render::Job;
use wasm_bindgen::prelude::*;

use crate::answer::problem;

/// All that a rendering depends on beside its picture. Each part comes as JSON and is read when its
/// text is another than before, so that a moved control costs one reading of one part.
#[wasm_bindgen]
#[derive(Default)]
pub struct RenderSettings {
    look: Part<Look>,
    frame: Part<Frame>,
    delivery: Part<Delivery>,
}

/// A value and the text that it was read from.
#[derive(Default)]
struct Part<T> {
    text: Option<String>,
    value: T,
}

impl<T> Part<T> {
    fn read(&mut self, text: &str, read: fn(&str) -> Result<T>) -> Result<()> {
        if self.text.as_deref() != Some(text) {
            self.value = read(text)?;
            self.text = Some(text.to_owned());
        }
        Ok(())
    }
}

#[wasm_bindgen]
impl RenderSettings {
    /// A starting look, frame and delivery.
    #[wasm_bindgen(constructor)]
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Takes over these settings; each part stays as it was if its text did.
    ///
    /// # Errors
    /// One sentence that begins with the path of the key that is wrong.
    pub fn read(
        &mut self,
        look: &str,
        frame: &str,
        delivery: &str,
    ) -> core::result::Result<(), JsError> {
        self.take(look, frame, delivery).map_err(problem)
    }
}

impl RenderSettings {
    fn take(&mut self, look: &str, frame: &str, delivery: &str) -> Result<()> {
        self.look.read(look, Look::read)?;
        self.frame.read(frame, Frame::read)?;
        self.delivery.read(delivery, Delivery::read)
    }

    /// The look.
    #[must_use]
    pub fn look(&self) -> &Look {
        &self.look.value
    }

    /// The frame's own settings.
    #[must_use]
    pub fn frame(&self) -> &Frame {
        &self.frame.value
    }

    /// What the picture is made for.
    #[must_use]
    pub fn delivery(&self) -> &Delivery {
        &self.delivery.value
    }

    /// The rendering of a stage with these settings.
    ///
    /// # Errors
    /// Names the stages if there is none of that id.
    pub fn job(&self, stage: &str, window: Window, frame_number: u32) -> Result<Job> {
        Ok(Job {
            look: self.look().clone(),
            frame: self.frame().clone(),
            delivery: self.delivery().clone(),
            stage: self::stage(stage)?,
            window,
            frame_number,
        })
    }
}

pub(crate) fn stage(id: &str) -> Result<StageId> {
    StageId::from_id(id).ok_or_else(|| {
        let ids: Vec<_> = StageId::OPTIONS.iter().map(|o| o.id).collect();
        Error::new(format!(
            "\"{id}\" is not a stage; stages are {}",
            ids.join(", ")
        ))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const LOOK: &str = r#"{"lookwright":1,"lens":{"exposure":{"stops":1}}}"#;

    #[test]
    fn a_part_that_changed_is_read_and_the_others_stay() {
        let mut settings = RenderSettings::new();
        settings.take(LOOK, "{}", "{}").unwrap();
        let stops = settings.look().lens.exposure.stops;
        assert_eq!(stops, 1.0);
        let trim = r#"{"trim":{"exposure":-0.5}}"#;
        settings.take(LOOK, trim, "{}").unwrap();
        assert_eq!(settings.frame().trim.exposure, -0.5);
        assert_eq!(settings.look().lens.exposure.stops, stops);
        // As if the core had been handed the texts.
        let window = Window::whole(3, 2);
        let job = settings.job("screen", window, 7).unwrap();
        assert_eq!(job.look, Look::read(LOOK).unwrap());
        assert_eq!(job.frame, Frame::read(trim).unwrap());
        assert_eq!(job.frame_number, 7);
    }

    #[test]
    fn what_could_not_be_read_is_not_taken_for_read() {
        let mut settings = RenderSettings::new();
        let bad = r#"{"lookwright":1,"lens":{"exposure":{"stops":"much"}}}"#;
        for _ in 0..2 {
            let error = settings.take(bad, "{}", "{}").unwrap_err();
            assert!(
                error.message().starts_with("lens.exposure.stops"),
                "{error}"
            );
        }
        assert!(settings.job("darkroom", Window::whole(1, 1), 0).is_err());
    }
}
