//! A person's own frames, small, before and after.

use lookwright_colour::Rgb;
use lookwright_colour::encoding::ScreenId;
use lookwright_film::look::{Delivery, Frame, Look, StageId};
use lookwright_film::path::{FrameCode, LightPath};
use lookwright_film::spatial::{Planes, Reducer, Window};
use lookwright_picture::Decoded;
use lookwright_render::{Job, Renderer, dither8};
use lookwright_table::health::halton;

/// A frame for the contact sheet and for halation plates.
#[derive(Clone, Debug)]
pub struct SampleFrame {
    /// Its name, for people.
    pub name: String,
    /// The picture.
    pub picture: Decoded,
    /// How it is read.
    pub frame: Frame,
}

/// A frame reduced, in its own code.
pub(super) struct Small {
    code: Planes,
    frame: Frame,
}

/// Interleaved RGB of 8 bits.
pub(super) struct Shown {
    pub(super) width: usize,
    pub(super) height: usize,
    pub(super) rgb: Vec<u8>,
}

impl SampleFrame {
    /// The frame with a longest edge of at most `edge` pixels, each the mean of the codes that it
    /// covers.
    pub(super) fn small(&self, edge: usize) -> Small {
        let (width, height) = (self.picture.width as usize, self.picture.height as usize);
        let longest = width.max(height).max(1);
        let scaled = |length: usize| match longest > edge {
            true => (length * edge / longest).max(1),
            false => length,
        };
        let mut reducer = Reducer::new(width, height, scaled(width), scaled(height));
        for y in 0..self.picture.height {
            let row = self.picture.rows(y..y + 1);
            reducer.push_row(row.each_ref().map(Vec::as_slice));
        }
        Small {
            code: reducer.finish(),
            frame: self.frame.clone(),
        }
    }
}

/// Pixels of a frame that tables are held against.
const SAMPLE: usize = 1500;

impl SampleFrame {
    /// Scene light (AP1) of pixels that are spread evenly over the frame.
    pub(super) fn scene_light(&self) -> Vec<[f64; 3]> {
        let path = LightPath::new(&Look::default(), &self.frame, &Delivery::default());
        let (width, height) = (self.picture.width, self.picture.height);
        let at = |share: f32, length: u32| ((share * length as f32) as u32).min(length - 1);
        halton(SAMPLE)
            .into_iter()
            .map(|[x, y, _]| {
                let code = self.picture.pixel(at(x, width), at(y, height));
                path.intake(FrameCode(Rgb::from_array(code)))
                    .0
                    .to_array()
                    .map(f64::from)
            })
            .collect()
    }
}

impl Small {
    /// The frame through a look with its texture, or with none as the camera saw it, for sRGB.
    pub(super) fn shown(&self, look: Option<&Look>) -> Shown {
        let mut delivery = Delivery::default();
        delivery.display.screen = ScreenId::Srgb;
        let (width, height) = (self.code.width, self.code.height);
        let job = Job {
            look: look.cloned().unwrap_or_default(),
            frame: self.frame.clone(),
            delivery,
            stage: StageId::Screen,
            window: Window::whole(width, height),
            frame_number: 0,
        };
        let mut renderer = Renderer::new(self.code.clone());
        let picture = match look {
            Some(_) => renderer.render(&job),
            None => renderer.unstyled(&job),
        };
        Shown {
            width,
            height,
            rgb: (0..height).flat_map(|y| dither8(&picture, y, 0)).collect(),
        }
    }
}
