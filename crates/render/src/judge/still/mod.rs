//! A still to match: which moves of a look bring a frame to what another picture looks like.
//!
//! The moves are fitted, with what looks usually do as a prior, so the result is a look and no transfer
//! of colours: it can be read, changed, and put on another frame. Two ways, chosen by the pictures:
//!
//! - *The same picture*: it is compared place by place. Then moves are found closely.
//! - *Another picture*: what it is like is compared (`seen.rs`): quantiles of lightness, tints and
//!   colourfulness by tone (statistics for colour between pictures: Reinhard, Ashikhmin,
//!   Gooch and Shirley, Color Transfer between Images, IEEE CG&A 21(5), 2001, by tone and with
//!   medians in place of means), with what photographs are like without a look (`typical.rs`); the more
//!   closely it is asked for, the more with the frame itself. What is in the still misleads it; the error
//!   of each move says how much. A still without colours of its own is taken for black-and-white film (`grey.rs`).
//!
//! `solve.rs` names the methods of the fit. A move that does not earn its place is left out
//! (Akaike, A New Look at the Statistical Model Identification, IEEE Trans. Autom. Control 19(6), 1974).

mod grey;
mod moves;
mod said;
mod seen;
mod solve;
mod typical;

pub(in crate::judge) use solve::{median, solved};

use lookwright_colour::encoding::{EncodingClass, ScreenId};
use lookwright_colour::space::{Lab, delta_e_2000};
use lookwright_colour::{Error, Result, Rgb};
use lookwright_film::look::{Delivery, Frame, Look, StageId};
use lookwright_film::path::intake::IntakePoint;
use lookwright_film::path::{FrameCode, LightPath};
use lookwright_film::spatial::{Planes, reduce};

use crate::pointwise::Along;
use moves::Move;
use seen::{Like, Seen};
use solve::{Problem, Solution};

/// Longer side of what is compared, in points.
const SIDE: usize = 36;
/// Sides that differ by less are of one shape.
const SHAPE: f64 = 0.03;
/// Lightness that goes along as closely is that of the same picture. *Chosen.*
const SAME: f64 = 0.9;
/// Pictures of different things don't come so near each other, in standard deviations of such: if they do,
/// they show the same things, and say more of the look. *Chosen.*
const SURPRISE: f64 = 0.06;
/// What figures of different pictures count at least: half of what they are worth by their spread, so that at a
/// quarter of the way they count in full.
const LEAST_HEARD: f64 = 0.5;
/// What the same picture may differ by at each place, as it is seen. *Chosen.*
const OF_SAME: f64 = 0.2;
/// What a move has to make likelier to be kept: Akaike's for the same things. Of other things less, as there the prior
/// holds moves already: *chosen*, as with Akaike's hardly any was left.
const EARNS: [f64; 2] = [2.0, 0.3];

