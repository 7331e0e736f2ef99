//! From a file's colour tags to a hint, converting the samples when no encoding id describes them.

use std::rc::Rc;

use lookwright_colour::encoding::{Curve, EncodingId};
use lookwright_colour::space::{Cat, Primaries, primaries, rgb_to_rgb};
use lookwright_colour::{Mat3, Result};

use super::cicp;
use super::curve::ToLinear;
use super::profile::{self, Meaning, ReadTable};
use super::space::known_encoding;
use super::{ColourHint, Tags};
use crate::decoded::Samples;
use crate::limits;

/// The hint for `tags`, and the samples, which are converted to linear AP0 when they are in none of
/// the known encodings.
///
/// The order is that of the PNG specification, third edition, 13.13: `cICP`, ICC profile, `sRGB`,
/// then `gAMA` and `cHRM`. `table` reads profiles that are tables.
pub(crate) fn resolve(
    samples: Samples,
    tags: &Tags,
    table: ReadTable,
    notes: &mut Vec<String>,
) -> Result<(Samples, ColourHint)> {
    if let Some(encoding) = tags.scan {
        let reason =
            "the DPX says that it holds printing density, as film scans do; it enters at the scan";
        return Ok((samples, known(encoding, reason.to_owned())));
    }
    if let Some([code_primaries, transfer, matrix, _]) = tags.cicp {
        match cicp::meaning(code_primaries, transfer).filter(|_| matrix == 0) {
            Some(meaning) => return from_cicp(samples, &meaning),
            None => notes.push(format!(
                "The colour code points {code_primaries}/{transfer}/{matrix} are not read here \
                 and were ignored."
            )),
        }
    }
    if let Some(icc) = &tags.icc {
        match profile::read(icc, table) {
            Ok(read) => return from_profile(samples, read),
            Err(why) => notes.push(format!("The colour profile was ignored: {why}.")),
        }
    }
    if let Some(space) = &tags.linear {
        return from_chromaticities(samples, space);
    }
    if tags.srgb_chunk {
        return Ok((
            samples,
            known(EncodingId::Srgb, "the file's sRGB entry says so".to_owned()),
        ));
    }
    match (tags.gamma, &tags.primaries) {
        (Some(gamma), found) => from_gamma(samples, gamma, found.as_ref()),
        (None, Some(found))
            if known_encoding(found, Curve::Srgb) == Some(EncodingId::DisplayP3) =>
        {
            Ok((
                samples,
                known(
                    EncodingId::DisplayP3,
                    "the file's chromaticities are P3's".to_owned(),
                ),
            ))
        }
        _ => Ok((samples, ColourHint::Untagged)),
    }
}

fn known(encoding: EncodingId, reason: String) -> ColourHint {
    ColourHint::Known { encoding, reason }
}

fn from_cicp(samples: Samples, meaning: &cicp::Meaning) -> Result<(Samples, ColourHint)> {
    let curve = meaning.curve;
    if let Some(encoding) = known_encoding(meaning.primaries, curve) {
        return Ok((
            samples,
            known(encoding, "the file's colour code points say so".to_owned()),
        ));
    }
    let to_ap0 = rgb_to_rgb(meaning.primaries, &primaries::AP0, Cat::Bradford);
    let curves = three(Rc::new(move |v| curve.decode(v)));
    // HDR codes stand for the scene's light, as linear ones do; their white is ITU-R BT.2408's.
    let (encoding, white) = match curve {
        Curve::Hlg => (EncodingId::Ap0Linear, ", with code 0.75 taken as white"),
        Curve::Pq => (EncodingId::Ap0Linear, ", with 203 cd/m2 taken as white"),
        _ => (linear_ap0(&curves[1]), ""),
    };
    let reason = format!(
        "the file's colour code points name a space without an encoding here; it was converted to \
         linear AP0{white}"
    );
    Ok((shape(samples, &curves, &to_ap0)?, known(encoding, reason)))
}

