//! Which Gaussians of a mixture are worth their cost.

use super::super::lobe::{Lobe, NARROWEST_SAMPLED_PX2};

/// A Gaussian of the finest level with a smaller share of the light is joined with its neighbour:
/// there it would cost as much as all coarser levels of its kind together. And if all that is
/// coarser holds less, it is joined with the widest of the finest level: then there are no levels.
const SMALLEST_SHARE: f64 = 0.02;
/// Gaussians whose widths differ by less than this factor are joined.
const ALIKE_BELOW: f64 = 1.1;

/// The lobes that are to be run, by width. `is_fine` tells those that run on the picture itself.
pub(super) fn worthwhile(lobes: &[Lobe], is_fine: &dyn Fn(&Lobe) -> bool) -> Vec<Lobe> {
    without_faint(join(lobes), is_fine)
}

/// The lobes with those joined that no picture tells apart: neighbours of almost the same width,
/// and all that are too narrow to be sampled, as along each axis the taps of their mean variance
/// are the mean of their taps. The variance of the whole stays.
fn join(lobes: &[Lobe]) -> Vec<Lobe> {
    let mut sorted: Vec<Lobe> = lobes.iter().copied().filter(|l| l.share != 0.0).collect();
    sorted.sort_by(|a, b| a.sigma.total_cmp(&b.sigma));
    let mut joined: Vec<Lobe> = Vec::new();
    for lobe in sorted {
        match joined.last_mut() {
            Some(last)
                if lobe.sigma < last.sigma * ALIKE_BELOW
                    || lobe.sigma * lobe.sigma < NARROWEST_SAMPLED_PX2 =>
            {
                *last = together(*last, lobe);
            }
            _ => joined.push(lobe),
        }
    }
    joined
}

/// Sorted lobes without those that are not worth their cost; see [`SMALLEST_SHARE`].
fn without_faint(mut lobes: Vec<Lobe>, is_fine: &dyn Fn(&Lobe) -> bool) -> Vec<Lobe> {
    let faint = |lobe: &Lobe| is_fine(lobe) && lobe.share.abs() < SMALLEST_SHARE;
    while lobes.len() > 1 {
        let Some(i) = lobes.iter().position(faint) else {
            break;
        };
        // The wider one, whose shape a little narrow light hardly changes.
        let lobe = lobes.remove(i);
        let neighbour = i.min(lobes.len() - 1);
        lobes[neighbour] = together(lobes[neighbour], lobe);
    }
    let fine = lobes.iter().take_while(|lobe| is_fine(lobe)).count();
    let strays: f64 = lobes[fine..].iter().map(|lobe| lobe.share.abs()).sum();
    if fine > 0 && strays < SMALLEST_SHARE {
        let (fine, coarse) = lobes.split_at(fine);
        let mut fine = fine.to_vec();
        if let Some(widest) = fine.last_mut() {
            *widest = coarse
                .iter()
                .fold(*widest, |one, other| together(one, *other));
        }
        return fine;
    }
    lobes
}

/// One lobe with the light and the variance of two.
fn together(one: Lobe, other: Lobe) -> Lobe {
    let share = one.share + other.share;
    let variance = |l: Lobe| l.share * l.sigma * l.sigma;
    Lobe {
        sigma: ((variance(one) + variance(other)) / share).sqrt(),
        share,
    }
}
