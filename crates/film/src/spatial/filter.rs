//! The few filters that everything wide is made of: symmetric sums, halving, doubling, and a
//! small two-dimensional kernel. All of them sum in a fixed order.

use core::ops::Range;

use super::padded::{HALVED_MARGIN, PAD, Padded};
use lookwright_colour::lane::widest;

/// Values that are summed side by side in registers.
const BLOCK: usize = 32;

/// `out[i] += taps[0] d[at + i] + sum_k taps[k] (d[at + i - k step] + d[at + i + k step])`.
///
/// `step` is 1 along a row and the stride along a column.
fn add_symmetric(data: &[f32], at: usize, step: usize, taps: &[f32], out: &mut [f32]) {
    widest(
        #[inline(always)]
        || add_symmetric_inline(data, at, step, taps, out),
    );
}

#[inline(always)]
fn add_symmetric_inline(data: &[f32], at: usize, step: usize, taps: &[f32], out: &mut [f32]) {
    let mut blocks = out.chunks_exact_mut(BLOCK);
    let mut i = at;
    for block in &mut blocks {
        let mut sum = [0.0_f32; BLOCK];
        for (s, d) in sum.iter_mut().zip(&data[i..i + BLOCK]) {
            *s = d * taps[0];
        }
        for (k, &tap) in taps.iter().enumerate().skip(1) {
            let below = &data[i - k * step..i - k * step + BLOCK];
            let above = &data[i + k * step..i + k * step + BLOCK];
            for ((s, b), a) in sum.iter_mut().zip(below).zip(above) {
                *s += (b + a) * tap;
            }
        }
        for (o, s) in block.iter_mut().zip(&sum) {
            *o += s;
        }
        i += BLOCK;
    }
    for o in blocks.into_remainder() {
        let mut sum = data[i] * taps[0];
        for (k, &tap) in taps.iter().enumerate().skip(1) {
            sum += (data[i - k * step] + data[i + k * step]) * tap;
        }
        *o += sum;
        i += 1;
    }
}

/// Adds row `y` of `source`, filtered by `taps` along both axes, to `out`. `weighted` are the
/// same taps times the filter's share. `buffer` holds one padded row.
pub(super) fn add_separable_row(
    source: &Padded,
    y: usize,
    taps: &[f32],
    weighted: &[f32],
    buffer: &mut [f32],
    out: &mut [f32],
) {
    let radius = taps.len() - 1;
    let buffer = &mut buffer[..source.width + 2 * radius];
    buffer.fill(0.0);
    let at = source.at(y as isize) - radius;
    add_symmetric(&source.data, at, source.stride, taps, buffer);
    add_symmetric(buffer, radius, 1, weighted, out);
}

/// A small kernel that is symmetric about both axes: `quarter[dy * (radius + 1) + dx]`.
#[derive(Clone, Debug)]
pub(super) struct Quarter {
    pub(super) radius: usize,
    pub(super) taps: Vec<f32>,
}

/// Adds row `y` of `source`, convolved with `kernel`, to `out`. Where the source is dark, as it is
/// around lamps, nothing is summed: zeros add nothing.
pub(super) fn add_quarter_row(source: &Padded, y: usize, kernel: &Quarter, out: &mut [f32]) {
    let first = source.at(y as isize) - source.pad;
    let lit: Vec<Range<usize>> = (0..=kernel.radius)
        .map(|dy| {
            let [up, down] = [first - dy * source.stride, first + dy * source.stride]
                .map(|row| lit(&source.data[row..row + source.stride]));
            up.start.min(down.start)..up.end.max(down.end)
        })
        .collect();
    widest(
        #[inline(always)]
        || add_quarter_row_inline(source, y, kernel, &lit, out),
    );
}

/// From the first to the last value that is not 0; `usize::MAX..0` where all are.
fn lit(row: &[f32]) -> Range<usize> {
    let is_lit = |value: &f32| *value != 0.0;
    match (row.iter().position(is_lit), row.iter().rposition(is_lit)) {
        (Some(first), Some(last)) => first..last + 1,
        _ => Range {
            start: usize::MAX,
            end: 0,
        },
    }
}