fn from_profile(samples: Samples, read: profile::Read) -> Result<(Samples, ColourHint)> {
    let name = read.name;
    Ok(match read.meaning {
        Meaning::Known(encoding) => (
            samples,
            known(encoding, format!("its colour profile ({name}) says so")),
        ),
        Meaning::Shaper(curves, to_ap0) => (
            shape(samples, &curves, &to_ap0)?,
            known(
                linear_ap0(&curves[1]),
                format!("its colour profile ({name}) was converted to linear AP0"),
            ),
        ),
        Meaning::Grey(curve) => {
            let encoding = linear_ap0(&curve);
            let samples = shape(samples, &three(curve), &Mat3::IDENTITY)?;
            let reason = format!("its grey profile ({name}) was converted to linear light");
            (samples, known(encoding, reason))
        }
        Meaning::Table(transform) => {
            let reason =
                format!("the table of its colour profile ({name}) was converted to linear AP0");
            (
                through_table(samples, transform.as_ref())?,
                known(EncodingId::DisplayAp0, reason),
            )
        }
    })
}

fn from_chromaticities(samples: Samples, space: &Primaries) -> Result<(Samples, ColourHint)> {
    if let Some(encoding) = known_encoding(space, Curve::Linear) {
        return Ok((
            samples,
            known(encoding, "the file's chromaticities say so".to_owned()),
        ));
    }
    let curves = three(Rc::new(|value| value));
    let to_ap0 = rgb_to_rgb(space, &primaries::AP0, Cat::Bradford);
    let reason = "the file's chromaticities have no encoding here; it was converted to linear AP0";
    Ok((
        shape(samples, &curves, &to_ap0)?,
        known(EncodingId::Ap0Linear, reason.to_owned()),
    ))
}

/// `gAMA` is the exponent from light to code; the sRGB curve stands for 1/2.2 by convention
/// (PNG specification, third edition, 11.3.2.5 and 13.13).
fn from_gamma(
    samples: Samples,
    gamma: f64,
    found: Option<&Primaries>,
) -> Result<(Samples, ColourHint)> {
    let space = found.unwrap_or(&primaries::BT709);
    let curve = if (gamma - 0.45455).abs() < 0.002 {
        Some(Curve::Srgb)
    } else if (gamma - 1.0).abs() < 1e-4 {
        Some(Curve::Linear)
    } else if (gamma - 1.0 / 2.4).abs() < 0.001 {
        Some(Curve::Bt1886)
    } else {
        None
    };
    if let Some(encoding) = curve.and_then(|curve| known_encoding(space, curve)) {
        return Ok((
            samples,
            known(encoding, format!("the file's gamma entry says {gamma}")),
        ));
    }
    let curves = three(match curve {
        Some(curve) => Rc::new(move |v| curve.decode(v)),
        None => Rc::new(move |v| libm::pow(f64::from(v), 1.0 / gamma) as f32),
    });
    let to_ap0 = rgb_to_rgb(space, &primaries::AP0, Cat::Bradford);
    let encoding = linear_ap0(&curves[1]);
    let reason =
        format!("the file's gamma entry says {gamma}; it was converted to linear AP0 with it");
    Ok((shape(samples, &curves, &to_ap0)?, known(encoding, reason)))
}

/// Linear AP0 from codes on `curve`: a screen's light, unless the codes were light already.
fn linear_ap0(curve: &ToLinear) -> EncodingId {
    if (curve(0.5) - 0.5).abs() < 1e-3 {
        EncodingId::Ap0Linear
    } else {
        EncodingId::DisplayAp0
    }
}

fn three(curve: ToLinear) -> [ToLinear; 3] {
    [curve.clone(), curve.clone(), curve]
}

