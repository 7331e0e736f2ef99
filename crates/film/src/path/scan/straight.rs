//! The straight finish: how the contrast's curve treats colour.
//!
//! The same curve on each channel by itself would turn dark colours into primaries: what lies in
//! the film's toe and in the curve's own would be pulled apart, and every hue would run to red,
//! green or blue as it gets darker. So below a code the finish works on recorded light instead:
//!
//! ```text
//! c = 95 + N^-1 (code - 95)           the layers again, by the reference film's N (PRINTING)
//! u = b + t - a^2 / (4 t), t ~ c - b  log10 light, the film's own toe undone
//! l = y540 2^(k (u - u540))           a straight line in log light, slope as the curve's at 540
//! y = l                               below code 540
//! y = curve(c) + R g(e / R)           above: on along the line, e = l - curve(c), and softly to
//!                                     rest over the curve, so that lamps burn out layer by layer
//! n = c weighted by y^2               the code of a grey about as bright
//! out = M y curve(n) / y(n)           M to display colours; one gain for all three
//! g(t) = .4 t / sqrt(1 + t^2) + .6 t / (1 + |t|)
//! ```
//!
//! Each layer's toe is undone from where its base `b` lies in the scan, under the set-up and the
//! printer's lights: these move all light of a layer alike. What of `b` a grey card has not is left
//! behind as `t` comes to rest, so that black has the cast that greys have. Greys in the film's own
//! light come out as the curve has them. `M` is fitted to the hues of the 24-patch chart from -3 to
//! +1 stops on two daylight films (`tests/reference/film`); its rows sum to 1. What comes out may lie
//! outside 0 ... 1, where a wider screen still shows it. The step's amount mixes all this in over the
//! bare curve.

use super::code::{BASE_CODE, CODE_MAX, DENSITY_PER_CODE};
use super::contrast::Contrast;
use crate::path::bend::bent_softly;
use crate::path::negative::{DISPLAY, PRINTING, Record};
use lookwright_colour::lane::Lane;
use lookwright_colour::{Mat3, PixelMatrix, Rgb};

/// The code up to which the finish works on recorded light. *Chosen:* a stop and a half below 90 %
/// white.
const END: f32 = 540.0 / CODE_MAX;
/// How far over the curve the line may lead a layer, and how softly it comes to rest there. More holds
/// hues for longer and burns lamps out later. *Chosen:* surfaces a stop over keep their hue, a red lamp is
/// orange at six stops and yellow at eight; with more, or harder, colours near white change places.
const OVER: f32 = 0.19;
/// See [`OVER`].
const OVER_SOFTNESS: f32 = 0.6;
/// log2 of how far the line falls and rises from code 540 at most, so that its powers are numbers.
const LINE_LOG2: [f32; 2] = [-60.0, 12.0];
/// The least `t` by the toe's width, five to six stops below mid-grey: deeper, grain would be taken
/// for colour. *Chosen.*
const LEAST: f64 = 0.13;
/// How much sooner `t` rests where the layers reach their base one after the other, as under light
/// that the film is not balanced for: by how far they are apart. *Chosen:* the least at which the tint
/// of lamp film's black by day goes without any channel's falling.
const LEAST_APART: f32 = 0.43;
/// How softly `t` comes to rest, by its least. *Chosen.*
const BEND: f32 = 0.5;
/// A share of weights, so that their sum is a number.
const TINY: f32 = 1e-30;

/// The straight finish, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Straight {
    unmix: PixelMatrix,
    mix: PixelMatrix,
    /// `t` of one code, all of 1023.
    per_code: f32,
    /// `a^2 / 4`.
    toe: f32,
    /// Each layer's base over the published one's code, in `t`.
    base: Rgb,
    /// Each layer's code at which `t` begins to rest, in `t`.
    rest: Rgb,
    /// What of that a grey card has not, and so is left behind at rest, times the least `t` squared.
    tint: Rgb,
    /// `u - b` of code 540, per layer.
    end_u: Rgb,
    end_y: f32,
    /// log2 of `y` by `u`.
    rise: f32,
    /// Share over the bare curve; none where it is all of it.
    share: Option<f32>,
    /// The least `t`.
    least: f32,
}

