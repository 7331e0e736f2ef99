//! ICC profiles: which known encoding one is, or how to bring its samples to linear AP0.

use std::rc::Rc;
use std::sync::Arc;

use lookwright_colour::Mat3;
use lookwright_colour::encoding::EncodingId;
use lookwright_colour::space::{Cat, Primaries, Xy, primaries, white};
use moxcms::{
    ColorProfile, DataColorSpace, Layout, Matrix3d, ParsingOptions, RenderingIntent, ToneReprCurve,
    TransformExecutor, TransformOptions, Xyzd,
};

use super::curve::{ToLinear, recognise};
use super::out::PROFILE_DATE;
use super::space::{encodings_on, known_encoding};
use crate::limits::MAX_SIDE_DATA_BYTES;

/// The white of the profile connection space (ICC.1:2022, 7.2.16).
const PCS_WHITE_XYZ: [f64; 3] = [0.9642, 1.0, 0.8249];

/// What a profile stands for.
pub(crate) enum Meaning {
    Known(EncodingId),
    /// A curve per channel, then a matrix to linear AP0.
    Shaper([ToLinear; 3], Mat3),
    /// A grey curve to linear light.
    Grey(ToLinear),
    /// A table; the transform takes interleaved RGB 0 ... 1 to linear AP0.
    Table(Arc<dyn TransformExecutor<f32> + Send + Sync>),
}

/// A profile's meaning and its own name.
pub(crate) struct Read {
    pub(crate) meaning: Meaning,
    pub(crate) name: String,
}

/// How profiles that are tables are read: [`table`] or [`no_table`].
pub(crate) type ReadTable = fn(&ColorProfile) -> Result<Meaning, &'static str>;

/// Reads a profile; the error is a half-sentence that says why it can't be used.
pub(crate) fn read(icc: &[u8], table: ReadTable) -> Result<Read, &'static str> {
    let profile = parsed(icc)?;
    let meaning = match profile.color_space {
        DataColorSpace::Rgb if has_table(&profile) => table(&profile)?,
        DataColorSpace::Rgb => shaper(&profile)?,
        DataColorSpace::Gray => grey(&profile)?,
        _ => return Err("it is not for RGB pictures"),
    };
    Ok(Read {
        meaning,
        name: name(&profile),
    })
}

/// Whether a profile is a table. One that is damaged is none.
pub(crate) fn is_table(icc: &[u8]) -> bool {
    parsed(icc)
        .is_ok_and(|profile| profile.color_space == DataColorSpace::Rgb && has_table(&profile))
}

fn parsed(icc: &[u8]) -> Result<ColorProfile, &'static str> {
    let options = ParsingOptions {
        max_profile_size: MAX_SIDE_DATA_BYTES,
        max_allowed_clut_size: MAX_SIDE_DATA_BYTES,
        ..ParsingOptions::default()
    };
    ColorProfile::new_from_slice_with_options(icc, options).map_err(|_| "it is damaged")
}

fn has_table(profile: &ColorProfile) -> bool {
    profile.lut_a_to_b_colorimetric.is_some() || profile.lut_a_to_b_perceptual.is_some()
}

fn shaper(profile: &ColorProfile) -> Result<Meaning, &'static str> {
    let curves = [&profile.red_trc, &profile.green_trc, &profile.blue_trc];
    let [red, green, blue] = curves.map(|curve| evaluator(curve.as_ref()));
    let curves = [red?, green?, blue?];
    let to_pcs = Mat3(profile.rgb_to_xyz_matrix().v);
    if !to_pcs.0.iter().flatten().all(|v| v.is_finite()) || to_pcs.inverse().is_none() {
        return Err("its primaries lie on one line");
    }
    let found = curves.each_ref().map(|curve| recognise(curve.as_ref()));
    if let [Some(curve), green, blue] = found
        && green == Some(curve)
        && blue == Some(curve)
        && let Some(encoding) = encodings_on(curve)
            .find(|encoding| near(&to_pcs, &to_pcs_matrix(&encoding.info().primaries)))
    {
        return Ok(Meaning::Known(encoding));
    }
    Ok(Meaning::Shaper(curves, pcs_to_ap0().after(&to_pcs)))
}

/// Linear RGB to the connection space: the white adapted to D50 by Bradford (ICC.1:2022 annex E).
fn to_pcs_matrix(space: &Primaries) -> Mat3 {
    Cat::Bradford
        .xyz(space.white(), Xy::from_xyz(PCS_WHITE_XYZ))
        .after(&space.rgb_to_xyz())
}

