//! Vectors against the scalar reference, bit by bit.

use std::io::Write;

use proptest::prelude::*;

use super::{LANES_MAX, Vectors, run, run_scalar};
use crate::pointwise::{Along, PointOp};
use lookwright_colour::Rgb;
use lookwright_colour::encoding::{Curve, EncodingId, ScreenId};
use lookwright_colour::lane::Lane;
use lookwright_film::look::{
    AMOUNT_MAX, Delivery, Frame, Kind, Look, Options, StageId, StartingStock, Value,
};
use lookwright_film::path::{LightPath, Points};

/// Numbers at which formulas change their ways or break.
const UGLY: [f32; 24] = [
    0.0,
    -0.0,
    f32::NAN,
    f32::INFINITY,
    f32::NEG_INFINITY,
    f32::MIN_POSITIVE,
    -f32::MIN_POSITIVE,
    1e-45,
    -1e-45,
    1e-39,
    f32::MAX,
    f32::MIN,
    1e30,
    -1e30,
    65_504.0,
    0.5,
    1.0,
    -1.0,
    0.999_999_94,
    0.18,
    0.0005,
    95.0 / 1023.0,
    2.0,
    1e-6,
];

/// Ugly numbers in every combination of neighbours, then a sweep of codes, then noise; a length
/// that no vector divides.
fn numbers() -> [Vec<f32>; 3] {
    let count = UGLY.len();
    let mut out: [Vec<f32>; 3] = Default::default();
    for i in 0..count * count {
        let [r, g, b] = [i, i / count, i + i / count].map(|place| UGLY[place % count]);
        for (plane, value) in out.iter_mut().zip([r, g, b]) {
            plane.push(value);
        }
    }
    let mut state = 1_u32;
    for i in 0..4099 {
        for (channel, plane) in out.iter_mut().enumerate() {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            let noise = (state >> 8) as f32 / 16_777_216.0;
            let sweep = i as f32 / 2048.0 - 0.25;
            plane.push(if i % 2 == 0 {
                sweep
            } else {
                noise * (channel + 1) as f32
            });
        }
    }
    out
}

/// The first place at which any vectors depart from the reference, in words.
fn first_difference(op: &impl PointOp, input: &[Vec<f32>; 3]) -> Option<String> {
    let mut reference = input.clone();
    run_scalar(op, reference.each_mut().map(Vec::as_mut_slice));
    for vectors in Vectors::all() {
        let mut fast = input.clone();
        run(Some(vectors), op, fast.each_mut().map(Vec::as_mut_slice));
        for channel in 0..3 {
            let pairs = reference[channel].iter().zip(&fast[channel]);
            for (place, (a, b)) in pairs.enumerate() {
                // Which NaN it is depends on the order of operands, which IEEE 754 leaves open.
                if a.to_bits() != b.to_bits() && !(a.is_nan() && b.is_nan()) {
                    let at = input.each_ref().map(|plane| plane[place]);
                    return Some(format!(
                        "{vectors:?} {channel}: {at:?} gives {b:e}, not {a:e}"
                    ));
                }
            }
        }
    }
    None
}

/// Every operation of a lane, so that none can differ unseen.
struct Primitives;

impl PointOp for Primitives {
    #[inline(always)]
    fn apply<L: Lane>(&self, Rgb { r, g, b }: Rgb<L>) -> Rgb<L> {
        let small = g.clamp_to(-1e6, 1e6);
        Rgb::new(
            L::select(r.lt(g), r.min(b), g.max(b)) + r.abs().sqrt() * 0.25,
            small.floor() / (b - 0.5) + g.below(0.3, -b, r),
            b.exp2() - (r.log2() * 3.0).mix(small.exp10(), 0.5) + g.pow(2.4),
        )
    }
}

/// Floor by itself: in sums the sign of a zero goes under.
struct Floor;

impl PointOp for Floor {
    #[inline(always)]
    fn apply<L: Lane>(&self, Rgb { r, g, b }: Rgb<L>) -> Rgb<L> {
        Rgb::new(
            r.clamp_to(-1e6, 1e6).floor(),
            L::select(g.le(g), g.clamp_to(-3.0, 3.0), g.of(0.0)).floor(),
            (b * 100.0).clamp_to(-1e6, 1e6).floor(),
        )
    }
}

/// A curve there, and another way back.
struct Curves(Curve);

