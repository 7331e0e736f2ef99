//! Look files of older versions: what they leave out, and what they say otherwise.
//!
//! The canonical form leaves defaults out, so when a default changes the version does. In version 1
//! nothing lay behind the film, the veil had no onset, development knew no edges, and the positive
//! was a curve over the shaped scan. In version 2 a new look was on lamp film, softer and darker, and
//! its contrast turned about a code above mid-grey.

use super::{Backing, Balance, HalationMethod, Look, Positive, effective_amount};

/// What a file of version 1 leaves out.
pub(super) fn defaults_of_version_1() -> Look {
    let mut look = defaults_of_version_2();
    look.negative.halation.backing = Backing::None;
    look.negative.edge.on = false;
    look.print.positive.gamma = POSITIVE_GAMMA;
    look.print.positive.scan_contrast = POSITIVE_SCAN_CONTRAST;
    look
}

/// What a file of version 2 leaves out.
pub(super) fn defaults_of_version_2() -> Look {
    let mut look = Look::default();
    look.negative.stock.balance = Balance::Lamp;
    look.negative.stock.speed = 500.0;
    let contrast = &mut look.scan.contrast;
    contrast.slope = 1.68;
    contrast.pivot = 512.0;
    contrast.black_drop = 0.25;
    contrast.white_roll = 0.45;
    contrast.toe = 0.6;
    contrast.shoulder = 0.0;
    look
}

/// What a file of version 2 says otherwise: its toe bent over at most 0.6 of the way from floor to
/// pivot and no softer for more of it. The same width of bend stays nearest to what it was.
pub(super) fn complete_version_2(look: &mut Look) {
    let contrast = &mut look.scan.contrast;
    let least = 0.3 * (1.0 - 1.0 / contrast.slope).max(contrast.black_drop);
    let width = 0.6 / 0.95 * (contrast.toe + (1.0 - contrast.toe) * least);
    let toe = ((width - least) / (1.0 - least)).max(0.0);
    contrast.toe = libm::round(toe * 1000.0) / 1000.0;
}

/// What a file of version 1 says otherwise, once it is read.
pub(super) fn complete_version_1(look: &mut Look) {
    let halation = &mut look.negative.halation;
    if halation.method == HalationMethod::Veil {
        halation.onset = VEIL_WITHOUT_ONSET;
    }
    print_from_the_flat_scan(look);
}

/// The positive was printed from the shaped scan, so many times its contrast; now from the flat
/// scan, by a gamma that makes the same slope in all.
fn print_from_the_flat_scan(look: &mut Look) {
    let contrast = &look.scan.contrast;
    let slope = libm::pow(contrast.slope, effective_amount(contrast));
    let positive = &mut look.print.positive;
    let untouched = !positive.on
        && positive.gamma == POSITIVE_GAMMA
        && positive.scan_contrast == POSITIVE_SCAN_CONTRAST;
    positive.gamma = if untouched {
        Positive::default().gamma
    } else {
        (positive.gamma * positive.scan_contrast * slope).clamp(1.8, 3.8)
    };
    positive.scan_contrast = 0.0;
}

/// The positive's defaults of version 1.
const POSITIVE_GAMMA: f64 = 2.6;
const POSITIVE_SCAN_CONTRAST: f64 = 0.6;

/// So low that all light counts.
const VEIL_WITHOUT_ONSET: f64 = -6.0;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_of_version_1_keeps_its_halation_and_gets_no_edges() {
        let look = Look::read(
            r#"{"lookwright":1,"negative":{"halation":{"method":"veil","strength":0.12}}}"#,
        )
        .unwrap();
        assert_eq!(look.negative.halation.backing, Backing::None);
        assert_eq!(look.negative.halation.onset, VEIL_WITHOUT_ONSET);
        assert!(!look.negative.edge.on);
        let ring = Look::read(r#"{"lookwright":1,"negative":{"halation":{"onset":3.0}}}"#).unwrap();
        assert_eq!(ring.negative.halation.onset, 3.0);
        // Written, it is a file of the present version that says so.
        let written = Look::read(&look.canonical()).unwrap();
        assert_eq!(written, look);
        assert!(look.canonical().contains("\"lookwright\":3"));
    }

    #[test]
    fn a_positive_of_version_1_keeps_its_slope_in_all() {
        let look = Look::read(
            r#"{"lookwright":1,"scan":{"contrast":{"slope":1.36}},"print":{"positive":{"on":true,"gamma":3.1,"scan_contrast":0.74}}}"#,
        )
        .unwrap();
        let positive = &look.print.positive;
        assert!((positive.gamma - 1.36 * 3.1 * 0.74).abs() < 1e-12);
        assert_eq!(positive.scan_contrast, 0.0);
        let off = Look::read(r#"{"lookwright":1}"#).unwrap();
        assert_eq!(off.print.positive, Positive::default());
    }

    #[test]
    fn a_file_of_version_2_keeps_its_film_and_levels() {
        let look = Look::read(r#"{"lookwright":2,"scan":{"contrast":{"slope":1.9}}}"#).unwrap();
        let (stock, contrast) = (&look.negative.stock, &look.scan.contrast);
        assert_eq!((stock.balance, stock.speed), (Balance::Lamp, 500.0));
        assert_eq!((contrast.slope, contrast.pivot), (1.9, 512.0));
        assert_eq!((contrast.white_roll, contrast.black_drop), (0.45, 0.25));
        // A bend from floor to pivot of 0.6 (0.6 + 0.4 * 0.3 * 0.474) of the way, as it was.
        let least = 0.3 * (1.0 - 1.0 / 1.9);
        let width = 0.95 * (contrast.toe + (1.0 - contrast.toe) * least);
        assert!((width - 0.6 * (0.6 + 0.4 * least)).abs() < 1e-3, "{width}");
    }

    #[test]
    fn a_new_look_is_backed_and_has_edges() {
        let look = Look::read(r#"{"lookwright":3}"#).unwrap();
        assert_eq!(look, Look::default());
        assert_eq!(look.negative.halation.backing, Backing::Black);
        assert!(look.negative.edge.on);
    }
}
