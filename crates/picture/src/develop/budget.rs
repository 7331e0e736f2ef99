//! Whether a picture can be developed in the memory that there is, known from sizes alone.

use lookwright_render::{Job, strip_pixels};

use lookwright_film::look::{Delivery, Frame, Look, StageId, StartingStock};
use lookwright_film::spatial::Window;

use super::Version;
use crate::{Error, Header, Limits, OutFormat, Result};

/// A picture to be developed, as far as its memory depends on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sizes {
    /// Columns and rows.
    pub size: (u32, u32),
    /// Bytes of its samples; none, if they lie elsewhere.
    pub sample_bytes: u64,
    /// What is written.
    pub format: OutFormat,
}

impl Sizes {
    /// Bytes that developing it holds at most, with so many strips in the works at a time.
    pub fn bytes(&self, job: &Job, version: Version, strips: usize) -> u64 {
        let (width, height) = self.size;
        let rendering = match version {
            Version::Styled => job.budget((width as usize, height as usize), strips),
            // Less than any look takes: one point pass.
            Version::Unstyled => Job {
                look: job.look.without_texture(),
                ..job.clone()
            }
            .budget((width as usize, height as usize), strips),
        };
        let pixels = u64::from(width) * u64::from(height);
        // What has been rendered waits to be written while the next strips are made.
        let waiting = pixels.min(strips as u64 * strip_pixels(width as usize)) * 12;
        let file = pixels.saturating_mul(self.format.held_bytes());
        [rendering.bytes, waiting, file, self.sample_bytes]
            .into_iter()
            .fold(0, u64::saturating_add)
    }

    /// How many strips can be in the works at a time, of at most `wanted`: at least one.
    ///
    /// # Errors
    /// One sentence if not even one can.
    pub fn strips(
        &self,
        job: &Job,
        version: Version,
        limits: &Limits,
        wanted: usize,
    ) -> Result<usize> {
        let fits = |strips: &usize| self.bytes(job, version, *strips) <= limits.max_bytes;
        (1..=wanted.max(1)).rev().find(fits).ok_or_else(|| {
            let (width, height) = self.size;
            Error::new(format!(
                "Rendering {width} x {height} pixels with this look to this format would take {} MiB \
                 of memory; {} MiB are allowed: make a smaller copy of the picture.",
                self.bytes(job, version, 1) >> 20,
                limits.max_bytes >> 20
            ))
        })
    }
}

/// Accepts a picture by its header if a starting look can be developed from it, one strip at a time,
/// while its samples are held: whoever opens a picture wants to see it through some look.
///
/// # Errors
/// One sentence if it can't.
pub fn check_developing(header: &Header, limits: &Limits) -> Result<()> {
    let (width, height) = (header.width as u32, header.height as u32);
    let job = Job {
        look: Look::starting(StartingStock::Evening),
        frame: Frame::default(),
        delivery: Delivery::default(),
        stage: StageId::Screen,
        window: Window::whole(width as usize, height as usize),
        frame_number: 0,
    };
    let sizes = Sizes {
        size: (width, height),
        sample_bytes: header.sample_bytes(),
        format: OutFormat::Png8,
    };
    let bytes = sizes.bytes(&job, Version::Styled, 1);
    if bytes > limits.max_bytes {
        return Err(Error::new(format!(
            "Developing this picture of {width} x {height} pixels would take {} MiB of memory; {} MiB \
             are allowed: make a smaller copy of it.",
            bytes >> 20,
            limits.max_bytes >> 20
        )));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Kind;

    fn job(look: Look) -> Job {
        Job {
            look,
            frame: Frame::default(),
            delivery: Delivery::default(),
            stage: StageId::Screen,
            window: Window::whole(1, 1),
            frame_number: 0,
        }
    }

    fn sizes(width: u32, height: u32) -> Sizes {
        Sizes {
            size: (width, height),
            sample_bytes: u64::from(width) * u64::from(height) * 3,
            format: OutFormat::Png8,
        }
    }

    fn limits(max_bytes: u64) -> Limits {
        Limits {
            max_bytes,
            ..Limits::default()
        }
    }

    #[test]
    fn as_many_strips_as_there_is_memory_for() {
        let job = job(Look::starting(StartingStock::Overcast));
        let sizes = sizes(6000, 4000);
        let bytes = |strips| sizes.bytes(&job, Version::Styled, strips);
        let strips =
            |max_bytes, wanted| sizes.strips(&job, Version::Styled, &limits(max_bytes), wanted);
        assert_eq!(strips(bytes(8), 8), Ok(8));
        assert_eq!(strips(bytes(8) - 1, 8), Ok(7));
        assert_eq!(strips(bytes(8), 2), Ok(2));
        assert_eq!(strips(bytes(8), 0), Ok(1));
        let refusal = strips(bytes(1) - 1, 8).unwrap_err();
        assert!(refusal.message().contains("6000 x 4000"), "{refusal}");
    }

    /// In the page's 2 GiB: photographs of any camera, and no lines of pixels, whose files are small.
    #[test]
    fn what_can_not_be_developed_is_refused_by_its_header() {
        let check = |width, height, bits| {
            let header = Header {
                kind: Kind::Png,
                width,
                height,
                channels: 3,
                bits,
                floats: false,
                decoding_bytes: 3,
            };
            check_developing(&header, &limits(2 << 30))
        };
        assert_eq!(check(11_600, 8_700, 8), Ok(()));
        assert_eq!(check(9_504, 6_336, 16), Ok(()));
        for (width, height) in [(40_000_000, 1), (1, 40_000_000), (20_000, 15_000)] {
            let refusal = check(width, height, 8).unwrap_err();
            let size = format!("{width} x {height} pixels would take");
            assert!(refusal.message().contains(&size), "{refusal}");
        }
    }

    /// A line of pixels has as much around it as a picture: it is the shape that makes it dear.
    #[test]
    fn lines_are_dearer_than_pictures_and_looks_dearer_than_none() {
        let job = job(Look::starting(StartingStock::Overcast));
        let bytes = |width, height, version| sizes(width, height).bytes(&job, version, 1);
        let whole = bytes(6000, 4000, Version::Styled);
        assert!(bytes(24_000_000, 1, Version::Styled) > 4 * whole);
        assert!(bytes(1, 24_000_000, Version::Styled) > 4 * whole);
        let plain = bytes(24_000_000, 1, Version::Unstyled);
        assert!(plain < bytes(24_000_000, 1, Version::Styled) / 4);
    }
}
