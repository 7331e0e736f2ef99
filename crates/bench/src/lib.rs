//! What `cargo xtask bench` measures: pieces of work on a noisy frame, one on a photograph, by name. The same list runs
//! natively (`src/main.rs`) and in WebAssembly (the exports below, timed by Node).

mod frame;
mod work;

pub use frame::{HEIGHT, WIDTH, frame, interleaved};
pub use work::{TEXTURE, Work, colour_table, names, work};

use wasm_bindgen::prelude::*;

/// One piece of work for JavaScript to time.
#[wasm_bindgen]
pub struct Timed(Work);

#[wasm_bindgen]
impl Timed {
    /// The work of this name on a frame of `width` by `height` pixels, if there is such.
    #[must_use]
    pub fn named(name: &str, width: usize, height: usize) -> Option<Timed> {
        work(name, width, height).map(Timed)
    }

    /// Puts the frame back as it was; not part of what is timed.
    pub fn reset(&mut self) {
        self.0.reset();
    }

    /// Does the work once.
    pub fn run(&mut self) {
        self.0.run();
    }
}

/// Every name, joined by line ends.
#[wasm_bindgen]
#[must_use]
pub fn all_names() -> String {
    names().join("\n")
}
