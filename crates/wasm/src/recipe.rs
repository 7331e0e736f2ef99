//! The three JSON texts that say how a picture is rendered.

use lookwright_colour::{Error, Result};
use lookwright_film::look::{Delivery, Frame, Look, Options, StageId};
use lookwright_film::spatial::Window;
use lookwright_render::Job;

/// Reads a recipe into a job.
pub(crate) fn job(
    look: &str,
    frame: &str,
    delivery: &str,
    stage: &str,
    window: Window,
) -> Result<Job> {
    Ok(Job {
        look: Look::read(look)?,
        frame: Frame::read(frame)?,
        delivery: Delivery::read(delivery)?,
        stage: self::stage(stage)?,
        window,
        frame_number: 0,
    })
}

fn stage(id: &str) -> Result<StageId> {
    StageId::from_id(id).ok_or_else(|| {
        let ids: Vec<_> = StageId::OPTIONS.iter().map(|o| o.id).collect();
        Error::new(format!(
            "\"{id}\" is not a stage; stages are {}",
            ids.join(", ")
        ))
    })
}
