//! The axis on which a stage's numbers are read: stops, density, code or percent.

use lookwright_film::look::StageId;
use lookwright_film::path::negative::GREY_SCENE_LIN;

/// How a stage's numbers lie on an axis.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Reads {
    /// Scene light, in stops from mid-grey.
    Stops,
    /// The number itself.
    Plain,
}

/// A number on the axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mark {
    /// Where it stands, 0 ... 1 from the axis's lower end.
    pub place: f64,
    /// What it says, in the axis's own unit.
    pub says: f64,
}

/// The axis of one stage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StageAxis {
    /// The unit that marks and readings are in.
    pub unit: &'static str,
    /// Digits after the point of a reading.
    pub digits: usize,
    reads: Reads,
    /// What stands at the axis's ends, in its unit.
    ends: [f64; 2],
    /// A stage's number times this is in the unit.
    per_unit: f64,
    says: &'static [f64],
}

impl StageAxis {
    /// The axis of what leaves a stage.
    #[must_use]
    pub const fn of(stage: StageId) -> Self {
        let plain = Self {
            unit: "%",
            digits: 0,
            reads: Reads::Plain,
            ends: [0.0, 100.0],
            per_unit: 100.0,
            says: &[0.0, 25.0, 50.0, 75.0, 100.0],
        };
        match stage {
            StageId::Intake | StageId::Lens => Self {
                unit: "stops",
                digits: 1,
                reads: Reads::Stops,
                ends: [-8.0, 8.0],
                per_unit: 1.0,
                says: &[-8.0, -4.0, 0.0, 4.0, 8.0],
            },
            StageId::Negative => Self {
                unit: "density",
                digits: 2,
                ends: [0.0, 2.5],
                per_unit: 1.0,
                says: &[0.0, 0.5, 1.0, 1.5, 2.0, 2.5],
                ..plain
            },
            // The base, mid-grey and the 90 % card of an average negative (Kodak H-387; mid-grey follows).
            StageId::Scan => Self {
                unit: "code of 1023",
                ends: [0.0, 1023.0],
                per_unit: 1023.0,
                says: &[0.0, 95.0, 475.0, 685.0, 1023.0],
                ..plain
            },
            StageId::Print => Self {
                unit: "% of white",
                ..plain
            },
            StageId::Screen => plain,
        }
    }

    /// The marks, from the lower end up.
    pub fn marks(&self) -> impl Iterator<Item = Mark> + use<> {
        let [low, high] = self.ends;
        self.says.iter().map(move |&says| Mark {
            place: (says - low) / (high - low),
            says,
        })
    }

    /// A stage's number in the axis's unit; light of nothing is infinitely many stops down.
    #[must_use]
    pub fn reading(&self, value: f32) -> f64 {
        match self.reads {
            Reads::Stops => libm::log2(f64::from(value).max(0.0) / GREY_SCENE_LIN),
            Reads::Plain => f64::from(value) * self.per_unit,
        }
    }

    /// Where a stage's number stands, 0 ... 1; below and above for what lies beyond the ends.
    #[must_use]
    pub fn place(&self, value: f32) -> f64 {
        let [low, high] = self.ends;
        (self.reading(value) - low) / (high - low)
    }

    /// What stands at a place of the axis, in its unit.
    #[must_use]
    pub fn says_at(&self, place: f64) -> f64 {
        let [low, high] = self.ends;
        low + place * (high - low)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn light_is_read_in_powers_of_two_about_mid_grey() {
        let axis = StageAxis::of(StageId::Lens);
        for stops in -8_i32..=8 {
            let light = 0.18 * 2.0_f32.powi(stops);
            assert!((axis.reading(light) - f64::from(stops)).abs() < 1e-6);
            assert!((axis.place(light) - f64::from(stops + 8) / 16.0).abs() < 1e-6);
        }
        assert_eq!(axis.reading(-1.0), f64::NEG_INFINITY);
    }

    #[test]
    fn every_mark_stands_where_its_number_does() {
        for stage in [
            StageId::Negative,
            StageId::Scan,
            StageId::Print,
            StageId::Screen,
        ] {
            let axis = StageAxis::of(stage);
            for mark in axis.marks() {
                let value = (mark.says / axis.per_unit) as f32;
                assert!((axis.place(value) - mark.place).abs() < 1e-6, "{mark:?}");
                assert!((axis.says_at(mark.place) - mark.says).abs() < 1e-9);
            }
        }
    }
}
