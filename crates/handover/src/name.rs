//! File names that say what is in the file: plain letters, digits and `-`, parts joined by `_`.

use lookwright_film::look::{CodeRange, Look, Options, StockChoice};

use crate::{Recipe, Split};

/// Longest part made from a look's name.
const PART_MAX: usize = 40;

/// A look's name as a part of a file name; `look` if nothing of it can be written so.
#[must_use]
pub fn part(words: &str) -> String {
    let mut out = String::new();
    for c in words.chars() {
        if c.is_ascii_alphanumeric() {
            out.push(c.to_ascii_lowercase());
        } else if !out.is_empty() && !out.ends_with('-') {
            out.push('-');
        }
        if out.len() >= PART_MAX {
            break;
        }
    }
    let out = out.trim_end_matches('-');
    if out.is_empty() {
        "look".to_owned()
    } else {
        out.to_owned()
    }
}

/// The stock's part.
#[must_use]
pub fn stock(look: &Look) -> String {
    StockChoice::of(&look.negative.stock).id()
}

/// What goes in: `logc3-full`, or `film-scan`.
#[must_use]
pub fn input(recipe: &Recipe) -> String {
    match recipe.split {
        Split::ScanToScreen => "film-scan".to_owned(),
        Split::Whole | Split::CameraToScan => {
            format!("{}-{}", recipe.encoding.id(), recipe.range.id())
        }
    }
}

/// What comes out: `rec709-full`, `acescct-plain` or `film-scan`.
#[must_use]
pub fn output(recipe: &Recipe) -> String {
    match recipe.split {
        Split::CameraToScan => "film-scan".to_owned(),
        Split::Whole | Split::ScanToScreen => {
            if let Some(scene) = recipe.scene {
                return format!("{}-{}", scene.encoding.id(), scene.rendering.id());
            }
            let range = match recipe.delivery.display.range {
                CodeRange::Full => "full",
                CodeRange::Legal => "legal",
            };
            format!("{}-{range}", recipe.delivery.display.screen.id())
        }
    }
}

/// A table's name without its ending: look, stock, input, output, grid.
#[must_use]
pub fn table(look: &str, recipe: &Recipe) -> String {
    format!(
        "{look}_{}_{}_to_{}_grid{}",
        stock(&recipe.look),
        input(recipe),
        output(recipe),
        recipe.grid
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn any_name_becomes_a_part() {
        assert_eq!(part("Night ferry, 2nd"), "night-ferry-2nd");
        assert_eq!(part("../..\\x\0"), "x");
        assert_eq!(part("夜"), "look");
        assert_eq!(part(&"a".repeat(300)).len(), PART_MAX);
    }
}
