//! All cores of the machine, for the strips of a picture.

use lookwright_core::Result;
use lookwright_core::render::Workers;
use rayon::prelude::*;

/// Works on as many strips at a time as there are cores, and hands them on in order: the bytes are
/// the same whatever the machine.
pub(crate) struct AllCores;

impl Workers for AllCores {
    fn each<T: Send>(
        &self,
        count: usize,
        work: impl Fn(usize) -> T + Sync,
        mut take: impl FnMut(usize, T) -> Result<()>,
    ) -> Result<()> {
        let cores = rayon::current_num_threads();
        for first in (0..count).step_by(cores) {
            let strips = first..count.min(first + cores);
            let done: Vec<T> = strips.into_par_iter().map(&work).collect();
            for (place, part) in done.into_iter().enumerate() {
                take(first + place, part)?;
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_core::Error;

    #[test]
    fn results_come_in_order_and_an_error_ends_it() {
        let mut seen = Vec::new();
        let all = AllCores.each(
            17,
            |i| i * i,
            |place, square| {
                seen.push((place, square));
                Ok(())
            },
        );
        assert_eq!(all, Ok(()));
        assert_eq!(seen, (0..17).map(|i| (i, i * i)).collect::<Vec<_>>());
        let stopped = AllCores.each(
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
