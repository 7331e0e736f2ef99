//! Hatches: what is told apart by its form, whatever its colour.

/// How a sign of the key is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hatch {
    /// Filled.
    Plain,
    /// Stripes that rise to the right.
    Rising,
    /// Stripes that fall to the right.
    Falling,
    /// Squares.
    Squares,
}

impl Hatch {
    /// Its name for drawing.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Plain => "plain",
            Self::Rising => "rising",
            Self::Falling => "falling",
            Self::Squares => "squares",
        }
    }

    /// What is drawn at a pixel: its colour, its dark ground, or the picture.
    pub(super) fn at(self, x: usize, y: usize) -> Ink {
        // Screen pixels from stripe to stripe.
        const PITCH: usize = 8;
        let across = match self {
            Self::Plain => return Ink::Colour,
            Self::Rising => (x + y) % PITCH,
            Self::Falling => (x + PITCH - y % PITCH) % PITCH,
            Self::Squares => (x % PITCH).max(y % PITCH),
        };
        match across {
            0..3 => Ink::Colour,
            3..5 => Ink::Ground,
            _ => Ink::Picture,
        }
    }
}

/// What is drawn at a pixel of a hatch.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Ink {
    Colour,
    Ground,
    Picture,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hatches_differ_in_form_and_leave_some_of_the_picture() {
        let drawn = |hatch: Hatch| -> Vec<bool> {
            let at = |i: usize| hatch.at(i % 16, i / 16) == Ink::Colour;
            (0..256).map(at).collect()
        };
        let forms = [Hatch::Rising, Hatch::Falling, Hatch::Squares].map(drawn);
        for (i, form) in forms.iter().enumerate() {
            let inked = form.iter().filter(|ink| **ink).count();
            assert!((20..200).contains(&inked), "{inked}");
            for other in &forms[..i] {
                assert_ne!(form, other);
            }
        }
    }
}
