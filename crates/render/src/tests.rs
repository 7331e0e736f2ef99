//! What a look's texture does to a picture, and where on the path.

use crate::Job;
use crate::reference::render;
use lookwright_film::look::{
    Backing, Delivery, Frame, Gauge, HalationMethod, Look, Options, StageId, StartingStock,
};
use lookwright_film::spatial::{Planes, Window};

/// A dark frame with one lamp eight stops above mid-grey, in linear light.
fn night() -> (Planes, Job) {
    let (width, height) = (160, 90);
    let mut picture = Planes::filled(width, height, 0.02);
    for plane in &mut picture.planes {
        for y in 43..47 {
            for x in 78..82 {
                plane[y * width + x] = 0.18 * 256.0;
            }
        }
    }
    let mut look = Look::starting(StartingStock::Overcast).without_texture();
    look.negative.stock.gauge = Gauge::Gauge8;
    let job = Job {
        look,
        frame: Frame::read(r#"{"source":{"encoding":"acescg"}}"#).unwrap(),
        delivery: Delivery::default(),
        stage: StageId::Screen,
        window: Window::whole(width, height),
        frame_number: 1,
    };
    (picture, job)
}

fn unbacked(look: &mut Look) {
    look.negative.halation.on = true;
    look.negative.halation.backing = Backing::None;
}

fn beside_the_lamp(look: impl Fn(&mut Look)) -> [f32; 3] {
    let (picture, mut job) = night();
    look(&mut job.look);
    let out = render(picture, &job);
    [0, 1, 2].map(|channel| out.row(channel, 45)[84])
}

#[test]
fn halation_glows_red_beside_a_lamp_because_it_acts_before_the_curve() {
    let plain = beside_the_lamp(|_| {});
    let glowing = beside_the_lamp(unbacked);
    assert!(glowing[0] > plain[0] + 0.05, "{plain:?} {glowing:?}");
    // The light comes back to the red layer first, then green, then blue.
    let gained = [0, 1, 2].map(|i| glowing[i] - plain[i]);
    assert!(
        gained[0] > gained[1] && gained[1] >= gained[2],
        "{gained:?}"
    );
    // A lamp four times as bright gives a glow that exceeds it by far less: the curve comes
    // after. (Light laid over the finished picture would be clipped the same in both.)
    let under = beside_the_lamp(|look| {
        unbacked(look);
        look.lens.exposure.stops = -2.0;
    });
    assert!(under[0] < glowing[0] && under[0] > glowing[0] * 0.4);
}

/// How far from neutral a mullion between two panes of a window four stops above mid-grey comes
/// out, in codes of 255: the largest difference of two channels, over all its pixels.
fn mullion(light: f32, columns: usize, class: StartingStock, look: impl Fn(&mut Look)) -> f32 {
    let (width, height) = (480, 60);
    let mut picture = Planes::filled(width, height, 0.18 * 16.0);
    let bar = (width - columns) / 2..(width + columns) / 2;
    for plane in &mut picture.planes {
        for row in plane.chunks_mut(width) {
            row[bar.clone()].fill(light);
        }
    }
    let (_, mut job) = night();
    job.look = Look::starting(class).without_texture();
    job.look.negative.halation.on = true;
    look(&mut job.look);
    // A frame of 1920 pixels on super 35, 13 um each, of which this is a part.
    job.window = Window::whole(1920, 1080);
    let out = render(picture, &job);
    let apart = |x: usize| {
        let [r, g, b] = [0, 1, 2].map(|channel| 255.0 * out.row(channel, 30)[x]);
        (r - g).abs().max((g - b).abs()).max((r - b).abs())
    };
    bar.map(apart).fold(0.0, f32::max)
}

#[test]
fn a_windows_mullion_stays_neutral_on_backed_stock_and_not_without_backing() {
    for class in [StartingStock::Overcast, StartingStock::Noon] {
        for light in [0.18 / 4.0, 0.18 / 16.0] {
            for columns in [4, 16, 40] {
                for method in HalationMethod::ALL {
                    let with = |backing| {
                        mullion(light, columns, class, |look| {
                            look.negative.halation.method = *method;
                            look.negative.halation.backing = backing;
                        })
                    };
                    let (black, none) = (with(Backing::Black), with(Backing::None));
                    let found = format!("{class:?} {light} {columns} {method:?}: {black} {none}");
                    assert!(black < 6.0, "{found}");
                    assert!(none > 2.0 * black, "{found}");
                }
            }
        }
    }
}

#[test]
fn black_and_white_halates_without_colour() {
    for method in HalationMethod::ALL {
        let off = mullion(0.02, 16, StartingStock::AllGrey, |look| {
            look.negative.halation.method = *method;
            look.negative.halation.strength = 1.0;
            look.negative.halation.backing = Backing::None;
        });
        assert!(off < 0.01, "{method:?}: {off}");
    }
}

#[test]
fn diffusion_comes_before_the_film_and_grain_after_it() {
    let diffused = |density: f32| {
        beside_the_lamp(|look| {
            look.lens.diffusion.on = true;
            look.lens.diffusion.shadow_hold = 0.0;
            look.lens.diffusion.strength = f64::from(density);
        })
    };
    let plain = beside_the_lamp(|_| {});
    assert!(diffused(0.3)[1] > plain[1] + 0.02);
    // Grain is on density: the same seed moves the density, and so the scan, by the same
    // amount whatever the scan is then made to look like.
    let grain_at = |stage: StageId, slope: f64| {
        let (picture, mut job) = night();
        job.look.negative.grain.on = true;
        job.look.scan.contrast.slope = slope;
        job.stage = stage;
        render(picture, &job).row(1, 10)[10]
    };
    assert_eq!(
        grain_at(StageId::Negative, 1.2),
        grain_at(StageId::Negative, 2.0)
    );
    assert_ne!(grain_at(StageId::Scan, 1.2), grain_at(StageId::Scan, 2.0));
}

#[test]
fn dust_comes_out_light_on_the_positive() {
    let (picture, mut job) = night();
    let clean = render(picture.clone(), &job);
    job.look.negative.dust.on = true;
    job.look.negative.dust.rate = 200.0;
    job.look.negative.dust.size = 80.0;
    let dusty = render(picture, &job);
    let lighter = |(a, b): (&f32, &f32)| a > b;
    let count = dusty.planes[1]
        .iter()
        .zip(&clean.planes[1])
        .filter(|p| lighter(*p))
        .count();
    let darker = dusty.planes[1]
        .iter()
        .zip(&clean.planes[1])
        .filter(|(a, b)| a < b)
        .count();
    assert!(
        count > 50 && darker == 0,
        "{count} lighter, {darker} darker"
    );
}
