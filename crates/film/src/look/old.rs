//! Look files of version 1: what they leave out, and what they say otherwise.
//!
//! The canonical form leaves defaults out, so when a default changes the version does. In version 1
//! nothing lay behind the film, the veil had no onset, and development knew no edges.

use super::{Backing, HalationMethod, Look};

/// What a file of version 1 leaves out.
pub(super) fn defaults_of_version_1() -> Look {
    let mut look = Look::default();
    look.negative.halation.backing = Backing::None;
    look.negative.edge.on = false;
    look
}

/// What a file of version 1 says otherwise, once it is read.
pub(super) fn complete_version_1(look: &mut Look) {
    let halation = &mut look.negative.halation;
    if halation.method == HalationMethod::Veil {
        halation.onset = VEIL_WITHOUT_ONSET;
    }
}

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
        assert!(look.canonical().contains("\"lookwright\":2"));
    }

    #[test]
    fn a_new_look_is_backed_and_has_edges() {
        let look = Look::read(r#"{"lookwright":2}"#).unwrap();
        assert_eq!(look, Look::default());
        assert_eq!(look.negative.halation.backing, Backing::Black);
        assert!(look.negative.edge.on);
    }
}
