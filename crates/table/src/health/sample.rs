//! Points that fill the colour cube evenly.

/// The first `count` points of the Halton sequence in bases 2, 3 and 5 (Halton, Numerische
/// Mathematik 2, 1960): evenly spread, and the same every time. Each number is in 0 ..= 1.
#[must_use]
pub fn halton(count: usize) -> Vec<[f32; 3]> {
    (1..=count)
        .map(|i| [2, 3, 5].map(|base| radical_inverse(i, base) as f32))
        .collect()
}

/// The digits of `index` in `base`, mirrored at the point.
fn radical_inverse(mut index: usize, base: usize) -> f64 {
    let (mut value, mut place) = (0.0, 1.0);
    while index > 0 {
        place /= base as f64;
        value += (index % base) as f64 * place;
        index /= base;
    }
    value
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The first terms as in Halton's paper: 1/2, 1/4, 3/4, 1/8; 1/3, 2/3, 1/9; 1/5, 2/5, 3/5.
    #[test]
    fn the_first_points_are_those_of_the_paper() {
        let points = halton(4);
        assert_eq!(
            points.iter().map(|p| p[0]).collect::<Vec<_>>(),
            [0.5, 0.25, 0.75, 0.125]
        );
        assert_eq!(points[2][1], (1.0 / 9.0_f64) as f32);
        assert_eq!(points[2][2], 0.6);
    }

    #[test]
    fn points_fill_the_cube_evenly() {
        let points = halton(4000);
        for channel in 0..3 {
            for tenth in 0..10 {
                let low = tenth as f32 / 10.0;
                let inside = |p: &&[f32; 3]| (low..low + 0.1).contains(&p[channel]);
                let share = points.iter().filter(inside).count();
                assert!((395..=405).contains(&share), "{channel} {tenth} {share}");
            }
        }
    }
}
