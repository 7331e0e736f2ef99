//! The layers: exposure, balance and speed, from neutral greys to coloured light.

use super::*;
use crate::look::{ContrastFilter, Options, Stock};
use proptest::prelude::*;

fn stock(balance: Balance, speed: f64, filter: ContrastFilter) -> StockData {
    StockData::of(&Stock {
        balance,
        speed,
        filter,
        ..Default::default()
    })
}

fn layers(balance: Balance, speed: f64) -> Layers {
    Layers::new(&stock(balance, speed, ContrastFilter::None), 1.0, [1.0; 3])
}

const LOOKED_AT: [(Balance, f64); 5] = [
    (Balance::Day, 25.0),
    (Balance::Day, 250.0),
    (Balance::Day, 1600.0),
    (Balance::Lamp, 500.0),
    (Balance::Lamp, 1600.0),
];

#[test]
fn grey_is_exposure_as_it_is_at_every_brightness() {
    for (balance, speed) in LOOKED_AT {
        for light in [0.001_f32, 0.18, 40.0] {
            let exposure = layers(balance, speed).apply(Rgb::grey(light));
            for layer in exposure.to_array() {
                assert!(
                    (layer / light - 1.0).abs() < 2e-4 + 2e-5 / light,
                    "{layer} for {light}"
                );
            }
        }
    }
}

#[test]
fn exposure_grows_as_the_light_does() {
    let colour = Rgb::new(0.3_f32, 0.1, 0.5);
    let once = layers(Balance::Day, 250.0).apply(colour).to_array();
    for times in [0.05_f32, 256.0] {
        let more = layers(Balance::Day, 250.0).apply(colour.map(|c| c * times));
        for (one, many) in once.into_iter().zip(more.to_array()) {
            assert!((many / (one * times) - 1.0).abs() < 1e-3);
        }
    }
}

#[test]
fn lights_beyond_any_are_finite_and_above_zero() {
    let far = [-1e4_f32, -1.0, -1e-3, 0.0, 1e-6, 1.0, 65504.0, 1e30];
    for (balance, speed) in LOOKED_AT {
        let film = layers(balance, speed);
        for r in far {
            for g in far {
                for b in far {
                    for layer in film.apply(Rgb::new(r, g, b)).to_array() {
                        assert!(layer.is_finite() && layer > 0.0, "{r} {g} {b}: {layer}");
                    }
                }
            }
        }
    }
}

proptest! {
    #[test]
    fn no_light_changes_places_with_another(
        shares in [0.0_f32..1.0, 0.0_f32..1.0, 0.0_f32..1.0],
        stops in -6.0_f32..8.0,
        which in 0_usize..5,
    ) {
        // All light that AP1 holds, and with it Rec.2020's.
        let (balance, speed) = LOOKED_AT[which];
        let film = layers(balance, speed);
        let sum = shares.iter().sum::<f32>().max(1e-3);
        let light = shares.map(|share| share / sum * libm::exp2f(stops));
        let step = 2e-3 * libm::exp2f(stops);
        let exposed = |channel: usize, by: f32| {
            let mut light = light;
            light[channel] += by;
            film.apply(Rgb::from_array(light)).to_array()
        };
        let slopes = [0, 1, 2].map(|channel| {
            let (up, down) = (exposed(channel, step), exposed(channel, -step));
            [0, 1, 2].map(|layer| f64::from((up[layer] - down[layer]) / (2.0 * step)))
        });
        let [r, g, b] = slopes;
        let turned = r[0] * (g[1] * b[2] - g[2] * b[1]) - r[1] * (g[0] * b[2] - g[2] * b[0])
            + r[2] * (g[0] * b[1] - g[1] * b[0]);
        prop_assert!(turned > 0.0, "{light:?} {slopes:?}");
    }

    #[test]
    fn no_light_exposes_a_layer_more_than_eight_times_its_size(
        light in [-0.5_f32..1.5, -0.5_f32..1.5, -0.5_f32..1.5],
        which in 0_usize..5,
    ) {
        let (balance, speed) = LOOKED_AT[which];
        let film = layers(balance, speed);
        let light = Rgb::from_array(light);
        // In the layers' own primaries: light that a camera takes below zero has another mean there.
        let own = film.basis.apply(light).to_array();
        let largest = own.into_iter().fold(0.0, f32::max);
        let size = (own.iter().sum::<f32>() / 3.0).max(largest * LEAST_MEAN);
        for layer in film.apply(light).to_array() {
            prop_assert!(layer <= 8.0001 * (size + DARK), "{light:?}: {layer} of {size}");
        }
    }

    #[test]
    fn a_way_to_any_lamp_has_no_cliff(
        end in [0.0_f32..1.2, 0.0_f32..1.2, 0.0_f32..1.2],
        which in 0_usize..5,
    ) {
        // From white: at most 2.5 stops a hundredth of the way, in any layer, but for the last two,
        // where what is left of the others is halved again and again.
        let (balance, speed) = LOOKED_AT[which];
        let film = layers(balance, speed);
        prop_assume!(end.iter().sum::<f32>() > 0.3);
        let mut last: Option<[f32; 3]> = None;
        for step in 0..=98 {
            let t = step as f32 / 100.0;
            let light = Rgb::from_array(end.map(|e| 1.0 + (e - 1.0) * t));
            let here = film.apply(light).to_array().map(libm::log2f);
            if let Some(last) = last {
                for (a, b) in last.into_iter().zip(here) {
                    prop_assert!((a - b).abs() < 2.5, "{end:?} at {t}: {a} to {b}");
                }
            }
            last = Some(here);
        }
    }
}

