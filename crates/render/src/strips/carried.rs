//! What one strip leaves for the next.

use core::ops::Range;
use std::collections::BTreeMap;

use lookwright_film::spatial::step::{Strip, StripScratch};

/// The last rows of a strip, as they are before each link that spreads: the next strip needs them
/// too.
#[derive(Default)]
pub struct CarriedRows {
    strips: BTreeMap<usize, Strip>,
    /// What steps work in.
    pub(super) scratch: StripScratch,
}

impl CarriedRows {
    /// What was left before a link, if it begins with row `first`.
    pub(super) fn take(&mut self, link: usize, first: usize) -> Option<Strip> {
        self.strips
            .remove(&link)
            .filter(|strip| strip.first == first)
    }

    /// Leaves what the strip below `rows` needs of a strip: it brings `margin` rows along.
    pub(super) fn leave(&mut self, link: usize, strip: Strip, rows: &Range<usize>, margin: usize) {
        let first = rows.end.saturating_sub(margin).max(strip.first);
        let picture = strip.part(&(first..strip.first + strip.picture.height));
        self.strips.insert(
            link,
            Strip {
                picture,
                first,
                full_height: strip.full_height,
            },
        );
    }
}
