//! ASC CDL: slope, offset, power and saturation, the correction that every tool shares.
//!
//! ```text
//! v   = clamp(in slope + offset) ^ power
//! out = clamp(L + saturation (v - L)),  L = 0.2126 R + 0.7152 G + 0.0722 B of v
//! ```
//!
//! Without clamps the power is skipped where `in slope + offset` is below zero. The weights are
//! those of BT.709 whatever the working space. Source: ASC Color Decision List v1.2 (Pines and
//! Reisner, 2009), restated in the Common LUT Format 3.0 under ASC_CDL.

mod file;

pub use file::{Correction, read, write_cc, write_cdl};
pub(crate) use file::{nodes, numbers, read_root};

use lookwright_colour::error::{Error, Result};
use lookwright_colour::lane::Lane;
use lookwright_colour::luma::luma;
use lookwright_colour::rgb::Rgb;

/// The ten numbers of an ASC CDL.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cdl {
    slope: [f32; 3],
    offset: [f32; 3],
    power: [f32; 3],
    saturation: f32,
}

/// Whether values are held to 0 ... 1 between the steps.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Clamp {
    /// Held to 0 ... 1 before the power and at the end.
    #[default]
    On,
    /// Not held; the power is skipped below zero.
    Off,
}

impl Cdl {
    /// The correction that changes nothing.
    pub const IDENTITY: Self = Self {
        slope: [1.0; 3],
        offset: [0.0; 3],
        power: [1.0; 3],
        saturation: 1.0,
    };

    /// A correction from its numbers.
    ///
    /// # Errors
    /// If a slope or the saturation is negative, a power is not above 0, or a number is not
    /// finite.
    pub fn new(
        slope: [f32; 3],
        offset: [f32; 3],
        power: [f32; 3],
        saturation: f32,
    ) -> Result<Self> {
        let all = [slope, offset, power, [saturation; 3]];
        if all.iter().flatten().any(|v| !v.is_finite()) {
            return Err(Error::new("every number of a CDL has to be finite"));
        }
        for (name, value, allowed, ok) in [
            ("slope", least(slope), "0 or more", least(slope) >= 0.0),
            ("power", least(power), "above 0", least(power) > 0.0),
            ("saturation", saturation, "0 or more", saturation >= 0.0),
        ] {
            if !ok {
                return Err(Error::new(format!(
                    "{name} {value} is not allowed; it has to be {allowed}"
                )));
            }
        }
        Ok(Self {
            slope,
            offset,
            power,
            saturation,
        })
    }

    /// Slope per channel, 0 or more.
    pub fn slope(&self) -> [f32; 3] {
        self.slope
    }

    /// Offset per channel.
    pub fn offset(&self) -> [f32; 3] {
        self.offset
    }

    /// Power per channel, above 0.
    pub fn power(&self) -> [f32; 3] {
        self.power
    }

    /// Saturation, 0 or more.
    pub fn saturation(&self) -> f32 {
        self.saturation
    }

    /// Whether [`Cdl::undo`] exists: no slope and no saturation of zero.
    pub fn can_be_undone(&self) -> bool {
        least(self.slope) > 0.0 && self.saturation > 0.0
    }

    /// The correction of one pixel.
    #[inline(always)]
    #[must_use]
    pub fn apply<L: Lane>(&self, input: Rgb<L>, clamp: Clamp) -> Rgb<L> {
        let v = Rgb::new(
            self.channel(0, input.r, clamp),
            self.channel(1, input.g, clamp),
            self.channel(2, input.b, clamp),
        );
        let grey = luma(v);
        v.map(
            #[inline(always)]
            |v| held(grey + (v - grey) * self.saturation, clamp),
        )
    }

    /// The way back. Where [`Cdl::can_be_undone`] is false the result is not finite.
    #[inline(always)]
    #[must_use]
    pub fn undo<L: Lane>(&self, output: Rgb<L>, clamp: Clamp) -> Rgb<L> {
        let v = output.map(
            #[inline(always)]
            |v| held(v, clamp),
        );
        let grey = luma(v);
        let v = v.map(
            #[inline(always)]
            |v| held(grey + (v - grey) / self.saturation, clamp),
        );
        Rgb::new(
            self.channel_back(0, v.r, clamp),
            self.channel_back(1, v.g, clamp),
            self.channel_back(2, v.b, clamp),
        )
    }

    /// Slope, offset and power of one channel.
    #[inline(always)]
    fn channel<L: Lane>(&self, c: usize, value: L, clamp: Clamp) -> L {
        let v = value * self.slope[c] + self.offset[c];
        powered(held(v, clamp), self.power[c], clamp)
    }

    /// The way back of [`Self::channel`].
    #[inline(always)]
    fn channel_back<L: Lane>(&self, c: usize, value: L, clamp: Clamp) -> L {
        let v = powered(value, 1.0 / self.power[c], clamp);
        held((v - self.offset[c]) / self.slope[c], clamp)
    }
}

