//! Plates laid over what a table gives, against the look rendered with its texture.

use lookwright_colour::encoding::{EncodingId, Range};

use lookwright_film::spatial::Planes;
use lookwright_render::Renderer;

use super::*;
use crate::{Baked, Recipe, Split, chart};

/// Pixels of a test's plates: a strip of a frame of 1920 columns.
const STRIP: (u32, u32) = (1920, 48);
/// Number of the plate that is laid, and of the frame that is rendered.
const NUMBER: u32 = 3;
/// Ends of the grey scale in stops above mid-grey.
const BLACK: f64 = -8.0;
const WHITE: f64 = 6.0;
/// Steps of the grey scale, from black to white.
const STEPS: usize = 8;
/// How far the deviation of laid grain may be off the direct rendering's.
const BAR: f64 = 0.15;

fn looks() -> std::path::PathBuf {
    std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../web/looks")
}

fn look(id: &str) -> Look {
    let text = std::fs::read_to_string(looks().join(format!("{id}.json")));
    Look::read(&text.unwrap()).unwrap()
}

fn deviation(values: impl Iterator<Item = f32> + Clone) -> f64 {
    let values = values.map(|v| f64::from(v.clamp(0.0, 1.0)));
    let count = values.clone().count() as f64;
    let mean = values.clone().sum::<f64>() / count;
    (values.map(|v| (v - mean) * (v - mean)).sum::<f64>() / count).sqrt()
}

/// LogC3 of AP1 light.
fn logc3(scene: [f64; 3]) -> [f32; 3] {
    chart::encoded(&[scene], EncodingId::LogC3, Range::Full).unwrap()[0]
}

fn grey(stops: f64) -> [f64; 3] {
    [0.18 * libm::exp2(stops); 3]
}

/// Plates and the table that they are laid behind.
struct Laid {
    over: OverGrey,
    plate: [Vec<f32>; 3],
    table: Baked,
    size: (u32, u32),
    /// What may be off at most where the share is more.
    unseen: f64,
}

impl Laid {
    fn new(look: Look, kind: PlateKind, on: PlateOn, size: (u32, u32)) -> Self {
        let delivery = Delivery::default();
        let table = Baked::new(Recipe {
            look: look.clone(),
            encoding: EncodingId::LogC3,
            range: Range::Full,
            delivery: delivery.clone(),
            split: match on {
                PlateOn::Picture => Split::Whole,
                PlateOn::FilmScan => Split::CameraToScan,
            },
            scene: None,
            grid: 33,
        });
        let recipe = PlateRecipe {
            look,
            kind,
            on,
            delivery,
        };
        let over = OverGrey::new(&recipe, size).unwrap();
        let file = over.plate(NUMBER).unwrap();
        Self {
            plate: lookwright_picture::decode(&file).unwrap().to_planes(),
            table: table.unwrap(),
            over,
            size,
            unseen: 0.0,
        }
    }

    /// Greys whose green codes are even steps from black to white, in stops.
    fn steps(&self) -> Vec<f64> {
        let code = |stops: f64| self.table.mapping().exact(logc3(grey(stops)))[1];
        let (black, white) = (code(BLACK), code(WHITE));
        let at = |wanted: f32| {
            let (mut low, mut high) = (BLACK, WHITE);
            for _ in 0..40 {
                let middle = f64::midpoint(low, high);
                match code(middle) < wanted {
                    true => low = middle,
                    false => high = middle,
                }
            }
            low
        };
        let share = |i: usize| i as f32 / (STEPS - 1) as f32;
        (0..STEPS)
            .map(|i| at(black + (white - black) * share(i)))
            .collect()
    }

    /// The deviations of a colour rendered with the texture, and of the plate laid over what the table
    /// makes of it.
    fn deviations(&self, scene: [f64; 3]) -> [[f64; 3]; 2] {
        let code = logc3(scene);
        let mut frame = Frame::default();
        frame.source.encoding = EncodingId::LogC3;
        let job = self.over.recipe().job(frame, self.size, NUMBER);
        let even = Planes {
            width: self.size.0 as usize,
            height: self.size.1 as usize,
            planes: code.map(|v| vec![v; (self.size.0 * self.size.1) as usize]),
        };
        let direct = Renderer::new(even).render(&job).planes;
        let picture = self.table.apply(code);
        let gain = self.over.gain().apply(picture);
        let laid = [0, 1, 2].map(|c| {
            let plate = self.plate[c].iter();
            deviation(plate.map(|p| picture[c] + gain[c] * (2.0 * p - 1.0)))
        });
        [direct.map(|plane| deviation(plane.into_iter())), laid]
    }

    /// Steps of the grey scale where the laid texture is not as strong as the film's.
    fn wrong_steps(&self, name: &str) -> Vec<String> {
        let mut wrong = Vec::new();
        for stops in self.steps() {
            let [direct, laid] = self.deviations(grey(stops));
            let off = [0, 1, 2].map(|c| laid[c] / direct[c] - 1.0);
            let is_off = |c: usize| off[c].abs() > BAR && (laid[c] - direct[c]).abs() > self.unseen;
            if (0..3).any(is_off) {
                let place = self.over.recipe().place();
                wrong.push(format!(
                    "{name} on {place}, {stops:.2} stops: {direct:?}, laid {laid:?}"
                ));
            }
        }
        wrong
    }
}

