//! A recipe on a lattice, and what there is to say of it.

mod accuracy;

use std::sync::OnceLock;

use lookwright_colour::encoding::{Range, ScreenId};
use lookwright_colour::{Error, Result};
use lookwright_film::look::{CodeRange, Delivery, MODEL_VERSION, Options, StockChoice};
use lookwright_table::health::{GridError, Health, Setting, examine, grid_error};
use lookwright_table::{Grid3, Interpolation, Label, Shaper};

pub use accuracy::{Accuracy, Read};

use crate::{Mapping, Recipe, Split, chart, picture};

/// A recipe, its function, and that function on a lattice.
#[derive(Clone, Debug)]
pub struct Baked {
    recipe: Recipe,
    mapping: Mapping,
    grid: Grid3,
    accuracy: OnceLock<Result<Accuracy>>,
}

impl Baked {
    /// Fits a lattice to a recipe's function ([`Mapping::fitted`]).
    ///
    /// # Errors
    /// If the grid is not 2 ... 129 or the range does not fit the encoding.
    pub fn new(recipe: Recipe) -> Result<Self> {
        let mapping = Mapping::new(&recipe)?;
        let grid = mapping.fitted(recipe.grid)?;
        Ok(Self {
            recipe,
            mapping,
            grid,
            accuracy: OnceLock::new(),
        })
    }

    /// What it was made of.
    #[must_use]
    pub fn recipe(&self) -> &Recipe {
        &self.recipe
    }

    /// The lattice: over codes of 1, or over what the shaper makes of light.
    #[must_use]
    pub fn grid(&self) -> &Grid3 {
        &self.grid
    }

    /// The function that the table stands for.
    #[must_use]
    pub fn mapping(&self) -> &Mapping {
        &self.mapping
    }

    /// The table's value at an input, as a program reads it by tetrahedra.
    #[must_use]
    pub fn apply(&self, input: [f32; 3]) -> [f32; 3] {
        let place = match self.mapping.shaper() {
            Some(shaper) => input.map(|light| shaper.encode(light)),
            None => input,
        };
        self.grid.apply(place, Interpolation::Tetrahedral)
    }

    /// The words in the table's header.
    #[must_use]
    pub fn label(&self) -> Label {
        let recipe = &self.recipe;
        let mut notes = vec![
            format!(
                "Stock: {}. Grid: {}. Made with Lookwright {}, model {MODEL_VERSION}.",
                StockChoice::of(&recipe.look.negative.stock).label(),
                recipe.grid,
                env!("CARGO_PKG_VERSION")
            ),
            "Nodes are fitted to the exact path as read by tetrahedra; greys are exact at nodes."
                .to_owned(),
        ];
        notes.extend(self.accuracy().iter().flat_map(|off| off.lines()));
        notes.push(
            "Texture, which spreads light or lies on the film, is not in a table.".to_owned(),
        );
        Label {
            title: recipe.look.name.clone(),
            input: input_words(recipe),
            output: output_words(recipe),
            notes,
            fingerprint: recipe.look.fingerprint(),
        }
    }

    /// Ordinary colours ([`chart::ordinary`]) as places of the lattice, each 0 ... 1.
    ///
    /// # Errors
    /// As [`chart::ordinary`].
    pub fn ordinary(&self, count: usize) -> Result<Vec<[f32; 3]>> {
        let recipe = &self.recipe;
        if recipe.split == Split::ScanToScreen {
            return accuracy::scanned(recipe, count);
        }
        let inputs = chart::ordinary(count, recipe.encoding, recipe.range)?;
        Ok(self.mapping.places(inputs))
    }

    /// The difference to the exact path at `places` of the lattice, each 0 ... 1, read by
    /// tetrahedra.
    ///
    /// # Errors
    /// If the delivery cannot be judged.
    pub fn error(&self, places: &[[f32; 3]]) -> Result<GridError> {
        self.error_read(Interpolation::Tetrahedral, places)
    }