#[test]
fn one_emulsion_is_not_darkened_by_light_that_a_camera_takes_from_red_and_green() {
    // A wide-gamut camera's blue in AP1, of rising strength (LogC3 Wide Gamut, colour-science).
    let stock = stock(Balance::Panchromatic, 250.0, ContrastFilter::None);
    let film = Layers::new(&stock, 1.0, [1.0; 3]);
    for strength in [1.0_f32, 4.0, 16.0, 50.0] {
        let lamp = film
            .apply(Rgb::new(-0.082, -0.233, 1.059).map(|c| c * strength))
            .g;
        // At least 6 stops below the light's own mean, not black.
        assert!(lamp > 0.015 * 0.25 * strength, "{strength}: {lamp}");
    }
}

#[test]
fn orthochromatic_film_is_blind_to_red_and_filters_darken_what_they_take() {
    let seen = |balance, filter, light: [f32; 3]| {
        Layers::new(&stock(balance, 100.0, filter), 1.0, [1.0; 3])
            .apply(Rgb::from_array(light))
            .g
    };
    let (red, sky) = ([0.5, 0.06, 0.03], [0.12, 0.2, 0.5]);
    let pan = |filter, light| seen(Balance::Panchromatic, filter, light);
    let ortho = seen(Balance::Orthochromatic, ContrastFilter::None, red);
    assert!(ortho < 0.5 * pan(ContrastFilter::None, red));
    assert!(pan(ContrastFilter::LightRed, sky) < 0.7 * pan(ContrastFilter::None, sky));
    assert!(pan(ContrastFilter::LightRed, red) > pan(ContrastFilter::None, red));
    assert!(pan(ContrastFilter::Yellow, sky) < pan(ContrastFilter::None, sky));
    for filter in ContrastFilter::ALL {
        assert!((pan(*filter, [0.18; 3]) - 0.18).abs() < 1e-4);
    }
}

#[test]
fn a_stock_is_neutral_under_its_own_light_and_leans_under_another() {
    let day = stock(Balance::Day, 250.0, ContrastFilter::None);
    for gain in cast_gains(&day, 1.0, 5500.0) {
        assert!((gain - 1.0).abs() < 1e-12);
    }
    let lamp = stock(Balance::Lamp, 500.0, ContrastFilter::None);
    let [red, green, blue] = cast_gains(&lamp, 1.0, 5500.0);
    assert_eq!(green, 1.0);
    // ISO 7589's photographic daylight on film for its studio tungsten: 1.9 stops, +-0.15.
    let stops = libm::log2(blue / red);
    assert!((1.75..2.05).contains(&stops), "{stops} stops");
    // Ever warmer light, ever less blue.
    let mut last = f64::INFINITY;
    for kelvin in (0..=75).map(|i| 10_000.0 - f64::from(i) * 100.0) {
        let [red, _, blue] = cast_gains(&lamp, 1.0, kelvin);
        assert!(blue / red < last, "{kelvin}");
        last = blue / red;
    }
}
