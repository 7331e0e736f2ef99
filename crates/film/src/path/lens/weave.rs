//! Gate weave and breathing: from frame to frame the picture lies elsewhere on the film.
//!
//! The film's place in the camera's gate differs a little for each frame, and where it bulges the picture is
//! drawn larger or smaller. Both are said on film, as root mean squares over a clip's frames; each frame draws
//! its own by its number ([`crate::path::frames::drawn`]). Normal numbers: *chosen*; perforations and gates leave some ten
//! micrometres on 35 mm (from memory). What lies on the film, grain and dust, stays in its place. Beyond the
//! frame its edge goes on.

use crate::look::{Lens, Negative, effective_amount};
use crate::path::frames::{FARTHEST, drawn};
use crate::path::plan::{Moving, OnFilm};
use crate::spatial::Window;
use crate::spatial::moved::Move;

/// Root mean squares in micrometres, and what draws the frames.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weave {
    sideways_um: f64,
    upright_um: f64,
    /// Outwards at the corner.
    breathing_um: f64,
    slowness: f64,
    seed: u32,
}

/// Different numbers for each of them.
const SALTS: [u32; 3] = [0x77ea_0001, 0x77ea_0002, 0x77ea_0003];

/// The look's weave, if it acts; the frame's number comes later. Half the amount is half the way.
pub fn node(lens: &Lens, negative: &Negative) -> Option<OnFilm<Weave>> {
    let step = &lens.weave;
    let amount = effective_amount(step);
    let params = Weave {
        sideways_um: step.sideways * amount,
        upright_um: step.upright * amount,
        breathing_um: step.breathing * amount,
        slowness: step.slowness,
        seed: step.seed as u32,
    };
    let moves = params.sideways_um + params.upright_um + params.breathing_um > 0.0;
    moves.then_some(OnFilm {
        gauge: negative.stock.gauge,
        params,
    })
}

impl Weave {
    /// To the right, down, and outwards at the corner, in micrometres.
    fn of_frame(&self, frame_number: u32) -> [f64; 3] {
        let drawn = SALTS.map(|salt| drawn(self.seed, salt, frame_number, self.slowness));
        [
            self.sideways_um * drawn[0],
            self.upright_um * drawn[1],
            self.breathing_um * drawn[2],
        ]
    }
}

impl Moving for OnFilm<Weave> {
    fn most_um(&self) -> f64 {
        let weave = &self.params;
        FARTHEST * (weave.sideways_um.max(weave.upright_um) + weave.breathing_um)
    }

    fn moves(&self, window: &Window, frame_number: u32) -> [Move; 3] {
        let scale = self.scale(window);
        let [right, down, outwards] = self.params.of_frame(frame_number).map(|um| scale.px(um));
        let larger = 1.0 + outwards / (window.diagonal_px() / 2.0);
        let by = Move::new(window, larger, [right, down]);
        [by; 3]
    }

    fn is_numbered(&self) -> bool {
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::look::Gauge;

    fn weave() -> OnFilm<Weave> {
        let mut lens = Lens::default();
        lens.weave.on = true;
        (lens.weave.sideways, lens.weave.upright) = (20.0, 10.0);
        (lens.weave.breathing, lens.weave.slowness) = (5.0, 2.0);
        let mut negative = Negative::default();
        negative.stock.gauge = Gauge::Super16;
        node(&lens, &negative).unwrap()
    }

    #[test]
    fn over_a_clip_the_picture_lies_off_by_the_stated_root_mean_squares() {
        // 12.52 mm over 2504 pixels: 5 um each.
        let window = Window::whole(2504, 1400);
        let weave = weave();
        let count = 8000;
        let mut squares = [0.0; 3];
        let half_diagonal = 2504.0_f64.hypot(1400.0) / 2.0;
        for frame in 0..count {
            let [by, ..] = weave.moves(&window, frame);
            let (middle, corner) = (by.lies_at([1251.5, 699.5]), by.lies_at([-0.5, -0.5]));
            let [right, down] = [middle[0] - 1251.5, middle[1] - 699.5];
            let away = (middle[0] - corner[0]).hypot(middle[1] - corner[1]);
            let off = [right, down, away - half_diagonal];
            assert!(off.iter().all(|px| px.abs() * 5.0 <= weave.most_um()));
            squares = core::array::from_fn(|i| squares[i] + off[i] * off[i]);
        }
        let rms = squares.map(|sum| (sum / f64::from(count)).sqrt());
        for (rms, wanted) in rms.into_iter().zip([4.0, 2.0, 1.0]) {
            assert!((rms / wanted - 1.0).abs() < 0.03, "{rms} {wanted}");
        }
        assert_eq!(weave.moves(&window, 17), weave.moves(&window, 17));
    }
}
