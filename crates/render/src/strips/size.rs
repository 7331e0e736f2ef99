//! How large strips are, and what may be kept of them.

/// Pixels of a strip, about: a strip and what it takes to make it stay below 100 MB.
pub(crate) const STRIP_PIXELS: usize = 3 << 19;
/// Pixels of a strip that finds what the one above it has left, about: there are no rows around it
/// to be made again, so it may be small.
pub(super) const FOLLOWING_PIXELS: usize = 1 << 19;
/// Fewest rows of a strip, so that the rows around it are the smaller part.
const ROWS_MIN: usize = 64;
/// A partition of no more pixels is kept as it is before each wide step, at 12 bytes per pixel, so
/// that nothing is done twice. A larger one is made again from the picture's rows in each round.
pub(crate) const KEPT_PIXELS: usize = if cfg!(target_pointer_width = "64") {
    16 << 20
} else {
    8 << 20
};
/// Partitions begin at multiples of these rows.
pub const PARTITION_ROWS: usize = 16;

/// Rows of strips of about so many pixels.
pub(crate) fn rows_of(width: usize, pixels: usize) -> usize {
    let rows = (pixels / width.max(1)).max(ROWS_MIN);
    rows.next_multiple_of(PARTITION_ROWS)
}