#[inline(always)]
fn add_quarter_row_inline(
    source: &Padded,
    y: usize,
    kernel: &Quarter,
    lit: &[Range<usize>],
    out: &mut [f32],
) {
    let at = source.at(y as isize);
    let radius = kernel.radius;
    let mut start = 0;
    while start < out.len() {
        let count = BLOCK.min(out.len() - start);
        let seen = source.pad + start - radius..source.pad + start + BLOCK + radius;
        let mut sum = [0.0_f32; BLOCK];
        for (dy, lit) in lit.iter().enumerate() {
            if lit.start >= seen.end || lit.end <= seen.start {
                continue;
            }
            let up = at + start - dy * source.stride;
            let down = at + start + dy * source.stride;
            let row = &kernel.taps[dy * (radius + 1)..(dy + 1) * (radius + 1)];
            for (dx, &tap) in row.iter().enumerate() {
                if tap == 0.0 {
                    continue;
                }
                // On an axis two of the four places are the same one and count once.
                let tap = tap * if dx == 0 { 0.5 } else { 1.0 } * if dy == 0 { 0.5 } else { 1.0 };
                for (i, s) in sum.iter_mut().enumerate() {
                    let up_pair = source.data[up + i - dx] + source.data[up + i + dx];
                    let down_pair = source.data[down + i - dx] + source.data[down + i + dx];
                    *s += (up_pair + down_pair) * tap;
                }
            }
        }
        for (o, s) in out[start..start + count].iter_mut().zip(&sum) {
            *o += s;
        }
        start += BLOCK;
    }
}

/// Halves `source` into `rows` of `target`: [1 3 3 1] / 8 along both axes, which makes cells that lie
/// between their sources and, repeated, a quadratic spline. The source begins with row `first` of
/// its level. Fills [`HALVED_MARGIN`] cells beyond the target's right edge too, and `rows` may be as
/// many beyond its lower edge.
pub(super) fn halve(source: &Padded, first: usize, target: &mut Padded, rows: Range<usize>) {
    widest(
        #[inline(always)]
        || halve_inline(source, first, target, rows),
    );
}

#[inline(always)]
fn halve_inline(source: &Padded, first: usize, target: &mut Padded, rows: Range<usize>) {
    let cells = target.width + HALVED_MARGIN;
    let columns = 2 * cells + 2;
    let mut buffer = vec![0.0_f32; columns];
    for y in rows {
        let middle = 2 * y as isize - first as isize;
        let rows = [-1, 0, 1, 2].map(|dy| {
            let at = source.at(middle + dy) - 1;
            &source.data[at..at + columns]
        });
        for (x, b) in buffer.iter_mut().enumerate() {
            *b = (rows[0][x] + rows[3][x]) * 0.125 + (rows[1][x] + rows[2][x]) * 0.375;
        }
        let start = target.at(y as isize);
        let out = &mut target.data[start..start + cells];
        for (o, b) in out.iter_mut().zip(buffer.windows(4).step_by(2)) {
            *o = (b[0] + b[3]) * 0.125 + (b[1] + b[2]) * 0.375;
        }
    }
}

/// Adds row `y` of `source` at twice its size to `out`, from column `x` on, which is even: the same
/// spline as [`halve`].
pub(super) fn add_doubled_row(
    source: &Padded,
    (x, y): (usize, usize),
    buffer: &mut [f32],
    out: &mut [f32],
) {
    widest(
        #[inline(always)]
        || add_doubled_row_inline(source, (x, y), buffer, out),
    );
}

#[inline(always)]
fn add_doubled_row_inline(
    source: &Padded,
    (x, y): (usize, usize),
    buffer: &mut [f32],
    out: &mut [f32],
) {
    let near = (y / 2) as isize;
    let far = if y.is_multiple_of(2) {
        near - 1
    } else {
        near + 1
    };
    let columns = out.len().div_ceil(2) + 2;
    let near = &source.data[source.at(near) + x / 2 - 1..][..columns];
    let far = &source.data[source.at(far) + x / 2 - 1..][..columns];
    let buffer = &mut buffer[..columns];
    for ((b, n), f) in buffer.iter_mut().zip(near).zip(far) {
        *b = n * 0.75 + f * 0.25;
    }
    let mut pairs = out.chunks_exact_mut(2);
    let mut cells = buffer.windows(3);
    for (pair, b) in (&mut pairs).zip(&mut cells) {
        pair[0] += b[1] * 0.75 + b[0] * 0.25;
        pair[1] += b[1] * 0.75 + b[2] * 0.25;
    }
    if let ([last], Some(b)) = (pairs.into_remainder(), cells.next()) {
        *last += b[1] * 0.75 + b[0] * 0.25;
    }
}

/// Length of a buffer that holds one padded row of a plane `width` wide.
pub(super) fn row_buffer(width: usize) -> Vec<f32> {
    vec![0.0; width + 2 * PAD]
}
