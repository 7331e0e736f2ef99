//! Bit depths of a node: the scale that its numbers are written in.

use crate::xml::Element;
use lookwright_colour::error::Result;

/// The depth of a node's input or output.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Depth {
    /// An integer of so many bits.
    Integer(u32),
    /// 16- or 32-bit floating point.
    Float(u32),
}

impl Depth {
    /// The depth that an attribute says.
    pub(super) fn read(element: Element<'_, '_>, attribute: &str) -> Result<Self> {
        match element.required(attribute)? {
            "8i" => Ok(Self::Integer(8)),
            "10i" => Ok(Self::Integer(10)),
            "12i" => Ok(Self::Integer(12)),
            "16i" => Ok(Self::Integer(16)),
            "16f" => Ok(Self::Float(16)),
            "32f" => Ok(Self::Float(32)),
            other => {
                let known = ["8i", "10i", "12i", "16i", "16f", "32f"];
                Err(element.not_one_of(attribute, other, &known))
            }
        }
    }

    /// What 1.0 is written as: `2^bits - 1`, or 1 for floating point.
    pub(super) fn scale(self) -> f64 {
        match self {
            Self::Integer(bits) => f64::from((1_u32 << bits) - 1),
            Self::Float(_) => 1.0,
        }
    }
}

impl core::fmt::Display for Depth {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Integer(bits) => write!(f, "{bits}i"),
            Self::Float(bits) => write!(f, "{bits}f"),
        }
    }
}

/// Depths of a node.
#[derive(Clone, Copy, Debug)]
pub(super) struct Depths {
    pub(super) input: Depth,
    pub(super) output: Depth,
}

impl Depths {
    pub(super) fn read(element: Element<'_, '_>) -> Result<Self> {
        Ok(Self {
            input: Depth::read(element, "inBitDepth")?,
            output: Depth::read(element, "outBitDepth")?,
        })
    }
}