/// One control of the look, as it was and as it was found.
#[derive(Clone, Debug, PartialEq)]
pub struct MatchedMove {
    /// Where it is.
    pub stage: StageId,
    /// Key of its step.
    pub step: &'static str,
    /// Key of the control.
    pub control: &'static str,
    /// Label of the step, then of the control.
    pub labels: [&'static str; 2],
    /// Unit, as shown.
    pub unit: &'static str,
    /// Before and after.
    pub values: [f64; 2],
    /// Standard error in that unit; none for a hue, which comes with its strength.
    pub error: Option<f64>,
}

/// What a still asks of a look.
#[derive(Clone, Debug, PartialEq)]
pub struct StillMatch {
    /// The look that comes nearest.
    pub look: Look,
    /// What it changes, in the order of the path.
    pub moves: Vec<MatchedMove>,
    /// Whether the still shows the same picture.
    pub same_picture: bool,
    /// How far both lie apart, before and after: mean CIEDE2000 of the same picture; else how far tones
    /// and colours do on average, in about the same unit.
    pub distance: [f64; 2],
    /// 0 to 1: how far the two pictures, and not what looks usually do, decide the moves.
    pub sure: f64,
    /// What can't be matched, one sentence each.
    pub left: Vec<String>,
}

/// Fits `look` so that a frame looks like a still. Small copies of both are enough; all in the code of
/// their own frames, whose trims count. `closely`, 0 to 1, is for pictures of different things: 0 takes
/// over what the still says of a look, 1 comes as near as moves can, content and all.
///
/// # Errors
/// If the still is no finished picture or one of the two is empty.
pub fn match_still(
    code: &Planes,
    frame: &Frame,
    look: &Look,
    still: &Planes,
    of_still: &Frame,
    closely: f64,
) -> Result<StillMatch> {
    if of_still.source.encoding.info().class != EncodingClass::Display {
        return Err(Error::new(format!(
            "A still to match is a finished picture, and this one is {}; save it as a JPEG or PNG first.",
            of_still.source.encoding.info().label
        )));
    }
    if code.pixels() == 0 || still.pixels() == 0 {
        return Err(Error::new(
            "There is no picture to match: open a frame and a still that have pixels.",
        ));
    }
    let (width, height) = fitted(code);
    let code = reduce(code, width, height);
    let still_size = if same_shape(&code, still) {
        (width, height)
    } else {
        fitted(still)
    };
    let still = shown(&reduce(still, still_size.0, still_size.1), of_still);
    let seen: Vec<Seen> = still.iter().map(|lab| seen::seen(*lab)).collect();
    let (look, on_grey) = &grey::as_still(look, &seen);
    let moves = moves::moves_of(look);
    let begun = moves::opened(look, &moves);
    let before = rendered(&code, frame, look);
    let same = still_size == (width, height) && correlated(&before, &still) > SAME;
    let fit = Fit {
        code: &code,
        frame,
        begun: &begun,
        from: moves.iter().map(|one| one.get(&begun)).collect(),
        still: seen,
        moves: &moves,
        same,
        closely: closely.clamp(0.0, 1.0),
    };
    let (found, kept) = fit.run();
    // What is not listed stays as it is, to the last digit.
    let (kept_moves, numbers): (Vec<Move>, Vec<f64>) = (0..moves.len())
        .filter(|i| kept[*i])
        .map(|i| (moves[i], fit.from[i] + found.at[i]))
        .unzip();
    let mut matched = begun.clone();
    moves::set(&mut matched, &kept_moves, &numbers);
    moves::round(&mut matched, &kept_moves);
    moves::close(&mut matched, look, &moves, &kept);
    let after = rendered(&code, frame, &matched);
    let listed = said::listed(&begun, &matched, &moves, &kept, &found);
    let known: Vec<f64> = kept
        .iter()
        .zip(&found.variance)
        .filter_map(|(kept, variance)| kept.then_some(1.0 - variance.min(1.0)))
        .collect();
    Ok(StillMatch {
        moves: listed,
        same_picture: same,
        distance: [fit.distance(&before, &still), fit.distance(&after, &still)],
        sure: median(known),
        left: on_grey
            .iter()
            .cloned()
            .chain(said::left(&after, &still, same))
            .collect(),
        look: matched,
    })
}

/// A fit of one look to one still.
struct Fit<'a> {
    code: &'a Planes,
    frame: &'a Frame,
    begun: &'a Look,
    /// The moves' numbers at the beginning.
    from: Vec<f64>,
    still: Vec<Seen>,
    moves: &'a [Move],
    same: bool,
    /// Where the fit stands between what a still says of a look and all that it shows.
    closely: f64,
}

impl Fit<'_> {
    /// All moves first, then those that earn their place.
    fn run(&self) -> (Solution, Vec<bool>) {
        let still = Like::of(&self.still).figures();
        let (typical, of_typical) = typical::picture();
        let figures = |code: &Planes, frame: &Frame, look: &Look| {
            like(&rendered(code, frame, look)).figures()
        };
        let plain = figures(&typical, &of_typical, &Look::default());
        let louder = LEAST_HEARD * libm::exp2(4.0 * self.closely);
        // How far figures are off, with the frame in the place of photographs at large by this share.
        let off = |at: &[f64], own: f64| -> Vec<f64> {
            let look = self.look(at);
            let mut less = [0.0; 23];
            if own < 1.0 {
                let now = figures(&typical, &of_typical, &look);
                for (i, less) in less.iter_mut().enumerate() {
                    *less += (1.0 - own) * (now[i] - plain[i] + typical::FIGURES[i] - still[i]);
                }
            }
            if own > 0.0 {
                let now = figures(self.code, self.frame, &look);
                for (i, less) in less.iter_mut().enumerate() {
                    *less += own * (now[i] - still[i]);
                }
            }
            let weighed = seen::weighed(less).into_iter();
            weighed.map(|figure| figure * louder).collect()
        };
        let place_by_place = |at: &[f64]| -> Vec<f64> {
            let points = rendered(self.code, self.frame, &self.look(at));
            let pairs = points.into_iter().map(seen::seen).zip(&self.still);
            pairs
                .flat_map(|(a, b)| [0, 1, 2].map(|i| a[i] - b[i]))
                .collect()
        };
        let limits: Vec<(f64, f64)> = self
            .moves
            .iter()
            .zip(&self.from)
            .map(|(one, from)| {
                let (low, high) = one.limits(self.begun);
                (low - from, high - from)
            })
            .collect();
        let solve =
            |residuals: &dyn Fn(&[f64]) -> Vec<f64>, active: &[bool], from: &[f64], scale: f64| {
                let problem = Problem {
                    residuals,
                    limits: &limits,
                    active,
                    scale,
                };
                problem.solve(from)
            };
        let none = vec![0.0; self.moves.len()];
        let every = vec![true; self.moves.len()];
        let of_frame = |at: &[f64]| off(at, 1.0);
        let of_both = |at: &[f64]| off(at, (2.0 * self.closely - 1.0).max(0.0));
        let mut residuals: &dyn Fn(&[f64]) -> Vec<f64> = match self.same {
            true => &place_by_place,
            false => &of_frame,
        };
        let mut scale = if self.same { OF_SAME } else { SURPRISE / 2.0 };
        let mut all = solve(residuals, &every, &none, scale);
        let of_others = !self.same && all.left > SURPRISE * louder;
        if of_others {
            (residuals, scale) = (&of_both, 1.0);
            all = solve(residuals, &every, &none, scale);
        }
        let enough = EARNS[usize::from(of_others)];
        let earns = |i: usize| all.at[i] * all.at[i] / all.variance[i].max(1e-9) > enough;
        let kept: Vec<bool> = (0..self.moves.len())
            .map(|i| match self.moves[i].hue() {
                // Both axes of a tint stay or go together.
                Some(hue) => {
                    (0..self.moves.len()).any(|k| self.moves[k].hue() == Some(hue) && earns(k))
                }
                None => earns(i),
            })
            .collect();
        let start: Vec<f64> = all
            .at
            .iter()
            .zip(&kept)
            .map(|(at, kept)| if *kept { *at } else { 0.0 })
            .collect();
        (solve(residuals, &kept, &start, scale), kept)
    }

    fn look(&self, at: &[f64]) -> Look {
        let mut look = self.begun.clone();
        let numbers: Vec<f64> = self.from.iter().zip(at).map(|(a, b)| a + b).collect();
        moves::set(&mut look, self.moves, &numbers);
        look
    }

    fn distance(&self, points: &[Lab], still: &[Lab]) -> f64 {
        if self.same {
            let sum: f64 = points
                .iter()
                .zip(still)
                .map(|(a, b)| delta_e_2000(*a, *b))
                .sum();
            return sum / points.len() as f64;
        }
        like(points).distance(&like(still))
    }
}

