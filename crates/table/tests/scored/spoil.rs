//! Mistakes, made in a good table.

use lookwright_colour::encoding::legal_limits;
use lookwright_table::Grid3;

pub type Spoil = Box<dyn Fn(&Grid3) -> Grid3 + Sync>;

fn each(change: impl Fn([f32; 3]) -> [f32; 3] + Sync + 'static) -> Spoil {
    Box::new(move |grid| grid.map_nodes(&change).unwrap())
}

/// Nodes read from another place.
fn moved(place: impl Fn([usize; 3], usize) -> [usize; 3] + Sync + 'static) -> Spoil {
    Box::new(move |grid| {
        let (size, mut i) = (grid.size(), 0);
        grid.map_nodes(|_| {
            let here = [i % size, i / size % size, i / (size * size)];
            i += 1;
            grid.node(place(here, size))
        })
        .unwrap()
    })
}

fn legal(v: f32) -> f32 {
    let [black, white] = legal_limits(10).unwrap().map(|v| v as f32);
    black + v * (white - black)
}

fn expanded(v: f32) -> f32 {
    let [black, white] = legal_limits(10).unwrap().map(|v| v as f32);
    (v - black) / (white - black)
}

/// Turned about the grey axis.
fn turned(degrees: f64) -> Spoil {
    let (sin, cos) = (
        libm::sin(degrees.to_radians()) as f32,
        libm::cos(degrees.to_radians()) as f32,
    );
    let third = (1.0 - cos) / 3.0;
    let side = sin * libm::sqrtf(1.0 / 3.0);
    each(move |n| {
        [0, 1, 2].map(|c| {
            let (own, next, last) = (n[c], n[(c + 1) % 3], n[(c + 2) % 3]);
            ((cos + third) * own + (third - side) * next + (third + side) * last).clamp(0.0, 1.0)
        })
    })
}

/// Numbers -1 ... 1 of no pattern: the low bits of a linear congruential generator (Numerical Recipes'
/// constants, from memory).
fn noisy(codes: f32) -> Spoil {
    Box::new(move |grid| {
        let mut state = 12_345_u32;
        let mut next = || {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (state >> 8) as f32 / 8_388_608.0 - 1.0
        };
        // A sum of three has the standard deviation 1.
        grid.map_nodes(|n| {
            n.map(|v| (v + (next() + next() + next()) * codes / 255.0).clamp(0.0, 1.0))
        })
        .unwrap()
    })
}

/// Each of `places`, as shares of the size, set off by so much.
fn strays(places: &'static [[f32; 3]], off: f32) -> Spoil {
    Box::new(move |grid| {
        let (size, mut i) = (grid.size(), 0);
        let at = places
            .iter()
            .map(|p| p.map(|v| (v * (size - 1) as f32).round() as usize));
        let at: Vec<_> = at.collect();
        grid.map_nodes(|n| {
            let here = [i % size, i / size % size, i / (size * size)];
            i += 1;
            match at.contains(&here) {
                true => n.map(|v| if v > 0.5 { v - off } else { v + off }),
                false => n,
            }
        })
        .unwrap()
    })
}

/// The table's own output sent through it again.
fn again() -> Spoil {
    Box::new(|grid| {
        grid.map_nodes(|n| grid.apply(n, lookwright_table::Interpolation::Tetrahedral))
            .unwrap()
    })
}

/// A mistake, the diagnoses that name it, whether a table alone can tell, and its variants.
pub struct Mistake {
    pub truth: &'static str,
    pub right: &'static [&'static str],
    pub tellable: fn(bool) -> bool,
    pub variants: Vec<(&'static str, Spoil)>,
}

