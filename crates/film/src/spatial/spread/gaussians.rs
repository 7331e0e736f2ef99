//! Which Gaussians of a mixture are worth their cost.

use super::super::gaussian::{Gaussian, NARROWEST_SAMPLED_PX2};

/// A Gaussian of the finest level with a smaller share of the light is joined with its neighbour:
/// there it would cost as much as all coarser levels of its kind together. And if all that is
/// coarser holds less, it is joined with the widest of the finest level: then there are no levels.
const SMALLEST_SHARE: f64 = 0.02;
/// Gaussians whose widths differ by less than this factor are joined.
const ALIKE_BELOW: f64 = 1.1;

/// The gaussians that are to be run, by width. `is_fine` tells those that run on the picture itself.
pub(super) fn worthwhile(
    gaussians: &[Gaussian],
    is_fine: &dyn Fn(&Gaussian) -> bool,
) -> Vec<Gaussian> {
    without_faint(join(gaussians), is_fine)
}

/// The gaussians with those joined that no picture tells apart: neighbours of almost the same width,
/// and all that are too narrow to be sampled, as along each axis the taps of their mean variance
/// are the mean of their taps. The variance of the whole stays.
fn join(gaussians: &[Gaussian]) -> Vec<Gaussian> {
    let mut sorted: Vec<Gaussian> = gaussians
        .iter()
        .copied()
        .filter(|l| l.share != 0.0)
        .collect();
    sorted.sort_by(|a, b| a.sigma.total_cmp(&b.sigma));
    let mut joined: Vec<Gaussian> = Vec::new();
    for gaussian in sorted {
        match joined.last_mut() {
            Some(last)
                if gaussian.sigma < last.sigma * ALIKE_BELOW
                    || gaussian.sigma * gaussian.sigma < NARROWEST_SAMPLED_PX2 =>
            {
                *last = together(*last, gaussian);
            }
            _ => joined.push(gaussian),
        }
    }
    joined
}

/// Sorted gaussians without those that are not worth their cost; see [`SMALLEST_SHARE`].
fn without_faint(
    mut gaussians: Vec<Gaussian>,
    is_fine: &dyn Fn(&Gaussian) -> bool,
) -> Vec<Gaussian> {
    let faint = |gaussian: &Gaussian| is_fine(gaussian) && gaussian.share.abs() < SMALLEST_SHARE;
    while gaussians.len() > 1 {
        let Some(i) = gaussians.iter().position(faint) else {
            break;
        };
        // The wider one, whose shape a little narrow light hardly changes.
        let gaussian = gaussians.remove(i);
        let neighbour = i.min(gaussians.len() - 1);
        gaussians[neighbour] = together(gaussians[neighbour], gaussian);
    }
    let fine = gaussians
        .iter()
        .take_while(|gaussian| is_fine(gaussian))
        .count();
    let strays: f64 = gaussians[fine..]
        .iter()
        .map(|gaussian| gaussian.share.abs())
        .sum();
    if fine > 0 && strays < SMALLEST_SHARE {
        let (fine, coarse) = gaussians.split_at(fine);
        let mut fine = fine.to_vec();
        if let Some(widest) = fine.last_mut() {
            *widest = coarse
                .iter()
                .fold(*widest, |one, other| together(one, *other));
        }
        return fine;
    }
    gaussians
}

/// One gaussian with the light and the variance of two.
fn together(one: Gaussian, other: Gaussian) -> Gaussian {
    let share = one.share + other.share;
    let variance = |l: Gaussian| l.share * l.sigma * l.sigma;
    Gaussian {
        sigma: ((variance(one) + variance(other)) / share).sqrt(),
        share,
    }
}
