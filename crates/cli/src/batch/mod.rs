//! Many pictures in one go, unattended: who does which, in how much memory, what is done already, and
//! what is said of it.

mod gate;
mod record;
mod report;
mod share;
mod stale;

pub(crate) use gate::{Gate, Held};
pub(crate) use record::{Record, Records, digest};
pub(crate) use report::{Outcome, Report, Took};
pub(crate) use share::Share;
pub(crate) use stale::remove_stale;

use std::sync::atomic::{AtomicUsize, Ordering};

/// Calls `work` with every number below `count`, on so many threads, until it says that enough is
/// done.
pub(crate) fn each(threads: usize, count: usize, work: impl Fn(usize) -> Next + Sync) {
    let next = AtomicUsize::new(0);
    std::thread::scope(|scope| {
        for _ in 0..threads.min(count) {
            scope.spawn(|| {
                loop {
                    let number = next.fetch_add(1, Ordering::Relaxed);
                    if number >= count {
                        return;
                    }
                    if work(number) == Next::Stop {
                        next.store(count, Ordering::Relaxed);
                    }
                }
            });
        }
    });
}

/// Whether there is more to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Next {
    /// The next one.
    Go,
    /// What has begun is finished, and nothing more begins.
    Stop,
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::Mutex;

    #[test]
    fn every_number_once_and_none_after_a_stop() {
        let seen = Mutex::new(Vec::new());
        each(3, 20, |number| {
            seen.lock().unwrap().push(number);
            Next::Go
        });
        let mut seen = seen.into_inner().unwrap();
        seen.sort_unstable();
        assert_eq!(seen, (0..20).collect::<Vec<_>>());
        let count = AtomicUsize::new(0);
        each(1, 20, |number| {
            count.fetch_add(1, Ordering::Relaxed);
            if number == 4 { Next::Stop } else { Next::Go }
        });
        assert_eq!(count.into_inner(), 5);
    }
}
