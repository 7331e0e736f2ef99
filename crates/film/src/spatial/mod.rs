//! StripResult on pictures as a whole: buffers, kernels, blurs.
//!
//! Wide kernels run twice here. [`direct`] convolves with the kernel itself, pixel by pixel: slow,
//! readable, the reference. [`Spread`] runs the same kernel as a mixture of Gaussians, each on the
//! level of a pyramid where it is a few cells wide, so that a kernel of 500 pixels costs what one
//! of 5 does.

pub mod direct;
mod filter;
pub mod gaussian;
pub mod halo;
pub mod moved;
mod padded;
mod planes;
mod reduce;
mod spread;
pub mod step;

pub use gaussian::Gaussian;
pub use planes::{Plane, Planes, Window, crop};
pub use reduce::{Reducer, reduce};
pub use spread::{Core, Scratch, Spread};
