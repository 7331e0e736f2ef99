//! What to make of a picture.

use lookwright_film::look::{Delivery, Frame, Look, StageId};
use lookwright_film::path::Plan;
use lookwright_film::spatial::Window;

/// What to make of a picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    /// The look.
    pub look: Look,
    /// The frame's own settings.
    pub frame: Frame,
    /// What it is delivered for.
    pub delivery: Delivery,
    /// The stage after which the numbers are wanted.
    pub stage: StageId,
    /// Where the buffer lies in the whole picture.
    pub window: Window,
    /// Number of the frame in its sequence: grain and dust differ from frame to frame.
    pub frame_number: u32,
}

impl Job {
    /// What is done, in order.
    pub fn plan(&self) -> Plan {
        Plan::of(&self.look, &self.frame, &self.delivery, self.stage)
    }

    /// The same for a page's canvas, which takes codes for sRGB's: a screen that it could only show falsely
    /// has another stand for it ([`lookwright_colour::encoding::Screen`]).
    #[must_use]
    pub fn on_canvas(mut self) -> Self {
        let screen = &mut self.delivery.display.screen;
        *screen = screen.info().stand_in;
        self
    }

    /// What is done to show the frame as the camera saw it, without any look.
    pub fn unstyled_plan(&self) -> Plan {
        Plan::unstyled(&self.frame, &self.delivery)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_colour::encoding::ScreenId;

    #[test]
    fn a_canvas_shows_the_codes_of_ordinary_screens_and_rec709s_for_all_others() {
        let shown = |screen| {
            let mut delivery = Delivery::default();
            delivery.display.screen = screen;
            let job = Job {
                look: Look::default(),
                frame: Frame::default(),
                delivery,
                stage: StageId::Screen,
                window: Window::whole(1, 1),
                frame_number: 0,
            };
            job.on_canvas().delivery.display.screen
        };
        for screen in ScreenId::ALL {
            let expected = match screen {
                ScreenId::Srgb | ScreenId::DisplayP3 | ScreenId::Rec2020 => screen,
                _ => ScreenId::Rec709,
            };
            assert_eq!(shown(screen), expected);
        }
    }
}
