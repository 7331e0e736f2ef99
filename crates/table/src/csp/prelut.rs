//! One channel's curve before a `.csp` table.

use crate::CURVE_SIZE_MAX;
use crate::curve::CURVE_SIZE_MIN;
use crate::number::size_refused;
use lookwright_colour::error::{Error, Result};

/// A curve through points at any distance.
///
/// Between two points a cubic runs whose slope at a point is that from the point before to the one
/// after (Catmull-Rom, at distances as they are); in the first and the last interval a parabola.
/// OpenColorIO reads these curves so. Two points make a line. Input beyond the ends is held there;
/// NaN is held at the lower end.
#[derive(Clone, Debug, PartialEq)]
pub struct Prelut {
    inputs: Vec<f32>,
    values: Vec<f32>,
}

impl Prelut {
    /// A curve from the inputs of its points, rising, and their values.
    ///
    /// # Errors
    /// If there are not 2 ... 65536 points, their numbers differ, inputs do not rise or a number is not
    /// finite.
    pub fn new(inputs: Vec<f32>, values: Vec<f32>) -> Result<Self> {
        let count = inputs.len();
        if !(CURVE_SIZE_MIN..=CURVE_SIZE_MAX).contains(&count) {
            return Err(size_refused("1D", count, CURVE_SIZE_MIN, CURVE_SIZE_MAX));
        }
        if values.len() != count {
            return Err(Error::new(format!(
                "expected {count} values, one for each input, found {}",
                values.len()
            )));
        }
        if let Some(place) = inputs.windows(2).position(|pair| pair[0] >= pair[1]) {
            return Err(Error::new(format!(
                "the inputs of a curve have to rise, and {} comes after {}",
                inputs[place + 1],
                inputs[place]
            )));
        }
        let width = inputs[count - 1] - inputs[0];
        if !width.is_finite() || values.iter().any(|v| !v.is_finite()) {
            return Err(Error::new("the points of a curve have to be finite"));
        }
        Ok(Self { inputs, values })
    }

    /// The first and the last input.
    pub fn domain(&self) -> [f32; 2] {
        [self.inputs[0], self.inputs[self.inputs.len() - 1]]
    }

    /// Inputs of the points.
    pub fn inputs(&self) -> &[f32] {
        &self.inputs
    }

    /// Values of the points.
    pub fn values(&self) -> &[f32] {
        &self.values
    }

    /// The curve's value.
    #[must_use]
    pub fn apply(&self, input: f32) -> f32 {
        let last = self.inputs.len() - 1;
        let after = self.inputs.partition_point(|&at| at <= input);
        if after == 0 || input.is_nan() {
            return self.values[0];
        }
        if after > last {
            return self.values[last];
        }
        let i = after - 1;
        let width = self.inputs[after] - self.inputs[i];
        let t = (input - self.inputs[i]) / width;
        let (from, to) = (self.values[i], self.values[after]);
        let rise = to - from;
        // Slopes at both ends, over this interval's width; a parabola has the one that is missing.
        let slope_at = |point: usize| {
            let run = self.inputs[point + 1] - self.inputs[point - 1];
            (self.values[point + 1] - self.values[point - 1]) / run * width
        };
        let (start, end) = match (i == 0, after == last) {
            (true, true) => (rise, rise),
            (true, false) => {
                let end = slope_at(after);
                (2.0 * rise - end, end)
            }
            (false, true) => {
                let start = slope_at(i);
                (start, 2.0 * rise - start)
            }
            (false, false) => (slope_at(i), slope_at(after)),
        };
        // Hermite's cubic.
        let bend = start - rise;
        let turn = start + end - 2.0 * rise;
        from + t * (rise + (1.0 - t) * (bend - t * turn))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A parabola at uneven distances: its own slope at a point is not that between its neighbours
    /// where distances differ, so only even ones come back exactly.
    #[test]
    fn lines_and_even_parabolas_come_back() {
        let line = Prelut::new(vec![-1.0, 3.0], vec![0.0, 2.0]).unwrap();
        assert_eq!(line.apply(1.0), 1.0);
        assert_eq!([line.apply(-2.0), line.apply(f32::NAN)], [0.0; 2]);
        assert_eq!(line.apply(9.0), 2.0);
        let inputs: Vec<f32> = (0..6).map(|i| i as f32).collect();
        let squares = inputs.iter().map(|v| v * v).collect();
        let parabola = Prelut::new(inputs.clone(), squares).unwrap();
        for step in 0..=50 {
            let x = step as f32 / 10.0;
            assert!((parabola.apply(x) - x * x).abs() < 1e-5, "{x}");
        }
    }

    #[test]
    fn what_is_no_curve_is_refused() {
        for (inputs, values) in [
            (vec![0.0], vec![0.0]),
            (vec![0.0, 1.0], vec![0.0]),
            (vec![0.0, 0.0], vec![0.0, 1.0]),
            (vec![0.0, f32::INFINITY], vec![0.0, 1.0]),
            (vec![0.0, 1.0], vec![0.0, f32::NAN]),
            (vec![f32::NAN, 1.0], vec![0.0, 1.0]),
        ] {
            assert!(Prelut::new(inputs, values).is_err());
        }
    }
}
