//! All cores of the machine, for the strips of a picture.

use lookwright_colour::Result;
use lookwright_render::Workers;
use rayon::prelude::*;

/// Works on as many strips at a time as there are cores, and hands them on in order while the next
/// ones are made: the bytes are the same whatever the machine.
///
/// Each strip takes memory, so there may be fewer at a time than cores.
pub(crate) struct AllCores {
    /// Most strips at a time, at least one.
    pub(crate) most: usize,
}

impl AllCores {
    /// A strip for every core.
    pub(crate) const ANY: Self = Self { most: usize::MAX };
}

impl Workers for AllCores {
    fn each<T: Send>(
        &self,
        count: usize,
        work: impl Fn(usize) -> T + Sync,
        mut take: impl FnMut(usize, T) -> Result<()>,
    ) -> Result<()> {
        let cores = rayon::current_num_threads().min(self.most).max(1);
        let mut before: Vec<T> = Vec::new();
        let mut taken = 0;
        for first in (0..count).step_by(cores) {
            let strips = first..count.min(first + cores);
            let mut done = Vec::new();
            // Taking is encoding, one strip after the other: the next ones are made meanwhile.
            rayon::in_place_scope(|scope| {
                scope.spawn(|_| done = strips.into_par_iter().map(&work).collect());
                take_all(&mut taken, &mut before, &mut take)
            })?;
            before = done;
        }
        take_all(&mut taken, &mut before, &mut take)
    }
}

/// Takes what is done, from strip `taken` on.
fn take_all<T>(
    taken: &mut usize,
    done: &mut Vec<T>,
    take: &mut impl FnMut(usize, T) -> Result<()>,
) -> Result<()> {
    for part in done.drain(..) {
        take(*taken, part)?;
        *taken += 1;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_colour::Error;

    #[test]
    fn results_come_in_order_and_an_error_ends_it() {
        let mut seen = Vec::new();
        let all = AllCores::ANY.each(
            17,
            |i| i * i,
            |place, square| {
                seen.push((place, square));
                Ok(())
            },
        );
        assert_eq!(all, Ok(()));
        assert_eq!(seen, (0..17).map(|i| (i, i * i)).collect::<Vec<_>>());
        let stopped = AllCores::ANY.each(
            17,
            |i| i,
            |place, _| match place {
                5 => Err(Error::new("stopped")),
                _ => Ok(()),
            },
        );
        assert_eq!(stopped, Err(Error::new("stopped")));
    }
}