pub fn mistakes() -> Vec<Mistake> {
    let mistake = |truth, right, variants| Mistake {
        truth,
        right,
        tellable: |_| true,
        variants,
    };
    let scaled = |by: f32| each(move |n| n.map(|v| v * by));
    let rounded = |by: f32| each(move |n| n.map(|v| (v * by).round()));
    vec![
        mistake(
            "codes, not 0 to 1",
            &["code-values"],
            vec![
                ("8 bits", rounded(255.0)),
                ("10 bits", rounded(1023.0)),
                ("12 bits", rounded(4095.0)),
                ("16 bits", scaled(65535.0)),
                ("percent", scaled(100.0)),
            ],
        ),
        mistake(
            "divided by the wrong scale",
            &["wrong-divisor"],
            vec![
                ("8 bits twice", scaled(1.0 / 255.0)),
                ("10 bits as 16", scaled(1023.0 / 65535.0)),
                ("12 bits as 16", scaled(4095.0 / 65535.0)),
            ],
        ),
        mistake(
            "blue fastest",
            &["axes-exchanged", "axes-or-channels"],
            vec![("rows", moved(|[r, g, b], _| [b, g, r]))],
        ),
        mistake(
            "two channels exchanged",
            &["channels-exchanged", "axes-or-channels"],
            vec![
                ("red and blue", each(|[r, g, b]| [b, g, r])),
                ("red and green", each(|[r, g, b]| [g, r, b])),
                ("green and blue", each(|[r, g, b]| [r, b, g])),
            ],
        ),
        mistake(
            "channels moved on",
            &["channels-turned"],
            vec![
                ("by one", each(|[r, g, b]| [g, b, r])),
                ("by two", each(|[r, g, b]| [b, r, g])),
            ],
        ),
        mistake(
            "hues turned",
            &["hue-turned"],
            vec![
                ("by 40", turned(40.0)),
                ("by -60", turned(-60.0)),
                ("by 90", turned(90.0)),
            ],
        ),
        mistake(
            "dead channel",
            &["dead-channel"],
            vec![
                ("red 0", each(|[_, g, b]| [0.0, g, b])),
                ("green 0.5", each(|[r, _, b]| [r, 0.5, b])),
                ("blue 1", each(|[r, g, _]| [r, g, 1.0])),
            ],
        ),
        mistake(
            "channel written twice",
            &["doubled-channel"],
            vec![
                ("red as blue", each(|[r, g, _]| [r, g, r])),
                ("green as red", each(|[_, g, b]| [g, g, b])),
            ],
        ),
        mistake(
            "one colour everywhere",
            &["constant"],
            vec![
                ("black", each(|_| [0.0; 3])),
                ("a grey", each(|_| [0.42, 0.41, 0.40])),
            ],
        ),
        mistake(
            "upside down",
            &["upside-down"],
            vec![
                ("values", each(|n| n.map(|v| 1.0 - v))),
                ("rows", moved(|n, size| n.map(|at| size - 1 - at))),
            ],
        ),
        mistake(
            "one node off",
            &["stray-nodes"],
            vec![
                ("0.5 inside", strays(&[[0.5, 0.5, 0.5]], 0.5)),
                ("0.2 inside", strays(&[[0.4, 0.5, 0.55]], 0.2)),
                ("0.4 on a side", strays(&[[0.0, 0.5, 0.45]], 0.4)),
            ],
        ),
        mistake(
            "three nodes off",
            &["stray-nodes"],
            vec![(
                "by 0.3",
                strays(&[[0.3, 0.4, 0.3], [0.5, 0.55, 0.6], [0.45, 0.4, 0.5]], 0.3),
            )],
        ),
        mistake(
            "rounded to 8 bits",
            &["eight-bits"],
            vec![("full", each(|n| n.map(|v| (v * 255.0).round() / 255.0)))],
        ),
        mistake(
            "noise",
            &["noise"],
            vec![
                ("0.6 codes", noisy(0.6)),
                ("1.5 codes", noisy(1.5)),
                ("5 codes", noisy(5.0)),
            ],
        ),
        mistake(
            "legal where full was said",
            &["legal-for-full"],
            vec![("squeezed", each(|n| n.map(legal)))],
        ),
        mistake(
            "legal twice",
            &["legal-twice"],
            vec![("squeezed twice", each(|n| n.map(|v| legal(legal(v)))))],
        ),
        mistake(
            "expanded from full",
            &["expanded"],
            vec![("not held", each(|n| n.map(expanded)))],
        ),
        mistake(
            "expanded twice",
            &["expanded-twice"],
            vec![("not held", each(|n| n.map(|v| expanded(expanded(v)))))],
        ),
        Mistake {
            truth: "expanded from full, held to 0 to 1",
            right: &["expanded"],
            tellable: |_| false,
            variants: vec![("held", each(|n| n.map(|v| expanded(v).clamp(0.0, 1.0))))],
        },
        Mistake {
            truth: "applied twice, log in",
            right: &["contrast-twice"],
            tellable: |_| true,
            variants: vec![("known encoding", again())],
        },
        Mistake {
            truth: "applied twice, picture in",
            right: &["contrast-twice"],
            tellable: |_| false,
            variants: vec![("a picture", again())],
        },
    ]
}
