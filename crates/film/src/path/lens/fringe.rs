//! Chromatic fringe: a lens draws red and blue a little larger or smaller than green.
//!
//! Each is enlarged about the picture's middle, so what lies off it comes apart in proportion to its distance
//! from there: the first order of lateral colour (*standard*). How much is said on film, at the picture's
//! corner. Channels of scene light stand for the colours, as green's place is the picture's own.

use crate::look::{Lens, Negative, effective_amount};
use crate::path::plan::{Moving, OnFilm};
use crate::spatial::Window;
use crate::spatial::moved::Move;

/// How far the corner is moved outwards, in micrometres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fringe {
    red_um: f64,
    blue_um: f64,
}

/// The look's fringe, if it acts. Half the amount is half the way.
pub fn node(lens: &Lens, negative: &Negative) -> Option<OnFilm<Fringe>> {
    let step = &lens.fringe;
    let amount = effective_amount(step);
    let (red_um, blue_um) = (step.red * amount, step.blue * amount);
    (red_um != 0.0 || blue_um != 0.0).then_some(OnFilm {
        gauge: negative.stock.gauge,
        params: Fringe { red_um, blue_um },
    })
}

impl Moving for OnFilm<Fringe> {
    fn most_um(&self) -> f64 {
        self.params.red_um.abs().max(self.params.blue_um.abs())
    }

    fn moves(&self, window: &Window, _frame_number: u32) -> [Move; 3] {
        let half_diagonal_px = window.diagonal_px() / 2.0;
        let scale = self.scale(window);
        let outwards = |um: f64| {
            let larger = 1.0 + scale.px(um) / half_diagonal_px;
            Move::new(window, larger, [0.0; 2])
        };
        [
            outwards(self.params.red_um),
            Move::NONE,
            outwards(self.params.blue_um),
        ]
    }

    fn is_numbered(&self) -> bool {
        false
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::look::Gauge;
    use crate::spatial::Planes;
    use crate::spatial::moved::move_whole;

    #[test]
    fn an_edge_at_a_radius_is_apart_by_its_share_of_the_corner() {
        let (width, height) = (1200, 800);
        let mut lens = Lens::default();
        lens.fringe.on = true;
        lens.fringe.red = -30.0;
        lens.fringe.blue = 20.0;
        let mut negative = Negative::default();
        negative.stock.gauge = Gauge::Super35;
        let window = Window::whole(width, height);
        let mut picture = Planes::filled(width, height, 0.02);
        // A soft dot 400 pixels to the right of the middle.
        for plane in &mut picture.planes {
            for y in 380..420 {
                for x in 980..1020 {
                    let (across, down) = (x as f64 + 0.5 - 1000.0, y as f64 + 0.5 - 400.0);
                    let light = libm::exp(-(across * across + down * down) / 18.0);
                    plane[y * 1200 + x] += light as f32;
                }
            }
        }
        let fringe = node(&lens, &negative).unwrap();
        move_whole(&mut picture, &fringe.moves(&window, 0));
        let at = |channel: usize| {
            let row = &picture.row(channel, 400)[960..1040];
            let light = |v: &f32| f64::from(*v) - 0.02;
            let sum: f64 = row.iter().map(light).sum();
            let all = row.iter().enumerate();
            all.map(|(x, v)| (x as f64 + 960.5) * light(v)).sum::<f64>() / sum
        };
        // 24.89 mm over 1200 pixels: 20.742 um each; the corner is 721.11 pixels from the middle.
        let wanted = |um: f64| 1000.0 + um / (24_890.0 / 1200.0) * 400.0 / 721.110_255;
        for (channel, um) in [(0, -30.0), (1, 0.0), (2, 20.0)] {
            let off = at(channel) - wanted(um);
            assert!(off.abs() < 0.01, "{channel}: {off}");
        }
    }

    #[test]
    fn nothing_to_move_is_no_step() {
        let mut lens = Lens::default();
        assert!(node(&lens, &Negative::default()).is_none());
        lens.fringe.on = true;
        assert!(node(&lens, &Negative::default()).is_some());
        (lens.fringe.red, lens.fringe.blue) = (0.0, 0.0);
        assert!(node(&lens, &Negative::default()).is_none());
    }
}
