//! One description per control. The page, the command line's help, the JSON reader, the JSON
//! Schema and the docs are all made from it, so a control is described once.
//!
//! The `step!` macro turns a description into a struct with typed fields and
//! an implementation of [`Step`], through which all of these read and write it by name.

use lookwright_colour::error::{Error, Result};

/// How a slider spreads its range.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scale {
    /// Equal steps of the value.
    Linear,
    /// Equal ratios: for lengths and frequencies.
    Ratio,
    /// Equal steps of 1e6/value: for colour temperatures, equal steps to the eye.
    Mired,
}

impl Scale {
    /// The word used in descriptions.
    pub const fn id(self) -> &'static str {
        match self {
            Self::Linear => "linear",
            Self::Ratio => "ratio",
            Self::Mired => "mired",
        }
    }
}

/// One of a choice's options: the id written in files and the label shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ChoiceOption {
    /// As written in files and options.
    pub id: &'static str,
    /// As shown.
    pub label: &'static str,
}

/// What kind of value a control holds, and within which limits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Kind {
    /// A number in `unit` within `min ..= max`.
    Number {
        /// Unit, as shown behind the number.
        unit: &'static str,
        /// Smallest value.
        min: f64,
        /// Largest value.
        max: f64,
        /// Smallest useful change.
        step: f64,
        /// Value of a starting look.
        default: f64,
        /// Value at which the control does nothing.
        neutral: f64,
        /// Whole numbers only.
        whole: bool,
        /// How a slider spreads the range.
        scale: Scale,
    },
    /// On or off.
    Switch {
        /// Value of a starting look.
        default: bool,
    },
    /// One of several options.
    Choice {
        /// All options.
        options: &'static [ChoiceOption],
        /// Id of the option in a starting look.
        default: &'static str,
    },
    /// A curve through points `[in, out]` in code 0 ... 1, ordered by `in`; none is the identity.
    Curve {
        /// Most points allowed.
        max_points: usize,
    },
}

/// A control: its name, its words and its limits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Control {
    /// Key in files.
    pub id: &'static str,
    /// Label on screen.
    pub label: &'static str,
    /// One sentence of help.
    pub help: &'static str,
    /// Kind and limits.
    pub kind: Kind,
}

/// A step of the light path: its name, its words and its controls.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StepSpec {
    /// Key in files.
    pub id: &'static str,
    /// Label on screen.
    pub label: &'static str,
    /// One sentence of help.
    pub help: &'static str,
    /// Whether it belongs to the texture part, which tables can't carry.
    pub texture: bool,
    /// Whether a starting look has it on.
    pub on: bool,
    /// Its controls, in the order shown.
    pub controls: &'static [Control],
}

/// Largest amount of a step: 2 exaggerates it.
pub const AMOUNT_MAX: f64 = 2.0;

/// The value of a control.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// Of [`Kind::Number`].
    Number(f64),
    /// Of [`Kind::Switch`].
    Switch(bool),
    /// Of [`Kind::Choice`]: the option's id.
    Choice(&'static str),
    /// Of [`Kind::Curve`]: the points.
    Curve(Vec<[f64; 2]>),
}

/// What every step can do by name. Implemented by `step!`.
pub trait Step {
    /// Its description.
    fn spec(&self) -> &'static StepSpec;
    /// Whether it is on.
    fn is_on(&self) -> bool;
    /// Turns it on or off.
    fn set_on(&mut self, on: bool);
    /// Its amount, `0 ..= AMOUNT_MAX`.
    fn amount(&self) -> f64;
    /// Sets the amount. It must be in range.
    fn set_amount(&mut self, amount: f64);
    /// The value of the control at `index` of the description's list.
    fn get(&self, index: usize) -> Value;
    /// Sets the control at `index`. The value must have passed [`Control::check`].
    fn set(&mut self, index: usize, value: &Value);
}

/// The amount that the maths sees: 0 when the step is off.
pub fn effective_amount(step: &dyn Step) -> f64 {
    if step.is_on() { step.amount() } else { 0.0 }
}

impl Control {
    /// The value of a starting look.
    pub fn default_value(&self) -> Value {
        match self.kind {
            Kind::Number { default, .. } => Value::Number(default),
            Kind::Switch { default } => Value::Switch(default),
            Kind::Choice { default, .. } => Value::Choice(default),
            Kind::Curve { .. } => Value::Curve(Vec::new()),
        }
    }

    /// The value at which the control does nothing, where there is one.
    pub fn neutral_value(&self) -> Value {
        match self.kind {
            Kind::Number { neutral, .. } => Value::Number(neutral),
            _ => self.default_value(),
        }
    }