impl Straight {
    /// For a curve, mixed in by `share` up to 1, on a film whose base and grey card lie at these codes.
    pub fn new(contrast: &Contrast, share: f64, film: &Record, [base, grey]: [Rgb; 2]) -> Self {
        let toe = film.toe_log_e;
        let unmix = Mat3(PRINTING).inverse().unwrap_or(Mat3::IDENTITY);
        let mut it = Self {
            unmix: unmix.for_pixels(),
            mix: Mat3(DISPLAY).for_pixels(),
            per_code: (film.log_e_per_density * f64::from(DENSITY_PER_CODE * CODE_MAX)) as f32,
            toe: (toe * toe / 4.0) as f32,
            base: Rgb::grey(0.0),
            rest: Rgb::grey(0.0),
            tint: Rgb::grey(0.0),
            end_u: Rgb::grey(0.0),
            // The curve may be at rest at black there, the line must not.
            end_y: contrast.curve(END).max(1e-3),
            rise: 0.0,
            share: (share < 1.0).then_some(share as f32),
            least: (toe * LEAST) as f32,
        };
        it.base = it
            .unmixed(base)
            .map(|c| (c - BASE_CODE / CODE_MAX) * it.per_code);
        let apart = it.unmixed(base.zip(grey, |base, grey| base - grey));
        let mean = (apart.r + apart.g + apart.b) / 3.0;
        let [r, g, b] = apart.to_array();
        let spread = r.max(g).max(b) - r.min(g).min(b);
        it.least += LEAST_APART * spread * it.per_code;
        // No more than leaves `u` rising.
        let most = 0.45 * it.toe / it.least;
        it.tint = apart.map(|apart| {
            let tint = (apart - mean) * it.per_code;
            tint.clamp(-most, most) * it.least * it.least
        });
        it.rest = it.base.map(|base| it.resting(base));
        it.end_u = it.rest.zip(it.tint, |rest, tint| {
            let t = it.toed(END, rest);
            it.untoed(t, 1.0 / t, tint)
        });
        let (low, high) = (END - 2.0 / CODE_MAX, END + 2.0 / CODE_MAX);
        // As for a layer whose base lies in the middle, and well below.
        let highest = 0.5 * (END - BASE_CODE / CODE_MAX) * it.per_code;
        let middle = ((it.base.r + it.base.g + it.base.b) / 3.0).min(highest);
        let recorded = |code: f32| {
            let t = it.toed(code, it.resting(middle));
            it.untoed(t, 1.0 / t, 0.0)
        };
        let steeper = f64::from(contrast.curve(high) - contrast.curve(low))
            / f64::from(recorded(high) - recorded(low));
        // At least a little: the curve may be flat there, the line must not.
        let rise = steeper / f64::from(it.end_y.max(1e-3)) * core::f64::consts::LOG2_E;
        it.rise = rise.max(0.05) as f32;
        it
    }

