//! The order of a JPEG's components, where the decoder is known to go wrong.
//!
//! zune-jpeg 0.5.15 gives a wrong picture, without an error, for two kinds that hardly any
//! program writes: brightness with fewer samples than colour, and sequential files whose first
//! scan holds only some of several components when these differ in sampling. Both are refused.

/// Whether the decoder would misread this file. A header that cannot be walked is not judged.
pub(super) fn is_misread(bytes: &[u8]) -> bool {
    Frame::find(bytes).is_some_and(|frame| frame.is_misread())
}

struct Frame {
    sequential: bool,
    /// Horizontal and vertical sampling factors of each component.
    sampling: Vec<(u8, u8)>,
    /// Components in the first scan.
    scanned: u8,
}

impl Frame {
    /// Walks the segments (ITU-T T.81, B.1.1.4) up to the first scan.
    fn find(bytes: &[u8]) -> Option<Self> {
        let mut rest = bytes.get(2..)?;
        let mut frame = None;
        loop {
            let start = rest
                .windows(2)
                .position(|w| w[0] == 0xff && !matches!(w[1], 0 | 0xff))?;
            let (marker, segment) = (rest[start + 1], rest.get(start + 2..)?);
            if matches!(marker, 0x01 | 0xd0..=0xd8) {
                rest = segment;
                continue;
            }
            let length = usize::from(u16::from_be_bytes([*segment.first()?, *segment.get(1)?]));
            let body = segment.get(2..length)?;
            match marker {
                0xc0..=0xc2 => frame = Some((marker != 0xc2, factors(body)?)),
                0xda => {
                    let (sequential, sampling) = frame?;
                    return Some(Self {
                        sequential,
                        sampling,
                        scanned: *body.first()?,
                    });
                }
                _ => {}
            }
            rest = segment.get(length..)?;
        }
    }

    fn is_misread(&self) -> bool {
        let Some(&first) = self.sampling.first() else {
            return false;
        };
        let coarse = self
            .sampling
            .iter()
            .any(|&(h, v)| h > first.0 || v > first.1);
        let partial = usize::from(self.scanned) < self.sampling.len();
        let uneven = self.sampling.iter().any(|&factors| factors != first);
        coarse || (self.sequential && partial && uneven)
    }
}

/// A frame header's sampling factors (B.2.2).
fn factors(body: &[u8]) -> Option<Vec<(u8, u8)>> {
    let count = usize::from(*body.get(5)?);
    let components = body.get(6..6 + 3 * count)?;
    Some(
        components
            .chunks_exact(3)
            .map(|c| (c[1] >> 4, c[1] & 15))
            .collect(),
    )
}
