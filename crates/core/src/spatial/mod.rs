//! Work on pictures as a whole: buffers, kernels, blurs.

mod planes;

pub use planes::{Plane, Planes, Window};
