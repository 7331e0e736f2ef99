//! Stocks by name: a starting stock, a balance with a speed (`day-250`), or what an old file says.
//!
//! Version 1 first named five stocks by class; now a stock is a balance and a speed, and each old
//! name is one of these.

use serde_json::{Map, Value as Json, json};

use super::describe::Options;
use super::negative::{Balance, StartingStock, Stock};
use crate::path::negative::{SPEED_MAX, SPEED_MIN};
use lookwright_colour::error::{Error, Result};

/// A balance and a speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StockChoice {
    /// What it is balanced for.
    pub balance: Balance,
    /// Its speed, ISO 25 to 1600.
    pub speed: f64,
}

/// Old id and what it became.
const CLASSES: [(&str, Balance, f64); 5] = [
    ("tungsten-500", Balance::Lamp, 500.0),
    ("tungsten-200", Balance::Lamp, 200.0),
    ("daylight-250", Balance::Day, 250.0),
    ("daylight-50", Balance::Day, 50.0),
    ("panchromatic-250", Balance::Panchromatic, 250.0),
];

impl StockChoice {
    /// A look's own.
    pub const fn of(stock: &Stock) -> Self {
        Self {
            balance: stock.balance,
            speed: stock.speed,
        }
    }

    /// Reads a starting stock's id, a balance and a speed (`day-250`), or an id of older versions.
    ///
    /// # Errors
    /// Names the starting stocks, and the form of the others.
    pub fn parse(text: &str) -> Result<Self> {
        if let Some(start) = StartingStock::from_id(text) {
            return Ok(start.into());
        }
        if let Some(old) = old_class(text) {
            return Ok(old);
        }
        let split = text.rsplit_once('-');
        let balance = split.and_then(|(balance, _)| Balance::from_id(balance));
        let speed = split.and_then(|(_, speed)| speed.parse::<f64>().ok());
        match (balance, speed) {
            (Some(balance), Some(speed)) if (SPEED_MIN..=SPEED_MAX).contains(&speed) => {
                Ok(Self { balance, speed })
            }
            (Some(_), Some(_)) => Err(Error::new(format!(
                "\"{text}\": the speed must be {SPEED_MIN} to {SPEED_MAX}"
            ))),
            _ => Err(Error::new(format!(
                "\"{text}\" is not one of {}, nor a balance and a speed such as day-250; balances are {}",
                ids::<StartingStock>(),
                ids::<Balance>()
            ))),
        }
    }

    /// As in file names: `day-250`.
    pub fn id(&self) -> String {
        format!("{}-{}", self.balance.id(), self.speed)
    }

    /// For people: `Day 250`.
    pub fn label(&self) -> String {
        let label = Balance::OPTIONS[self.balance as usize].label;
        let word = label.split(',').next().unwrap_or(label);
        format!("{word} {}", self.speed)
    }

    /// The word of the starting stock that it is, or its own label.
    pub(super) fn name(&self) -> String {
        let own = StartingStock::ALL
            .iter()
            .find(|start| Self::from(**start) == *self);
        own.map_or_else(
            || self.label(),
            |start| {
                let label = StartingStock::OPTIONS[*start as usize].label;
                label.split(':').next().unwrap_or(label).to_owned()
            },
        )
    }
}

impl From<StartingStock> for StockChoice {
    fn from(start: StartingStock) -> Self {
        Self {
            balance: start.balance(),
            speed: start.speed(),
        }
    }
}

fn ids<T: Options>() -> String {
    let ids: Vec<_> = T::OPTIONS.iter().map(|option| option.id).collect();
    ids.join(", ")
}

fn old_class(id: &str) -> Option<StockChoice> {
    let found = CLASSES.iter().find(|(old, ..)| *old == id);
    found.map(|&(_, balance, speed)| StockChoice { balance, speed })
}

/// Puts balance and speed in the place of an old file's class, and says so.
///
/// # Errors
/// If the class is none of the five, or stands beside a balance or a speed.
pub(super) fn rename_class(root: &mut Map<String, Json>) -> Result<Option<String>> {
    let stock = root
        .get_mut("negative")
        .and_then(|negative| negative.get_mut("stock"))
        .and_then(Json::as_object_mut);
    let Some(stock) = stock else { return Ok(None) };
    let Some(class) = stock.remove("class") else {
        return Ok(None);
    };
    let ids = CLASSES.map(|(id, ..)| id).join(", ");
    let Some((id, became)) = class
        .as_str()
        .and_then(|id| old_class(id).map(|became| (id, became)))
    else {
        return Err(Error::new(format!(
            "negative.stock.class: {class} is not one of {ids}; now a stock is a balance and a speed"
        )));
    };
    if stock.contains_key("balance") || stock.contains_key("speed") {
        return Err(Error::new(
            "negative.stock.class: it stands beside a balance or a speed; remove one of them",
        ));
    }
    stock.insert("balance".into(), json!(became.balance.id()));
    stock.insert("speed".into(), json!(became.speed));
    Ok(Some(format!(
        "negative.stock: \"{id}\" of an older version is now {}, whose colours differ a little from what they were",
        became.label()
    )))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_read_in_all_their_forms() {
        let choice = |text: &str| StockChoice::parse(text).unwrap();
        assert_eq!(choice("noon"), choice("day-40"));
        assert_eq!(choice("daylight-250"), choice("day-250"));
        assert_eq!(choice("lamp-640").label(), "Lamp 640");
        for start in StartingStock::ALL {
            let own = StockChoice::from(*start);
            assert_eq!(choice(&own.id()), own);
            assert_eq!(choice(start.id()), own);
        }
    }

    #[test]
    fn what_is_no_stock_is_told_what_is() {
        let told = |text: &str| StockChoice::parse(text).unwrap_err().to_string();
        assert!(told("moonlight").contains("evening, overcast, noon, all-grey, red-blind"));
        assert!(told("day-12").contains("the speed must be 25 to 1600"));
        assert!(told("day-NaN").contains("the speed must be"));
    }
}
