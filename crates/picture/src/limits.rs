//! What a picture may cost, checked on its header before anything is decoded.

use lookwright_colour::{Error, Result};

use crate::header::Header;

/// Bounds that a picture must keep to be decoded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// Most pixels, width times height.
    pub max_pixels: u64,
    /// Most bytes that decoding may hold at once: the file, the result and the decoder's own buffers
    /// together, as estimated from the header.
    pub max_bytes: u64,
}

impl Default for Limits {
    /// 300 megapixels; 6 GiB where addresses have 64 bits, 2 GiB where they have 32 (the browser).
    fn default() -> Self {
        let gib = 1 << 30;
        Self {
            max_pixels: 300_000_000,
            max_bytes: if cfg!(target_pointer_width = "64") {
                6 * gib
            } else {
                2 * gib
            },
        }
    }
}

/// What a colour profile, an EXIF block or another side record may take, unpacked.
pub(crate) const MAX_SIDE_DATA_BYTES: usize = 16 << 20;

impl Limits {
    /// Accepts a file's size, before it is read.
    ///
    /// # Errors
    /// One sentence if it is too big.
    pub fn check_file(&self, bytes: u64) -> Result<()> {
        if bytes > self.max_bytes {
            return Err(Error::new(format!(
                "This file has {} MiB; pictures of up to {} MiB are read: make a smaller copy of it.",
                bytes >> 20,
                self.max_bytes >> 20
            )));
        }
        Ok(())
    }

    /// Accepts a picture, of whose file so many bytes are held, or says what is wrong with it.
    ///
    /// # Errors
    /// One sentence if it is too big or empty.
    pub fn check(&self, header: &Header, held: u64) -> Result<()> {
        let &Header { width, height, .. } = header;
        if width == 0 || height == 0 {
            return Err(Error::new(format!(
                "The picture's header says {width} x {height} pixels: there is nothing in it; \
                 save the picture again."
            )));
        }
        let pixels = width.saturating_mul(height);
        if pixels > self.max_pixels {
            return Err(Error::new(format!(
                "The picture's header says {width} x {height} pixels; up to {} megapixels are \
                 read: make a smaller copy of it.",
                self.max_pixels / 1_000_000
            )));
        }
        let decoding = pixels.saturating_mul(header.decoding_bytes);
        let bytes = decoding.saturating_add(held);
        if bytes > self.max_bytes {
            return Err(Error::new(format!(
                "Decoding this picture of {width} x {height} pixels would take {} MiB of memory; \
                 {} MiB are allowed: make a smaller copy of it.",
                bytes >> 20,
                self.max_bytes >> 20
            )));
        }
        Ok(())
    }
}

/// A buffer of default values, or a sentence when the memory cannot be had.
pub(crate) fn buffer<T: Clone + Default>(len: usize) -> Result<Vec<T>> {
    let mut buffer = Vec::new();
    reserve(&mut buffer, len)?;
    buffer.resize(len, T::default());
    Ok(buffer)
}

/// Room for `len` more values, or a sentence when the memory cannot be had.
pub(crate) fn reserve<T>(buffer: &mut Vec<T>, len: usize) -> Result<()> {
    buffer.try_reserve_exact(len).map_err(|_| {
        let mib = (len * size_of::<T>()) >> 20;
        Error::new(format!(
            "There is no memory left for this picture ({mib} MiB more are needed): close other \
             pictures or make a smaller copy of it."
        ))
    })
}

#[cfg(test)]
mod tests {
    use super::{Header, Limits};
    use crate::kind::Kind;

    #[test]
    fn the_bounds_are_inclusive_and_each_has_its_sentence() {
        let limits = Limits {
            max_pixels: 1_000_000,
            max_bytes: 6_001_000,
        };
        let check = |width, height, decoding_bytes| {
            let header = Header {
                kind: Kind::Png,
                width,
                height,
                channels: 3,
                bits: 8,
                floats: false,
                decoding_bytes,
            };
            limits.check(&header, 1000)
        };
        assert!(check(1000, 1000, 6).is_ok());
        let sentence = |w, h, b| check(w, h, b).unwrap_err().to_string();
        assert!(sentence(1000, 1001, 3).contains("up to 1 megapixels"));
        assert!(sentence(1000, 1000, 7).contains("MiB"));
        assert!(sentence(0, 1000, 3).contains("nothing in it"));
        assert!(sentence(u64::MAX, u64::MAX, u64::MAX).contains("megapixels"));
    }
}