impl PointOp for Curves {
    #[inline(always)]
    fn apply<L: Lane>(&self, Rgb { r, g, b }: Rgb<L>) -> Rgb<L> {
        Rgb::new(
            self.0.decode(r),
            self.0.encode(g),
            self.0.encode(self.0.decode(b)),
        )
    }
}

/// Otherwise the tests here would compare nothing, and pass.
#[test]
fn the_vectors_that_every_such_machine_has_are_compared() {
    let all = Vectors::all();
    #[cfg(target_arch = "x86_64")]
    assert_eq!(all[all.len() - 2..], [Vectors::Sse2, Vectors::Scalar]);
    #[cfg(target_arch = "aarch64")]
    assert_eq!(all, [Vectors::Neon, Vectors::Scalar]);
    // Past the capture of tests' output, so that every run shows what it ran on.
    writeln!(std::io::stderr(), "vectors compared: {all:?}").unwrap();
}

#[test]
fn every_operation_is_the_same_in_every_vector() {
    assert_eq!(first_difference(&Primitives, &numbers()), None);
    assert_eq!(first_difference(&Floor, &numbers()), None);
}

#[test]
fn every_curve_is_the_same_in_every_vector() {
    for curve in Curve::ALL {
        assert_eq!(
            first_difference(&Curves(curve), &numbers()),
            None,
            "{curve:?}"
        );
    }
}

#[test]
fn every_encoding_and_screen_is_the_same_in_every_vector() {
    let look = Look::starting(StartingStock::Evening);
    let input = numbers();
    // Neither knows of the other: every encoding with one screen, and every screen with one encoding.
    let encodings = EncodingId::ALL.map(|encoding| (encoding, ScreenId::default()));
    let screens = ScreenId::ALL.map(|screen| (EncodingId::LogC3, screen));
    for (encoding, screen) in encodings.into_iter().chain(screens) {
        let mut frame = Frame::default();
        frame.source.encoding = encoding;
        let mut delivery = Delivery::default();
        delivery.display.screen = screen;
        let path = LightPath::new(&look, &frame, &delivery);
        for points in [Points::up_to(StageId::Screen), Points::UNSTYLED] {
            let found = first_difference(&Along(&path, points), &input);
            assert_eq!(found, None, "{encoding:?} {screen:?}");
        }
    }
}

/// A look with every step and control anywhere in its range.
fn random_look(draw: &mut impl FnMut() -> f64) -> Look {
    let mut look = Look::default();
    look.for_each_step(|step| {
        step.set_on(draw() < 0.8);
        step.set_amount(if draw() < 0.5 {
            1.0
        } else {
            draw() * AMOUNT_MAX
        });
        for (index, control) in step.spec().controls.iter().enumerate() {
            let value = match control.kind {
                Kind::Number {
                    min, max, whole, ..
                } => {
                    let number = min + (max - min) * draw();
                    Value::Number(if whole { number.round() } else { number })
                }
                Kind::Switch { .. } => Value::Switch(draw() < 0.5),
                Kind::Choice { options, .. } => {
                    Value::Choice(options[(draw() * options.len() as f64) as usize].id)
                }
                Kind::Curve { .. } => Value::Curve(vec![
                    [0.0, 0.1 * draw()],
                    [0.4, 0.2 + 0.5 * draw()],
                    [1.0, 1.0],
                ]),
            };
            assert_eq!(control.check(&value), Ok(()), "{}", control.id);
            step.set(index, &value);
        }
    });
    look
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..Default::default() })]
    #[test]
    fn random_looks_are_the_same_in_every_vector(seed: u32, encoding in 0..EncodingId::ALL.len()) {
        let mut state = seed;
        let look = random_look(&mut || {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            f64::from(state >> 8) / 16_777_216.0
        });
        let mut frame = Frame::default();
        frame.source.encoding = EncodingId::ALL[encoding];
        frame.source.unrender = f64::from(seed % 3) / 2.0;
        let path = LightPath::new(&look, &frame, &Delivery::default());
        for stage in StageId::ALL {
            prop_assert_eq!(first_difference(&Along(&path, path.points_up_to(*stage)), &numbers()), None);
        }
    }
}

#[test]
fn every_length_is_rendered_whole() {
    let numbers = numbers();
    for length in (0..=2 * LANES_MAX + 1).chain([1000]) {
        let input = numbers
            .each_ref()
            .map(|plane| plane[600..600 + length].to_vec());
        assert_eq!(
            first_difference(&Primitives, &input),
            None,
            "{length} pixels"
        );
    }
}