/// One has a print of its own, one is black and white.
const LOOKS: [&str; 3] = ["grey-quay", "bleach-works", "storm-warning"];

#[test]
fn laid_grain_is_as_strong_as_the_film_s_from_black_to_white() {
    let mut wrong = Vec::new();
    for id in LOOKS {
        for on in PlateOn::ALL {
            let laid = Laid::new(look(id), PlateKind::Grain, *on, STRIP);
            wrong.extend(laid.wrong_steps(id));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// The typed expression is the table, read by hand here as a program would.
#[test]
fn the_expression_is_near_the_table_and_is_what_is_written() {
    for id in LOOKS {
        let recipe = PlateRecipe {
            look: look(id),
            kind: PlateKind::Grain,
            on: PlateOn::Picture,
            delivery: Delivery::default(),
        };
        let gain = OverGrey::new(&recipe, (1920, 1080)).unwrap().gain().clone();
        let ramps = gain.ramps();
        assert!(gain.most_off(&ramps) < 0.1, "{id}");
        for code in [0.0, 0.055, 0.3, 0.62, 0.97_f32] {
            let written = typed(&ramps[1].to_string(), f64::from(code));
            let read = f64::from(gain.apply([code; 3])[1]);
            assert!(
                (written - read).abs() < 0.1,
                "{id} at {code}: {written}, {read}"
            );
        }
    }
}

/// A sum of `s*min(max(x-a,0),b)`, worked out.
fn typed(expression: &str, x: f64) -> f64 {
    let signed = expression.replace(" - ", " + -");
    let term = |term: &str| match term.split_once("*min(max(x-") {
        None => term.parse::<f64>().unwrap(),
        Some((slope, rest)) => {
            let (from, width) = rest.split_once(",0),").unwrap();
            let number = |text: &str| text.trim_end_matches(')').parse::<f64>().unwrap();
            number(slope) * (x - number(from)).max(0.0).min(number(width))
        }
    };
    signed.split(" + ").map(term).sum()
}

/// But for half a code of 10 bits: where a look's channels cross, one code of its blacks has several
/// densities.
#[test]
#[ignore = "takes a minute"]
fn grain_matches_in_every_look() {
    let mut wrong = Vec::new();
    for file in std::fs::read_dir(looks()).unwrap() {
        let name = file.unwrap().file_name().into_string().unwrap();
        let Some(id) = name.strip_suffix(".json").filter(|id| *id != "index") else {
            continue;
        };
        let mut laid = Laid::new(look(id), PlateKind::Grain, PlateOn::Picture, STRIP);
        laid.unseen = 0.5 / 1023.0;
        wrong.extend(laid.wrong_steps(id));
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn laid_dust_is_as_strong_as_the_film_s_from_black_to_white() {
    let mut look = look("bleach-works");
    look.negative.dust.on = true;
    look.negative.dust.rate = 200.0;
    let mut wrong = Vec::new();
    for on in PlateOn::ALL {
        let laid = Laid::new(look.clone(), PlateKind::Dust, *on, (960, 540));
        wrong.extend(laid.wrong_steps("bleach-works"));
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Hues of the test chart at mid-grey: gains are measured on greys, and a colour's layers mix otherwise.
#[test]
fn grain_in_colours_is_at_most_a_third_off() {
    for id in LOOKS {
        let laid = Laid::new(look(id), PlateKind::Grain, PlateOn::Picture, STRIP);
        for (purity, most) in [(0.2, 0.10), (0.4, 0.20), (0.6, 0.30)] {
            for hue in 0..6 {
                let scene = chart::coloured(0.0, f64::from(hue) / 6.0, purity);
                let [direct, laid] = laid.deviations(scene);
                let off = (0..3).map(|c| (laid[c] / direct[c] - 1.0).abs());
                let worst = off.fold(0.0, f64::max);
                assert!(worst < most, "{id}, hue {hue}, purity {purity}: {worst}");
            }
        }
    }
}

/// What the page saves: the files of the command line's folder in a zip.
#[test]
fn a_bundle_holds_the_first_plate_with_its_gain_and_note() {
    let frame = crate::pack::tests::frame_of("Even", |_| 26_000);
    let mut recipe = PlateRecipe {
        look: look("grey-quay"),
        kind: PlateKind::Grain,
        on: PlateOn::Picture,
        delivery: Delivery::default(),
    };
    let files = crate::pack::tests::files(recipe.bundle(&frame.picture, &frame.frame).unwrap());
    let over = OverGrey::new(&recipe, (frame.picture.width, frame.picture.height)).unwrap();
    let wanted = [
        ("grain.0001.png", over.plate(1).unwrap()),
        ("gain.cube", over.gain_cube().unwrap()),
        ("blend.txt", over.note().into_bytes()),
    ];
    let wanted = wanted.map(|(name, bytes)| (name.to_owned(), bytes));
    assert!(files == wanted);
    recipe.kind = PlateKind::Dust;
    let refusal = recipe.bundle(&frame.picture, &frame.frame).unwrap_err();
    assert!(refusal.message().starts_with("this look has no dust"));
    let mut scan = frame.frame.clone();
    scan.source.encoding = EncodingId::FilmScan;
    let refusal = recipe.bundle(&frame.picture, &scan).unwrap_err();
    assert!(
        refusal
            .message()
            .starts_with("a film scan has its own dust")
    );
}