fn like(points: &[Lab]) -> Like {
    Like::of(
        &points
            .iter()
            .map(|lab| seen::seen(*lab))
            .collect::<Vec<_>>(),
    )
}

/// The size of a small copy with the same shape.
fn fitted(picture: &Planes) -> (usize, usize) {
    let longer = picture.width.max(picture.height).max(1);
    let side = |length: usize| (length * SIDE.min(longer)).div_ceil(longer).max(1);
    (side(picture.width), side(picture.height))
}

fn same_shape(a: &Planes, b: &Planes) -> bool {
    let shape = |p: &Planes| p.width as f64 / p.height as f64;
    (shape(a) / shape(b) - 1.0).abs() < SHAPE
}

/// A frame through a look on sRGB.
fn rendered(code: &Planes, frame: &Frame, look: &Look) -> Vec<Lab> {
    let mut delivery = Delivery::default();
    delivery.display.screen = ScreenId::Srgb;
    let path = LightPath::new(look, frame, &delivery);
    let mut picture = code.clone();
    let whole = path.points_up_to(StageId::Screen);
    Along(&path, whole).run(&mut picture);
    points(&picture).map(seen::lab).collect()
}

/// A finished picture, as it is seen.
fn shown(code: &Planes, frame: &Frame) -> Vec<Lab> {
    let mut plain = frame.clone();
    plain.source.unrender = 0.0;
    let intake = IntakePoint::new(&plain);
    points(code)
        .map(|code| {
            let light = intake.apply(FrameCode(Rgb::from_array(code))).0;
            seen::of_ap1(light.to_array())
        })
        .collect()
}

fn points(picture: &Planes) -> impl Iterator<Item = [f32; 3]> {
    let [r, g, b] = &picture.planes;
    r.iter().zip(g).zip(b).map(|((r, g), b)| [*r, *g, *b])
}

/// How closely the lightness of two pictures goes along: Pearson's coefficient of their ranks, so that
/// a curve between them does not count.
fn correlated(a: &[Lab], b: &[Lab]) -> f64 {
    let (a, b) = (ranks(a), ranks(b));
    let n = a.len() as f64;
    let middle = (n - 1.0) / 2.0;
    let spread: f64 = a.iter().map(|r| (r - middle) * (r - middle)).sum();
    let along: f64 = a
        .iter()
        .zip(&b)
        .map(|(a, b)| (a - middle) * (b - middle))
        .sum();
    if spread > 0.0 { along / spread } else { 0.0 }
}

fn ranks(points: &[Lab]) -> Vec<f64> {
    let mut order: Vec<usize> = (0..points.len()).collect();
    order.sort_by(|a, b| points[*a].l.total_cmp(&points[*b].l));
    let mut ranks = vec![0.0; points.len()];
    for (rank, place) in order.into_iter().enumerate() {
        ranks[place] = rank as f64;
    }
    ranks
}

#[cfg(test)]
mod tests;