    /// Printing-density code to display code (BT.709, gamma 2.4), which may leave 0 ... 1.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, contrast: &Contrast, code: Rgb<L>) -> Rgb<L> {
        let shown = self.of_layers(contrast, self.unmixed(code));
        match self.share {
            Some(share) => code
                .map(
                    #[inline(always)]
                    |c| contrast.curve(c),
                )
                .mix(shown, share),
            None => shown,
        }
    }

    /// Whether the bare curve has no share, so that layers are all it needs.
    pub const fn is_all(&self) -> bool {
        self.share.is_none()
    }

    /// The layers' codes ([`Self::unmixed`]) to display code, without the bare curve's share.
    #[inline(always)]
    pub fn of_layers<L: Lane>(&self, contrast: &Contrast, layers: Rgb<L>) -> Rgb<L> {
        let t = layers.zip(
            self.rest,
            #[inline(always)]
            |code, rest| self.toed(code, code.of(rest)),
        );
        let inverse = t.inverses();
        let y = Rgb::new(
            self.shaped(contrast, layers.r, [t.r, inverse.r], |of| of.r),
            self.shaped(contrast, layers.g, [t.g, inverse.g], |of| of.g),
            self.shaped(contrast, layers.b, [t.b, inverse.b], |of| of.b),
        );
        let weights = y.map(
            #[inline(always)]
            |y| y * y,
        );
        let (wr, wg, wb) = (weights.r, weights.g, weights.b);
        let Rgb { r, g, b } = layers;
        // Written from green, so that a grey's mean is the grey to the bit.
        let inverse = r.of(1.0) / (wr + wg + wb + TINY);
        let (wr, wb) = (wr * inverse, wb * inverse);
        let norm = g + (wr * (r - g) + wb * (b - g));
        let t = self.toed(norm, weighted(self.rest, wr, wb));
        let u = self.untoed(t, t.of(1.0) / t, weighted(self.tint, wr, wb));
        let curve = contrast.curve(norm);
        let line = self.line(u - weighted(self.end_u, wr, wb));
        let beyond = norm.of(END).le(norm);
        let grey = if L::any(beyond) {
            L::select(beyond, led_over(curve, line), line)
        } else {
            line
        };
        let gain = curve / grey;
        // Written from the curve, so that a grey is the curve's to the bit.
        self.mixed(y).map(
            #[inline(always)]
            |c| (c - grey) * gain + curve,
        )
    }

    /// `y` of the code of a layer, by its `t` and that one's inverse.
    #[inline(always)]
    fn shaped<L: Lane>(
        &self,
        contrast: &Contrast,
        code: L,
        [t, inverse]: [L; 2],
        layer: impl Fn(Rgb) -> f32,
    ) -> L {
        let u = self.untoed(t, inverse, code.of(layer(self.tint)));
        let line = self.line(u - layer(self.end_u));
        let end = code.of(END);
        let beyond = end.le(code);
        if !L::any(beyond) {
            return line;
        }
        L::select(beyond, led_over(contrast.curve(code.max(end)), line), line)
    }

    /// The line, by how far `u` lies over code 540's.
    #[inline(always)]
    fn line<L: Lane>(&self, over: L) -> L {
        let [low, high] = LINE_LOG2;
        (over * self.rise).clamp_to(low, high).exp2() * self.end_y
    }

    /// `u - b` by `t`, its inverse, and what of the base is tint.
    #[inline(always)]
    fn untoed<L: Lane>(&self, t: L, inverse: L, tint: L) -> L {
        t - (tint * inverse + self.toe) * inverse
    }

    /// `t` of a layer's code, which comes softly to rest.
    #[inline(always)]
    fn toed<L: Lane>(&self, code: L, rest: L) -> L {
        let (over, bend) = (code * self.per_code - rest, self.least * BEND);
        (over + (over * over + bend * bend).sqrt()) * 0.5 + self.least
    }

    /// Where `t` begins to rest, in `t`, for a layer with this base.
    fn resting(&self, base: f32) -> f32 {
        base + self.per_code * (BASE_CODE / CODE_MAX) + self.least
    }

    /// Layers' codes to places on axes on which what comes of them bends little: `u`, continued
    /// below the least `t`, where that rests.
    #[inline(always)]
    pub fn places<L: Lane>(&self, layers: Rgb<L>) -> Rgb<L> {
        let inverse = layers
            .zip(
                self.rest,
                #[inline(always)]
                |code, rest| self.toed(code, code.of(rest)),
            )
            .inverses();
        let toe = self.toe * self.share.unwrap_or(1.0);
        let density = layers.zip(
            self.base,
            #[inline(always)]
            |code, base| (code - BASE_CODE / CODE_MAX) * self.per_code - base,
        );
        density.zip(
            inverse,
            #[inline(always)]
            |density, inverse| density - inverse * toe,
        )
    }

    /// The layers' codes; rows sum to 1, so the base's code needs no care.
    #[inline(always)]
    pub fn unmixed<L: Lane>(&self, code: Rgb<L>) -> Rgb<L> {
        from_grey(&self.unmix, code)
    }

    #[inline(always)]
    fn mixed<L: Lane>(&self, y: Rgb<L>) -> Rgb<L> {
        from_grey(&self.mix, y)
    }
}

/// The curve, left by up to [`OVER`] for the line.
#[inline(always)]
fn led_over<L: Lane>(curve: L, line: L) -> L {
    let e = line - curve;
    let over = bent_softly(e.abs(), curve.of(OVER), curve.of(OVER_SOFTNESS));
    L::select(e.lt(e.of(0.0)), -over, over) + curve
}

