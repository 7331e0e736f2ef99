//! A part of a picture with as much around it as its rendering needs.

use lookwright_colour::{Error, Result};

/// Widest margin that a detail is rendered with: the far end of wide halos is left out, so that
/// looking closely stays quick.
const MARGIN_MAX: usize = 256;

/// A part of a picture and what lies around it, as far as the picture goes.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) struct Around {
    pub(crate) x: u32,
    pub(crate) y: u32,
    pub(crate) width: u32,
    pub(crate) height: u32,
}

impl Around {
    /// `part` (x, y, width, height) with `reach_px` on every side, as far as the `whole` goes.
    ///
    /// # Errors
    /// If the part is empty or reaches past the whole.
    pub(crate) fn of(
        whole: (u32, u32),
        part: (u32, u32, u32, u32),
        reach_px: usize,
    ) -> Result<Self> {
        let (x, y, width, height) = part;
        let inside = |from: u32, length: u32, whole: u32| {
            length > 0 && from.checked_add(length).is_some_and(|end| end <= whole)
        };
        if !inside(x, width, whole.0) || !inside(y, height, whole.1) {
            return Err(Error::new("that part lies outside the picture"));
        }
        let margin = reach_px.min(MARGIN_MAX) as u32;
        let (left, top) = (x.saturating_sub(margin), y.saturating_sub(margin));
        Ok(Self {
            x: left,
            y: top,
            width: (x + width).saturating_add(margin).min(whole.0) - left,
            height: (y + height).saturating_add(margin).min(whole.1) - top,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_margin_ends_with_the_picture_and_is_bounded() {
        let part = Around::of((4000, 3000), (10, 1000, 100, 50), 40).unwrap();
        assert_eq!(
            (part.x, part.y, part.width, part.height),
            (0, 960, 150, 130)
        );
        let wide = Around::of((4000, 3000), (2000, 1000, 100, 50), 100_000).unwrap();
        assert_eq!(wide.width, 100 + 2 * MARGIN_MAX as u32);
    }

    #[test]
    fn a_part_that_is_empty_or_outside_is_refused() {
        assert!(Around::of((40, 30), (0, 0, 0, 5), 0).is_err());
        assert!(Around::of((40, 30), (30, 0, 11, 5), 0).is_err());
        assert!(Around::of((40, 30), (u32::MAX, 0, 2, 5), 0).is_err());
    }
}
