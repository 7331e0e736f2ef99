//! Veiling flare: light that glass and barrel throw about comes to the film evenly.
//!
//! `out = in + f (light - in)`, with `f` the share that is thrown about. Of a lens the light would be the
//! frame's own mean, which no table knows and which would make a clip breathe; so it is stated, in stops from
//! mid-grey. With the stated light at the frame's mean, the mean stays. Even light is the first order: what
//! gathers around lamps is diffusion's.

use crate::look;
use crate::path::negative::GREY_SCENE_LIN;

/// The share of the light that goes straight on, and what comes to each channel besides; none if nothing
/// strays.
pub(super) fn straight_and_veil(settings: &look::Flare, amount: f64) -> Option<(f64, f64)> {
    let share = settings.share * amount;
    let light = GREY_SCENE_LIN * libm::exp2(settings.light);
    (share > 0.0).then_some((1.0 - share, share * light))
}

#[cfg(test)]
mod tests {
    use crate::look::Lens;
    use crate::path::SceneLin;
    use crate::path::lens::LensPoint;
    use lookwright_colour::Rgb;

    fn flared(share: f64, light: f64, scene_lin: f32) -> f32 {
        let mut lens = Lens::default();
        lens.flare.on = true;
        (lens.flare.share, lens.flare.light) = (share, light);
        LensPoint::new(&lens)
            .apply(SceneLin(Rgb::grey(scene_lin)))
            .0
            .g
    }

    #[test]
    fn black_gets_the_stated_share_and_the_stated_light_stays() {
        // Two stops over mid-grey is 0.72.
        assert!((flared(0.03, 2.0, 0.0) - 0.0216).abs() < 1e-6);
        assert!((flared(0.03, 2.0, 0.72) - 0.72).abs() < 1e-6);
        // A box of nine white parts and one black: half of the mean's share for the black.
        assert!((flared(0.1, 0.0, 1.8) - 1.638).abs() < 1e-6);
        assert_eq!(flared(0.0, 2.0, 0.5), 0.5);
    }

    #[test]
    fn the_range_of_a_scene_ends_where_the_flare_lies() {
        // 2 % of mid-grey: a shadow 12 stops under white, five and a half under mid-grey, comes up by a stop.
        let stops = |from: f32| libm::log2(f64::from(flared(0.02, 0.0, from) / from));
        assert!((stops(0.0036) - 0.985).abs() < 2e-3);
        assert!(stops(0.18).abs() < 1e-4);
    }
}
