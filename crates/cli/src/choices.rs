//! Options of the command line from the descriptions that the page has its controls from: words,
//! limits and lists of values stand there, and nowhere else.

use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};
use lookwright_colour::encoding::EncodingId;
use lookwright_film::look::{Control, Kind, Options, Step, Value};
use lookwright_film::path::scene_out::SceneCode;

/// One of a choice's options, by its id.
pub(crate) fn one_of<T: Options + Send + Sync>() -> impl TypedValueParser<Value = T> {
    let values = T::OPTIONS
        .iter()
        .map(|option| PossibleValue::new(option.id).help(option.label));
    PossibleValuesParser::new(values).try_map(|id| T::parse(&id))
}

/// An encoding that tables can give as scene code.
pub(crate) fn scene_encoding() -> impl TypedValueParser<Value = EncodingId> {
    let taken = EncodingId::ALL.into_iter();
    let values = taken.filter(|encoding| SceneCode::takes(*encoding));
    let values = values.map(|encoding| {
        let info = encoding.info();
        PossibleValue::new(info.id).help(info.label)
    });
    PossibleValuesParser::new(values).try_map(|id| EncodingId::parse(&id))
}

/// A number within the limits of a step's control.
pub(crate) fn number<S: Step + Default>(id: &'static str) -> impl TypedValueParser<Value = f64> {
    clap::builder::StringValueParser::new().try_map(move |text| -> Result<f64, String> {
        let number: f64 = text.parse().map_err(|_| "it is not a number".to_owned())?;
        if let Some(control) = control::<S>(id) {
            let checked = control.check(&Value::Number(number));
            checked.map_err(|error| error.message().to_owned())?;
        }
        Ok(number)
    })
}

/// The help of a step's control, with its limits.
pub(crate) fn help<S: Step + Default>(id: &str) -> String {
    let Some(control) = control::<S>(id) else {
        return String::new();
    };
    let sentence = control.help.trim_end_matches('.');
    match control.kind {
        Kind::Number { min, max, unit, .. } => format!("{sentence}: {min} to {max} {unit}"),
        _ => sentence.to_owned(),
    }
}

fn control<S: Step + Default>(id: &str) -> Option<&'static Control> {
    let controls = S::default().spec().controls;
    controls.iter().find(|control| control.id == id)
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_film::look::{Display, Source, Trim};

    /// Every control that the command line names is there.
    #[test]
    fn controls_are_found_by_their_ids() {
        for found in [
            control::<Source>("encoding"),
            control::<Source>("range"),
            control::<Source>("unrender"),
            control::<Trim>("exposure"),
            control::<Trim>("kelvin"),
            control::<Trim>("tint"),
            control::<Display>("screen"),
        ] {
            assert!(found.is_some());
        }
    }
}