    /// The difference to the exact path at `places` of the lattice as a program finds it that reads
    /// tables so. Nodes are fitted for tetrahedra: other readers are further off.
    ///
    /// # Errors
    /// If the delivery cannot be judged.
    pub fn error_read(&self, how: Interpolation, places: &[[f32; 3]]) -> Result<GridError> {
        error_of(
            &self.grid,
            how,
            &self.mapping,
            setting(&self.recipe),
            places,
        )
    }

    /// How far the table is off in ordinary colours; worked out once.
    ///
    /// # Errors
    /// If the delivery cannot be judged.
    pub fn accuracy(&self) -> Result<&Accuracy> {
        let found = self.accuracy.get_or_init(|| Accuracy::of(self));
        found.as_ref().map_err(Error::clone)
    }

    /// Everything that the health checks find, the difference to the exact path among it.
    ///
    /// # Errors
    /// If the delivery cannot be judged.
    pub fn health(&self, places: &[[f32; 3]]) -> Result<Health> {
        examine(&self.grid, setting(&self.recipe), Some(self.error(places)?))
    }

    /// A picture of the table with its health, as SVG: the grey axis, its tint, slices, the lattice.
    ///
    /// # Errors
    /// If the delivery cannot be judged.
    pub fn picture(&self, health: &Health) -> Result<String> {
        let recipe = &self.recipe;
        let name = match recipe.look.name.as_str() {
            "" => "Look without a name",
            name => name,
        };
        let title = format!(
            "{name}, {}",
            StockChoice::of(&recipe.look.negative.stock).label()
        );
        let about = format!(
            "{} to {}, grid {}",
            input_words(recipe),
            output_words(recipe),
            recipe.grid
        );
        picture::svg(&self.grid, setting(recipe), health, &title, &about)
    }
}

/// The difference of a lattice to a mapping.
pub(crate) fn error_of(
    grid: &Grid3,
    how: Interpolation,
    mapping: &Mapping,
    setting: Setting,
    places: &[[f32; 3]],
) -> Result<GridError> {
    let table = |place| mapping.seen(grid.apply(place, how));
    let exact = |place| mapping.seen(mapping.at(place));
    grid_error(table, setting, exact, places)
}

/// What a recipe's output is looked at on. A scan is looked at as it is, on a Rec.709 screen.
pub(crate) fn setting(recipe: &Recipe) -> Setting {
    if recipe.split == Split::CameraToScan {
        return Setting {
            screen: ScreenId::Rec709,
            source: Some((recipe.encoding, recipe.range)),
            ..Setting::default()
        };
    }
    let display = &recipe.delivery.display;
    Setting {
        screen: display.screen,
        range: match display.range {
            CodeRange::Full => Range::Full,
            CodeRange::Legal => Range::Legal,
        },
        source: (recipe.split == Split::Whole).then_some((recipe.encoding, recipe.range)),
        shaper: recipe.takes_scene_light().then(Shaper::scene),
        said: recipe.scene.is_none(),
        ..Setting::default()
    }
}

const SCAN: &str = "Film scan, 10-bit log code over full scale";

/// What goes in, for people.
pub(crate) fn input_words(recipe: &Recipe) -> String {
    match recipe.split {
        Split::ScanToScreen => SCAN.to_owned(),
        Split::Whole | Split::CameraToScan => {
            let label = recipe.encoding.info().label;
            if recipe.takes_scene_light() {
                label.to_owned()
            } else {
                format!("{label}, {} range", recipe.range.id())
            }
        }
    }
}

/// What comes out, for people.
pub(crate) fn output_words(recipe: &Recipe) -> String {
    match (recipe.split, recipe.scene) {
        (Split::CameraToScan, _) => SCAN.to_owned(),
        (Split::Whole | Split::ScanToScreen, None) => screen_words(&recipe.delivery),
        (Split::Whole | Split::ScanToScreen, Some(scene)) => format!(
            "{}, full range, for a pipeline that renders for the display, with {} undone",
            scene.encoding.info().label,
            scene.rendering.label()
        ),
    }
}

/// A delivery's screen and range, for people.
pub(crate) fn screen_words(delivery: &Delivery) -> String {
    format!(
        "{}, {} range",
        delivery.display.screen.info().label,
        delivery.display.range.id()
    )
}
