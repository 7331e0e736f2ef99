//! Before and after: a person's own frames, small.

use lookwright_core::Result;
use lookwright_core::encoding::ScreenId;
use lookwright_core::look::{Delivery, Frame, Look, StageId};
use lookwright_core::render::Job;
use lookwright_core::spatial::Window;
use lookwright_picture::{Decoded, OutFormat, Samples, Version, develop};

/// Longest edge of a picture on the contact sheet.
const EDGE_PX: u32 = 640;
const FORMAT: OutFormat = OutFormat::Jpeg { quality: 88 };

/// A frame for the contact sheet.
#[derive(Clone, Debug)]
pub struct SampleFrame {
    /// Its name, for people.
    pub name: String,
    /// The picture.
    pub picture: Decoded,
    /// How it is read.
    pub frame: Frame,
}

impl SampleFrame {
    /// The same frame at the size of a contact sheet: each pixel the mean of a square of codes.
    pub(super) fn small(&self) -> Self {
        let big = &self.picture;
        let edge = big.width.max(big.height).div_ceil(EDGE_PX).max(1);
        let (width, height) = ((big.width / edge).max(1), (big.height / edge).max(1));
        let mut samples = Vec::with_capacity(width as usize * height as usize * 3);
        for y in 0..height {
            for x in 0..width {
                let mut sum = [0.0_f32; 3];
                let mut count = 0.0_f32;
                for v in y * edge..((y + 1) * edge).min(big.height) {
                    for u in x * edge..((x + 1) * edge).min(big.width) {
                        let pixel = big.pixel(u, v);
                        sum = core::array::from_fn(|c| sum[c] + pixel[c]);
                        count += 1.0;
                    }
                }
                samples.extend(sum.map(|v| v / count));
            }
        }
        let picture = Decoded {
            width,
            height,
            samples: Samples::F32(samples),
            kind: big.kind,
            file_bits: big.file_bits,
            colour: big.colour.clone(),
            legal_range: big.legal_range,
            camera: big.camera.clone(),
            notes: Vec::new(),
        };
        Self {
            name: self.name.clone(),
            picture,
            frame: self.frame.clone(),
        }
    }

    /// The frame through a look with its texture, or as the camera saw it, as an sRGB JPEG.
    pub(super) fn shown(&self, look: &Look, version: Version) -> Result<Vec<u8>> {
        let mut delivery = Delivery::default();
        delivery.display.screen = ScreenId::Srgb;
        let (width, height) = (self.picture.width, self.picture.height);
        let job = Job {
            look: look.clone(),
            frame: self.frame.clone(),
            delivery,
            stage: StageId::Screen,
            window: Window::whole(width as usize, height as usize),
            frame_number: 0,
        };
        develop(&self.picture, &job, version, FORMAT)
    }
}
