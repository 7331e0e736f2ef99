//! Raw frames as they come through a pipe.

use anyhow::{Result, bail};
use lookwright_picture::{Decoded, Limits, Samples};

/// What raw frames are: interleaved, rows from the top, low byte first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Raw {
    size: (u32, u32),
    channels: usize,
    /// Bits of a sample; 32 are floats.
    bits: u8,
}

impl Raw {
    /// Reads `1920x1080:rgb16`.
    ///
    /// # Errors
    /// One sentence for anything else.
    pub(crate) fn parse(text: &str) -> Result<Self, String> {
        let parts = text.split_once(':').and_then(|(size, kind)| {
            let (width, height) = size.split_once('x')?;
            let (channels, bits) = match kind.strip_prefix("rgba") {
                Some(bits) => (4, bits),
                None => (3, kind.strip_prefix("rgb")?),
            };
            let bits = match bits {
                "8" => 8,
                "16" => 16,
                "f32" => 32,
                _ => return None,
            };
            Some(Self {
                size: (width.parse().ok()?, height.parse().ok()?),
                channels,
                bits,
            })
        });
        match parts {
            Some(raw)
                if (1..=65_535).contains(&raw.size.0) && (1..=65_535).contains(&raw.size.1) =>
            {
                Ok(raw)
            }
            _ => Err(
                "give size and samples such as 1920x1080:rgb16; rgb8, rgb16, rgbf32 and the same \
                      with rgba are read"
                    .to_owned(),
            ),
        }
    }

    /// Refuses frames that are larger than pictures may be.
    ///
    /// # Errors
    /// If they are.
    pub(super) fn check(self) -> Result<()> {
        let (width, height) = self.size;
        let most = Limits::default().max_pixels;
        if u64::from(width) * u64::from(height) > most {
            bail!(
                "--raw: frames of up to {} megapixels are read",
                most / 1_000_000
            );
        }
        Ok(())
    }

    /// Bytes of a frame.
    pub(super) fn frame_bytes(self) -> usize {
        let pixels = self.size.0 as usize * self.size.1 as usize;
        pixels * self.channels * usize::from(self.bits / 8)
    }

    /// A frame's picture; alpha is dropped.
    pub(super) fn picture(self, frame: &[u8]) -> Result<Decoded> {
        fn rgb<T: Copy, const N: usize>(
            bytes: &[u8],
            channels: usize,
            of: fn([u8; N]) -> T,
        ) -> Vec<T> {
            let samples = bytes.as_chunks::<N>().0.chunks_exact(channels);
            samples
                .flat_map(|pixel| [of(pixel[0]), of(pixel[1]), of(pixel[2])])
                .collect()
        }
        let samples = match self.bits {
            8 => Samples::U8(rgb(frame, self.channels, u8::from_le_bytes)),
            16 => Samples::U16(rgb(frame, self.channels, u16::from_le_bytes)),
            _ => Samples::F32(rgb(frame, self.channels, f32::from_le_bytes)),
        };
        Ok(Decoded::of_samples(self.size, samples)?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn frames_are_told_by_size_and_samples() {
        let raw = Raw::parse("2x1:rgba16").unwrap();
        assert_eq!(raw.frame_bytes(), 16);
        let frame: Vec<u8> = (1_u16..=8).flat_map(u16::to_le_bytes).collect();
        let picture = raw.picture(&frame).unwrap();
        assert_eq!(picture.samples, Samples::U16(vec![1, 2, 3, 5, 6, 7]));
        assert_eq!(
            Raw::parse("1920x1080:rgbf32").unwrap().frame_bytes(),
            1920 * 1080 * 12
        );
        for text in [
            "",
            "2x2",
            "2x2:rgb",
            "2x2:rgb10",
            "0x2:rgb8",
            "2:rgb8",
            "70000x2:rgb8",
        ] {
            assert!(
                Raw::parse(text).unwrap_err().starts_with("give size"),
                "{text}"
            );
        }
    }
}
