//! A share of a run, for one of several machines or jobs.

/// Every `of`-th picture, from number `place` on, counted from zero.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Share {
    place: usize,
    of: usize,
}

impl Share {
    /// Reads `K/N`, the first of which is `1/N`.
    ///
    /// # Errors
    /// One sentence for anything else.
    pub(crate) fn parse(text: &str) -> Result<Self, String> {
        let numbers = text.split_once('/').and_then(|(place, of)| {
            Some((place.parse::<usize>().ok()?, of.parse::<usize>().ok()?))
        });
        match numbers {
            Some((place, of)) if (1..=of).contains(&place) => Ok(Self {
                place: place - 1,
                of,
            }),
            _ => Err("give a share such as 1/4, 2/4, 3/4 or 4/4".to_owned()),
        }
    }

    /// Whether it has the picture at this place of the run.
    pub(crate) fn has(self, place: usize) -> bool {
        place % self.of == self.place
    }
}

impl core::fmt::Display for Share {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(f, "{}-of-{}", self.place + 1, self.of)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_have_every_picture_once() {
        let shares: Vec<_> = ["1/3", "2/3", "3/3"]
            .map(Share::parse)
            .into_iter()
            .collect();
        for place in 0..10 {
            let having = shares
                .iter()
                .filter(|share| share.as_ref().unwrap().has(place));
            assert_eq!(having.count(), 1);
        }
        for text in ["0/3", "4/3", "1", "1/0", "a/b", "-1/3"] {
            assert!(Share::parse(text).is_err(), "{text}");
        }
        assert_eq!(Share::parse("2/8").unwrap().to_string(), "2-of-8");
    }
}