    /// Finds the option with this id.
    ///
    /// # Errors
    /// Names the options if there is none of that id.
    pub fn option(&self, id: &str) -> Result<&'static str> {
        let Kind::Choice { options, .. } = self.kind else {
            return Err(Error::new(format!("{} is not a choice", self.id)));
        };
        options
            .iter()
            .map(|o| o.id)
            .find(|known| *known == id)
            .ok_or_else(|| not_an_option(id, options))
    }

    /// Checks a value against the limits.
    ///
    /// # Errors
    /// One sentence with the value and what is allowed.
    pub fn check(&self, value: &Value) -> Result<()> {
        match (&self.kind, value) {
            (
                Kind::Number {
                    unit,
                    min,
                    max,
                    whole,
                    ..
                },
                Value::Number(number),
            ) => {
                check_number(*number, *min, *max, unit)?;
                if *whole && libm::trunc(*number) != *number {
                    return Err(Error::new(format!("{number} must be a whole number")));
                }
                Ok(())
            }
            (Kind::Switch { .. }, Value::Switch(_)) | (Kind::Choice { .. }, Value::Choice(_)) => {
                Ok(())
            }
            (Kind::Curve { max_points }, Value::Curve(points)) => check_curve(points, *max_points),
            _ => Err(Error::new(format!("expected {}", self.expectation()))),
        }
    }

    /// What the control takes, for messages: `a number in kelvin`, `true or false` ...
    pub fn expectation(&self) -> String {
        match self.kind {
            Kind::Number { unit: "", .. } => "a number".to_owned(),
            Kind::Number { unit, .. } => format!("a number in {unit}"),
            Kind::Switch { .. } => "true or false".to_owned(),
            Kind::Choice { options, .. } => {
                let ids: Vec<_> = options.iter().map(|o| format!("\"{}\"", o.id)).collect();
                format!("one of {}", ids.join(", "))
            }
            Kind::Curve { .. } => "a list of [in, out] points".to_owned(),
        }
    }
}

/// For a word that is none of the options.
fn not_an_option(id: &str, options: &[ChoiceOption]) -> Error {
    let ids: Vec<_> = options.iter().map(|o| o.id).collect();
    Error::not_one_of(&format!("\"{id}\""), id, &ids)
}

/// Checks that `number` is within `min ..= max`.
pub(crate) fn check_number(number: f64, min: f64, max: f64, unit: &str) -> Result<()> {
    if (min..=max).contains(&number) {
        return Ok(());
    }
    let unit = if unit.is_empty() {
        String::new()
    } else {
        format!(" {unit}")
    };
    Err(Error::new(format!(
        "{number} is out of range; it must be {min} to {max}{unit}"
    )))
}

/// Checks that a curve's points are in 0 ... 1, ordered by `in`, none doubled.
fn check_curve(points: &[[f64; 2]], max_points: usize) -> Result<()> {
    if points.len() == 1 || points.len() > max_points {
        return Err(Error::new(format!(
            "{} points; a curve has none, or 2 to {max_points}",
            points.len()
        )));
    }
    for (i, point) in points.iter().enumerate() {
        if point.iter().any(|v| !(0.0..=1.0).contains(v)) {
            return Err(Error::new(format!(
                "point {} is [{}, {}]; both numbers must be 0 to 1",
                i + 1,
                point[0],
                point[1]
            )));
        }
        if i > 0 && point[0] <= points[i - 1][0] {
            return Err(Error::new(format!(
                "point {} at {} does not lie after the one before it; order the points by their first number and remove doubles",
                i + 1,
                point[0]
            )));
        }
    }
    Ok(())
}

/// A type that can stand behind a control.
pub trait Field {
    /// As a [`Value`].
    fn to_value(&self) -> Value;
    /// Takes over a checked [`Value`]; values of another kind are ignored.
    fn take(&mut self, value: &Value);
}

impl Field for f64 {
    fn to_value(&self) -> Value {
        Value::Number(*self)
    }
    fn take(&mut self, value: &Value) {
        if let Value::Number(number) = value {
            *self = *number;
        }
    }
}

impl Field for bool {
    fn to_value(&self) -> Value {
        Value::Switch(*self)
    }
    fn take(&mut self, value: &Value) {
        if let Value::Switch(on) = value {
            *self = *on;
        }
    }
}

impl Field for Vec<[f64; 2]> {
    fn to_value(&self) -> Value {
        Value::Curve(self.clone())
    }
    fn take(&mut self, value: &Value) {
        if let Value::Curve(points) = value {
            self.clone_from(points);
        }
    }
}

/// An enum whose variants are the options of a choice. Implemented by
/// [`options!`](crate::look::options).
pub trait Options: Copy + 'static {
    /// All options, in the order shown.
    const OPTIONS: &'static [ChoiceOption];
    /// All variants, in the same order.
    const ALL: &'static [Self];
    /// The variant's id.
    fn id(self) -> &'static str;
    /// The variant's words for people.
    fn label(self) -> &'static str {
        let option = Self::OPTIONS.iter().find(|option| option.id == self.id());
        option.map_or("", |option| option.label)
    }
    /// The variant with this id.
    fn from_id(id: &str) -> Option<Self> {
        let place = Self::OPTIONS.iter().position(|o| o.id == id)?;
        Some(Self::ALL[place])
    }
    /// The variant with this id.
    ///
    /// # Errors
    /// Names the options if there is none of that id.
    fn parse(id: &str) -> Result<Self> {
        Self::from_id(id).ok_or_else(|| not_an_option(id, Self::OPTIONS))
    }
}

impl<T: Options> Field for T {
    fn to_value(&self) -> Value {
        Value::Choice(self.id())
    }
    fn take(&mut self, value: &Value) {
        if let Value::Choice(id) = value
            && let Some(variant) = T::from_id(id)
        {
            *self = variant;
        }
    }
}

#[cfg(test)]
mod tests;