fn least(values: [f32; 3]) -> f32 {
    values[0].min(values[1]).min(values[2])
}

#[inline(always)]
fn held<L: Lane>(value: L, clamp: Clamp) -> L {
    match clamp {
        Clamp::On => value.clamp_to(0.0, 1.0),
        Clamp::Off => value,
    }
}

/// `value ^ power`; a power of 1 is an exact identity, and so is anything below zero unclamped.
#[inline(always)]
fn powered<L: Lane>(value: L, power: f32, clamp: Clamp) -> L {
    if power == 1.0 {
        return value;
    }
    match clamp {
        Clamp::On => value.pow(power),
        Clamp::Off => value.below(0.0, value, value.pow(power)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Input, clamped and unclamped output of slope (1.1, 1, 0.9), offset (-0.03, -0.02, 0.04),
    /// power (1.25, 1, 0.8), saturation 0.85: worked in double precision from the formula of the
    /// ASC, and found equal within 1e-7 by OpenColorIO 2.6.0.
    const WORKED: [([f32; 3], [f32; 3], [f32; 3]); 5] = [
        (
            [0.18, 0.18, 0.18],
            [0.115_030_17, 0.159_607_16, 0.260_035_76],
            [0.115_030_17, 0.159_607_16, 0.260_035_76],
        ),
        (
            [0.5, 0.25, 0.75],
            [0.422_375_53, 0.242_537_04, 0.696_962_8],
            [0.422_375_53, 0.242_537_04, 0.696_962_8],
        ),
        (
            [0.9, 0.05, 0.01],
            [0.842_206_65, 0.059_991_984, 0.110_625_48],
            [0.842_206_65, 0.059_991_984, 0.110_625_48],
        ),
        (
            [1.2, 0.5, -0.1],
            [0.933_384_4, 0.491_384_4, 0.083_384_4],
            [1.263_368_6, 0.502_795_04, 0.052_295_03],
        ),
        (
            [0.02, 0.02, 0.02],
            [0.001_110_122, 0.001_110_122, 0.088_238_84],
            [-0.005_944_998, 0.000_855_002, 0.087_983_72],
        ),
    ];

    fn worked() -> Cdl {
        Cdl::new(
            [1.1, 1.0, 0.9],
            [-0.03, -0.02, 0.04],
            [1.25, 1.0, 0.8],
            0.85,
        )
        .unwrap()
    }

    fn far(a: Rgb, b: [f32; 3]) -> f32 {
        let apart = |c: usize| (a.to_array()[c] - b[c]).abs();
        apart(0).max(apart(1)).max(apart(2))
    }

    #[test]
    fn worked_points_of_the_asc_formula() {
        for (input, clamped, free) in WORKED {
            let input = Rgb::from_array(input);
            assert!(far(worked().apply(input, Clamp::On), clamped) < 4e-7);
            assert!(far(worked().apply(input, Clamp::Off), free) < 4e-7);
        }
    }

    /// OpenColorIO 2.6.0 on the example node of the Common LUT Format.
    #[test]
    fn the_example_of_the_common_lut_format() {
        let cdl = Cdl::new([1.0, 1.0, 0.9], [-0.03, -0.02, 0.0], [1.25, 1.0, 1.0], 1.7).unwrap();
        let out = cdl.apply(Rgb::new(0.5, 0.25, 0.75), Clamp::On);
        assert!(far(out, [0.454_387_35, 0.183_824_3, 0.940_324_3]) < 4e-7);
    }

    #[test]
    fn undone_is_where_it_began_and_identity_is_exact() {
        for (input, ..) in WORKED {
            let there = worked().apply(Rgb::from_array(input), Clamp::Off);
            assert!(far(worked().undo(there, Clamp::Off), input) < 2e-6);
            let same = Cdl::IDENTITY.apply(Rgb::from_array(input), Clamp::Off);
            assert!(far(same, input) < 2e-7);
        }
        let inside = Rgb::new(0.4, 0.5, 0.6);
        let there = worked().apply(inside, Clamp::On);
        assert!(far(worked().undo(there, Clamp::On), [0.4, 0.5, 0.6]) < 2e-6);
    }

    #[test]
    fn numbers_out_of_range_are_refused() {
        let refused = |s: f32, p: f32, sat: f32| {
            let result = Cdl::new([1.0, s, 1.0], [0.0; 3], [1.0, 1.0, p], sat);
            result.unwrap_err().message().to_owned()
        };
        assert_eq!(
            refused(-0.5, 1.0, 1.0),
            "slope -0.5 is not allowed; it has to be 0 or more"
        );
        assert_eq!(
            refused(1.0, 0.0, 1.0),
            "power 0 is not allowed; it has to be above 0"
        );
        assert_eq!(
            refused(1.0, 1.0, -1.0),
            "saturation -1 is not allowed; it has to be 0 or more"
        );
        assert_eq!(
            refused(1.0, 1.0, f32::NAN),
            "every number of a CDL has to be finite"
        );
    }
}
