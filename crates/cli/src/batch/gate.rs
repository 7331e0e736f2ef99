//! Bounds the memory of pictures that are in the works at the same time.

use std::sync::{Condvar, Mutex, PoisonError};

/// Lets in what fits into so many bytes. A picture that would not fit alone waits until it is alone.
pub(crate) struct Gate {
    most: u64,
    held: Mutex<u64>,
    freed: Condvar,
}

/// A share of the memory, given back when it is dropped.
pub(crate) struct Held<'a> {
    gate: &'a Gate,
    bytes: u64,
}

impl Gate {
    pub(crate) fn new(most: u64) -> Self {
        Self {
            most,
            held: Mutex::new(0),
            freed: Condvar::new(),
        }
    }

    /// Waits until there is room for so many bytes.
    pub(crate) fn enter(&self, bytes: u64) -> Held<'_> {
        let held = self.held.lock().unwrap_or_else(PoisonError::into_inner);
        let full = |held: &mut u64| *held > 0 && held.saturating_add(bytes) > self.most;
        let mut held = self
            .freed
            .wait_while(held, full)
            .unwrap_or_else(PoisonError::into_inner);
        *held = held.saturating_add(bytes);
        Held { gate: self, bytes }
    }
}

impl Held<'_> {
    pub(crate) fn bytes(&self) -> u64 {
        self.bytes
    }
}

impl Drop for Held<'_> {
    fn drop(&mut self) {
        let mut held = self
            .gate
            .held
            .lock()
            .unwrap_or_else(PoisonError::into_inner);
        *held = held.saturating_sub(self.bytes);
        self.gate.freed.notify_all();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::atomic::{AtomicU64, Ordering};

    #[test]
    fn what_is_inside_never_exceeds_the_bound() {
        let gate = Gate::new(10);
        let (inside, most) = (AtomicU64::new(0), AtomicU64::new(0));
        std::thread::scope(|scope| {
            for bytes in [4, 5, 6, 3, 10, 1] {
                let (gate, inside, most) = (&gate, &inside, &most);
                scope.spawn(move || {
                    for _ in 0..200 {
                        let held = gate.enter(bytes);
                        let now = inside.fetch_add(bytes, Ordering::SeqCst) + bytes;
                        most.fetch_max(now, Ordering::SeqCst);
                        std::thread::yield_now();
                        inside.fetch_sub(bytes, Ordering::SeqCst);
                        drop(held);
                    }
                });
            }
        });
        assert!(most.into_inner() <= 10);
        // Too big, and alone.
        drop(gate.enter(u64::MAX));
        drop(gate.enter(1));
    }
}