/// Curves, then a matrix, on every pixel. Codes go through tables of all their values; floats are
/// changed in place, as a picture of them fills enough memory once.
fn shape(samples: Samples, curves: &[ToLinear; 3], matrix: &Mat3) -> Result<Samples> {
    let m = matrix.0.map(|row| row.map(|v| v as f32));
    let mixed = |linear: [f32; 3]| {
        m.map(|row| row[0] * linear[0] + row[1] * linear[1] + row[2] * linear[2])
    };
    let mut out: Vec<f32> = Vec::new();
    if !matches!(samples, Samples::F32(_)) {
        limits::reserve(&mut out, samples.len())?;
    }
    let mut push = |linear| out.extend(mixed(linear));
    let tabled = |codes: usize| {
        curves.each_ref().map(|curve| -> Vec<f32> {
            (0..codes)
                .map(|code| curve(code as f32 / (codes - 1) as f32))
                .collect()
        })
    };
    match samples {
        Samples::U8(v) => {
            let [r, g, b] = tabled(256);
            for p in v.as_chunks::<3>().0 {
                push([
                    r[usize::from(p[0])],
                    g[usize::from(p[1])],
                    b[usize::from(p[2])],
                ]);
            }
        }
        Samples::U16(v) => {
            let [r, g, b] = tabled(65536);
            for p in v.as_chunks::<3>().0 {
                push([
                    r[usize::from(p[0])],
                    g[usize::from(p[1])],
                    b[usize::from(p[2])],
                ]);
            }
        }
        Samples::F32(mut v) => {
            for p in v.as_chunks_mut::<3>().0 {
                *p = mixed([curves[0](p[0]), curves[1](p[1]), curves[2](p[2])]);
            }
            return Ok(Samples::F32(v));
        }
    }
    Ok(Samples::F32(out))
}

/// Pixels of a table profile, in strips, since the transform wants floats on both sides.
fn through_table(
    samples: Samples,
    transform: &dyn moxcms::TransformExecutor<f32>,
) -> Result<Samples> {
    const STRIP: usize = 3 << 14;
    let refused = |e| {
        lookwright_colour::Error::new(format!(
            "The picture's colour profile can't be applied ({e}): save it with an sRGB profile."
        ))
    };
    let mut strip = Vec::with_capacity(STRIP);
    let mut run = |values: &mut dyn Iterator<Item = f32>, target: &mut [f32]| {
        strip.clear();
        strip.extend(values.map(|value| value.clamp(0.0, 1.0)));
        transform.transform(&strip, target).map_err(refused)
    };
    if let Samples::F32(mut v) = samples {
        for part in v.chunks_mut(STRIP) {
            let values = part.to_vec();
            run(&mut values.into_iter(), part)?;
        }
        return Ok(Samples::F32(v));
    }
    let mut out: Vec<f32> = limits::buffer(samples.len())?;
    for (index, target) in out.chunks_mut(STRIP).enumerate() {
        let first = index * STRIP;
        let span = first..first + target.len();
        run(&mut span.map(|i| samples.normalised(i)), target)?;
    }
    Ok(Samples::F32(out))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn code_points_without_an_encoding_become_linear_and_name_their_white() {
        for (primaries, transfer, encoding, white) in [
            (1, 18, EncodingId::Ap0Linear, "code 0.75"),
            (12, 16, EncodingId::Ap0Linear, "203 cd/m2"),
            (12, 8, EncodingId::Ap0Linear, "linear AP0"),
            (9, 13, EncodingId::DisplayAp0, "linear AP0"),
        ] {
            let meaning = cicp::meaning(primaries, transfer).unwrap();
            let code = match transfer {
                18 => 0.75,
                16 => 0.580_689,
                _ => 1.0,
            };
            let (samples, hint) = from_cicp(Samples::F32(vec![code; 3]), &meaning).unwrap();
            let ColourHint::Known {
                encoding: found,
                reason,
            } = hint
            else {
                panic!("{primaries} {transfer}");
            };
            assert_eq!(found, encoding, "{primaries} {transfer}");
            assert!(
                reason.ends_with(&format!("{white} taken as white")) || reason.ends_with(white)
            );
            // White is white in any space.
            let all = (0..3).map(|at| samples.normalised(at));
            assert!(
                all.into_iter().all(|v| (v - 1.0).abs() < 2e-3),
                "{samples:?}"
            );
        }
    }
}