fn pcs_to_ap0() -> Mat3 {
    let adapt = Cat::Bradford.xyz(Xy::from_xyz(PCS_WHITE_XYZ), white::ACES);
    primaries::AP0.xyz_to_rgb().after(&adapt)
}

/// Profiles round to 16 bits and differ in how they print the white: 0.0025 covers those in use;
/// spaces with an encoding lie 0.03 apart.
fn near(a: &Mat3, b: &Mat3) -> bool {
    a.0.iter()
        .flatten()
        .zip(b.0.iter().flatten())
        .all(|(a, b)| (a - b).abs() < 0.0025)
}

fn grey(profile: &ColorProfile) -> Result<Meaning, &'static str> {
    let curve = evaluator(profile.gray_trc.as_ref())?;
    let known = recognise(curve.as_ref());
    let encoding = known.and_then(|curve| known_encoding(&primaries::BT709, curve));
    Ok(encoding.map_or(Meaning::Grey(curve), Meaning::Known))
}

fn evaluator(curve: Option<&ToneReprCurve>) -> Result<ToLinear, &'static str> {
    let curve = curve.ok_or("it has no tone curve")?;
    if let ToneReprCurve::Parametric(parameters) = curve
        && parameters.is_empty()
    {
        return Err("its tone curve is empty");
    }
    let evaluator = curve
        .make_linear_evaluator()
        .map_err(|_| "its tone curve is damaged")?;
    Ok(Rc::new(move |code| evaluator.evaluate_value(code)))
}

/// The table of a profile as a transform.
pub(crate) fn table(profile: &ColorProfile) -> Result<Meaning, &'static str> {
    let linear = ToneReprCurve::Parametric(vec![1.0]);
    let target = matrix_profile(&primaries::AP0, linear);
    let options = TransformOptions {
        rendering_intent: RenderingIntent::RelativeColorimetric,
        allow_use_cicp_transfer: false,
        ..TransformOptions::default()
    };
    profile
        .create_transform_f32(Layout::Rgb, &target, Layout::Rgb, options)
        .map(Meaning::Table)
        .map_err(|_| "its table is damaged or of a kind that is not read")
}

/// Stands for [`table`] where that is not linked.
pub(crate) fn no_table(_: &ColorProfile) -> Result<Meaning, &'static str> {
    Err("it is a table, which this part of the program does not read")
}

/// An RGB display profile of primaries and one curve, without a description.
pub(super) fn matrix_profile(space: &Primaries, curve: ToneReprCurve) -> ColorProfile {
    let colorants = to_pcs_matrix(space).0;
    let column = |c: usize| Xyzd {
        x: colorants[0][c],
        y: colorants[1][c],
        z: colorants[2][c],
    };
    let [x, y, z] = PCS_WHITE_XYZ;
    let white = Xyzd { x, y, z };
    let adaptation = Cat::Bradford.xyz(space.white(), Xy::from_xyz(PCS_WHITE_XYZ));
    // A display profile to begin with; everything that makes it sRGB is replaced.
    let mut profile = ColorProfile::new_srgb();
    profile.cicp = None;
    profile.description = None;
    profile.copyright = None;
    profile.rendering_intent = RenderingIntent::Perceptual;
    profile.red_colorant = column(0);
    profile.green_colorant = column(1);
    profile.blue_colorant = column(2);
    profile.white_point = white;
    profile.media_white_point = Some(white);
    profile.chromatic_adaptation = Some(Matrix3d { v: adaptation.0 });
    profile.red_trc = Some(curve.clone());
    profile.green_trc = Some(curve.clone());
    profile.blue_trc = Some(curve);
    profile.creation_date_time = PROFILE_DATE;
    profile
}

fn name(profile: &ColorProfile) -> String {
    let text = match &profile.description {
        Some(moxcms::ProfileText::PlainString(text)) => Some(text.as_str()),
        Some(moxcms::ProfileText::Localizable(texts)) => texts.first().map(|t| t.value.as_str()),
        Some(moxcms::ProfileText::Description(text)) => Some(text.ascii_string.as_str()),
        None => None,
    };
    text.and_then(crate::exif::tidy)
        .unwrap_or_else(|| "without a name".to_owned())
}