/// The mean of three by the weights of the first and the last; all weights sum to 1.
#[inline(always)]
fn weighted<L: Lane>(of: Rgb, first: L, last: L) -> L {
    first * (of.r - of.g) + last * (of.b - of.g) + of.g
}

/// A matrix whose rows sum to 1, written so that greys stay grey to the bit.
#[inline(always)]
fn from_grey<L: Lane>(m: &PixelMatrix, Rgb { r, g, b }: Rgb<L>) -> Rgb<L> {
    let m = &m.0;
    Rgb::new(
        r + (g - r) * m[0][1] + (b - r) * m[0][2],
        g + (r - g) * m[1][0] + (b - g) * m[1][2],
        b + (r - b) * m[2][0] + (g - b) * m[2][1],
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::look;
    use proptest::prelude::*;

    fn default_contrast() -> Contrast {
        Contrast::new(&look::Contrast::default(), 1.0).unwrap()
    }

    #[test]
    fn greys_come_out_as_the_curve_has_them() {
        let contrast = default_contrast();
        for code in 0..=1023 {
            let x = code as f32 / CODE_MAX;
            let out = contrast.apply(Rgb::grey(x));
            let curve = contrast.curve(x);
            assert!((out.g - curve).abs() < 2e-6, "{code}: {} {curve}", out.g);
            assert!(out.r == out.g && out.b == out.g, "{code}");
        }
    }

    #[test]
    fn it_joins_the_curve_without_a_kink() {
        let contrast = default_contrast();
        let straight = Straight::new(
            &contrast,
            1.0,
            &Record::default(),
            [Rgb::grey(BASE_CODE / CODE_MAX); 2],
        );
        // One layer alone passes through code 540 while the others lie well above.
        let at = |c: f32| {
            let code = PixelMatrix(PRINTING.map(|row| row.map(|cell| cell as f32)));
            let layers = Rgb::new(700.0_f32, c, 700.0).map(|c| c / CODE_MAX);
            straight.apply(&contrast, code.apply(layers)).g
        };
        let slope = |c: f32| (at(c + 2.0) - at(c - 2.0)) / 4.0;
        let (below, above) = (slope(537.0), slope(543.0));
        assert!((below / above - 1.0).abs() < 0.03, "{below} {above}");
        assert!((at(540.0) - at(539.5)).abs() < 0.002);
    }

    proptest! {
        #[test]
        fn dark_colours_keep_the_ratios_of_their_light(
            r in 0.02_f32..0.12, g in 0.02_f32..0.12, b in 0.02_f32..0.12,
        ) {
            // One stop darker on the reference film: the three channels fall alike.
            use crate::look::{Balance, Negative, Stock};
            use crate::path::negative::NegativePoint;
            use crate::path::LayerExposure;
            let negative = NegativePoint::new(&Negative {
                stock: Stock { balance: Balance::Day, speed: 250.0, scene_light: 5500.0, ..Default::default() },
                ..Default::default()
            });
            let contrast = default_contrast();
            let shown = |times: f32| {
                let exposure = Rgb::new(r, g, b).map(|e| e * times);
                let density = negative.develop(LayerExposure(exposure));
                contrast.apply(super::super::code::to_code(density.0, [0.0; 3]))
            };
            let (here, darker) = (shown(1.0), shown(0.5));
            let ratio = |c: Rgb| [c.r / c.g, c.b / c.g];
            for (a, b) in ratio(here).into_iter().zip(ratio(darker)) {
                prop_assert!((a - b).abs() < 0.06 * (1.0 + a.abs()), "{a} {b}");
            }
        }

        #[test]
        fn everything_stays_finite(r in -0.5_f32..1.6, g in -0.5_f32..1.6, b in -0.5_f32..1.6) {
            for slope in [0.4, 1.0, 4.0] {
                let settings = look::Contrast { slope, ..Default::default() };
                let contrast = Contrast::new(&settings, 1.0).unwrap();
                let out = contrast.apply(Rgb::new(r, g, b));
                for c in out.to_array() {
                    prop_assert!(c.is_finite() && c.abs() < 1e3, "{out:?}");
                }
            }
        }
    }
}
